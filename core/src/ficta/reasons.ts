/** Proposals told in sentences, and what they rest on. */
import { arsNova1320, handbook, practica1496, type Source } from "../practices/index.js"
import type { Score } from "../score/index.js"
import type { Finding } from "./finding.js"
import type { FictaNote } from "./notes.js"
import type { FictaRule } from "./types.js"

/** Which proposals rest on what; where no chapter is named it is common practice as the handbooks sum it up. */
export function sourceOf(rule: FictaRule): Source {
  switch (rule) {
    case "false-fifth":
      return arsNova1320("chapter 14")
    case "sixth-to-octave":
    case "third-to-fifth":
    case "third-to-unison":
      return practica1496("book III, chapter 3", "memory")
    default:
      return handbook("musica ficta", "memory")
  }
}

const PURPOSE: Readonly<Record<FictaRule, string>> = {
  "repeated-note": "an accidental holds on while the note comes again at once",
  "false-octave": "mi is not sung against fa in a unison or octave",
  "false-fifth": "mi is not sung against fa in a fifth",
  "false-fourth": "mi is not sung against fa in a fourth over the lowest voice",
  "tritone-leap": "a leap of a tritone is avoided",
  "tritone-run": "a run that fills a tritone and turns is softened",
  "sixth-to-octave": "before an octave the sixth is major",
  "third-to-fifth": "before a fifth the third is major",
  "third-to-unison": "before a unison or octave the third or tenth is minor",
  "note-above-la": "a single note above la is sung fa",
  "same-note": "it goes with the others",
}

/** "With the bassus it would be a diminished fifth: mi is not sung against fa in a fifth." */
export function reasonFor(finding: Finding, note: FictaNote, score: Score): string {
  const { of, rule } = finding
  if (note === of) return `${situation(finding, score)}: ${PURPOSE[rule]}.`
  const own = note.voice === of.voice ? "the same voice" : `the ${labelOf(of, score)}`
  const cause =
    note.voice === of.voice && note.height === of.height
      ? "The same note is altered in"
      : "It follows from what is altered in"
  return `${cause} ${own}: ${PURPOSE[rule]}.`
}

function situation({ rule, interval, of, against }: Finding, score: Score): string {
  if (rule === "repeated-note") return "The same note right before it is altered in the source"
  if (rule === "note-above-la") return "It stands alone a step above"
  if (rule === "tritone-leap" || rule === "tritone-run") return `It is the end of an ${interval} in its voice`
  const other = against && against.voice !== of.voice ? `With the ${labelOf(against, score)}` : "Here"
  return `${other} there is a${/^[aeiou]/.test(interval) ? "n" : ""} ${interval}`
}

/** Why nothing is proposed. */
export function whyOpen(finding: Finding, score: Score): string {
  const why = finding.why ?? "what would mend it is written otherwise, was refused, or would draw too much with it"
  return `${situation(finding, score)}; ${why}.`
}

function labelOf({ voice }: FictaNote, { voices }: Score): string {
  return voices[voice]?.label ?? "other voice"
}
