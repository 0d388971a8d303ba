/** All rules on one score, need before beauty, harmony before melody. */
import { compare, type SignId } from "../base/index.js"
import type { ChosenAccidental, Page } from "../page/index.js"
import type { Score } from "../score/index.js"
import { cadences, notesAboveLa } from "./beauty.js"
import type { Finding, Grading } from "./finding.js"
import { falseIntervals, repeatedNotes, tritones } from "./need.js"
import { notesOf } from "./notes.js"
import { accidentalFor, Plan, type Refused } from "./plan.js"
import { reasonFor, sourceOf, whyOpen } from "./reasons.js"
import { FICTA_GRADES, type Ficta, type FictaOpen, type FictaProposal, type FictaRule } from "./types.js"

/**
 * Accidentals proposed for a score that was made from this page. The voices are taken together: each proposal stands on top of
 * those before it, so no two contradict each other. What an editor has refused on the page is not proposed again; what they
 * have accepted, and what the source has, is not touched.
 */
export function proposeFicta(page: Pick<Page, "decisions">, score: Score): Ficta {
  const refused = refusedIn(page)
  const plan = new Plan(notesOf(score), { fourthIsConcord: score.practice === "ars-antiqua", refused })
  const grading = gradingFor(score)
  const findings = [
    ...repeatedNotes(plan),
    ...falseIntervals(plan, grading),
    ...tritones(plan, grading),
    ...cadences(plan, grading),
    ...notesAboveLa(plan),
  ]
  return {
    proposals: strongest(findings.flatMap(finding => proposalsOf(finding, score))),
    open: findings
      .filter(({ changes }) => changes.length === 0)
      .map(finding => openOf(finding, score))
      .toSorted(inTime),
  }
}

function refusedIn({ decisions = [] }: Pick<Page, "decisions">): Refused {
  const refused = new Map<SignId, ChosenAccidental[]>()
  for (const { sign, notAccidental } of decisions)
    if (notAccidental) refused.set(sign, [...(refused.get(sign) ?? []), ...notAccidental])
  return refused
}

/** Leading notes in pairs belong to the fourteenth century and the first half of the fifteenth (common practice). */
function gradingFor({ practice, voices }: Score): Grading {
  const old = practice !== "white"
  const plainsong = voices.flatMap(({ label }, i) =>
    old && /^tenor$/i.test(label.trim()) && voices.length > 2 ? [i] : [],
  )
  return {
    plainsong: new Set(plainsong),
    resolvesFreely: practice === "white",
    doubleLeading: practice !== "white" && practice !== "ars-antiqua",
    leading: practice === "ars-antiqua" || practice === "modal" ? "optional" : "likely",
  }
}

const BEAUTY: ReadonlySet<FictaRule> = new Set<FictaRule>([
  "sixth-to-octave",
  "third-to-fifth",
  "third-to-unison",
  "note-above-la",
])

function proposalsOf(finding: Finding, score: Score): FictaProposal[] {
  const { rule, interval, of, against, changes, grade } = finding
  const cause = BEAUTY.has(rule) ? "beauty" : "need"
  return changes.flatMap(({ note, alter }): FictaProposal[] => {
    const accidental = accidentalFor(alter)
    if (!accidental) return []
    const others = changes.filter(other => other.note !== note).map(other => other.note.id)
    return [
      {
        note: note.id,
        sign: note.sign,
        voice: note.voice,
        onset: note.start,
        accidental,
        grade,
        cause,
        rule: note === of ? rule : "same-note",
        interval,
        against: (note === of ? against?.id : of.id) ?? null,
        reason: reasonFor(finding, note, score),
        source: sourceOf(rule),
        with: others,
      },
    ]
  })
}

function openOf(finding: Finding, score: Score): FictaOpen {
  const { rule, interval, of, against } = finding
  const place = { note: of.id, sign: of.sign, voice: of.voice, onset: of.start }
  return { ...place, rule, interval, against: against?.id ?? null, reason: whyOpen(finding, score) }
}

/** One for each note: the strongest. In order of time, then of voices. */
function strongest(all: readonly FictaProposal[]): FictaProposal[] {
  const byNote = new Map<SignId, FictaProposal>()
  for (const one of all) {
    const other = byNote.get(one.note)
    if (!other || FICTA_GRADES.indexOf(one.grade) < FICTA_GRADES.indexOf(other.grade)) byNote.set(one.note, one)
  }
  return [...byNote.values()].sort(inTime)
}

function inTime(a: Pick<FictaOpen, "onset" | "voice">, b: Pick<FictaOpen, "onset" | "voice">): number {
  return compare(a.onset, b.onset) || a.voice - b.voice
}
