/** What a format cannot carry of a score: sentences for a person, only of what the piece has. */
import { equals } from "../base/index.js"
import type { Score, ScoreEvent, ScoreMark, ScoreNote } from "../score/index.js"
import { scoreId } from "./mei/modern/ids.js"
import { openPlicas } from "./plica-share.js"

/** True of every score, for a score is not the page; `marked`: what of an editor's marks is not carried. */
export const notThePage = (marked: string): string =>
  `The signs as they stand on the page: levels, stems, dots, strokes, shapes of ligatures, clefs, mensuration and proportion signs, folios and lines, places on a photograph; ${marked}, and other readings (the page itself, .mei or .figurae, keeps them).`
/** Of a file that only sounds. */
export const NO_EDITOR = "what an editor marked there as supplied, emended or hard to read"
/** Of a file that is read. */
export const NO_REASONS = "what an editor marked there as hard to read, and who supplied or emended something, and why"
export const NOT_THE_REASONS =
  "Why each note lasts what it lasts: rules, doubts, rivals, decisions (read --format json or csv tells them)."

/** Where the reading leaves a plica's share of the time open. */
export const openShares = (notes: readonly ScoreNote[]): string[] =>
  ifAny(
    openPlicas(notes),
    count => `That the share of ${counted(count, "plica")} is left open: here each takes a third of its note.`,
  )

/** "1 plica", "3 plicas". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return count === 1 ? `1 ${one}` : `${count} ${many}`
}

/** The sentence, or nothing when there is none of it. */
export function ifAny(count: number, sentence: (count: number) => string): string[] {
  return count > 0 ? [sentence(count)] : []
}

export function notesOf(score: Score): ScoreNote[] {
  return score.voices.flatMap(voice => voice.events.filter(event => event.kind === "note"))
}

/** Notes and rests that an editor supplied or corrected. */
export function handsIn(score: Score): ScoreEvent[] {
  return score.voices.flatMap(({ events }) => events.filter(({ hand }) => hand !== undefined))
}

/** Notes that keep their whole value or gain half of it by a dot of an editor. */
export function dotHandsIn(score: Score): ScoreNote[] {
  return notesOf(score).filter(({ dotHand }) => dotHand !== undefined)
}

/** "Cantus and Tenor", "a, b and c". */
export function listed(names: readonly string[]): string {
  return names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`
}

/** Colours all become the same bracket. */
export function colorationKinds(score: Score): string[] {
  const kinds = [...new Set(notesOf(score).map(note => note.coloration))].filter(kind => kind !== "none")
  return ifAny(kinds.length, () => `How notes are coloured (${kinds.join(", ")}): their brackets are alike.`)
}

export function finals(score: Score): string[] {
  const held = score.voices.filter(voice =>
    voice.events.some(event => event.kind === "note" && event.held && !equals(event.duration, event.readDuration)),
  )
  return ifAny(
    held.length,
    () =>
      `What the reading gives the last note of ${listed(held.map(({ label }) => label))}: it is held to the common end.`,
  )
}

export function changedIds(score: Score): string[] {
  const ids = score.voices.flatMap(voice => voice.events.flatMap(({ id }) => id ?? []))
  return ifAny(
    ids.filter(id => scoreId(id) !== id).length,
    count => `The ids of ${counted(count, "sign")} as they are: XML asks for a letter in front, so “1.2” is “s1.2”.`,
  )
}

/** Marks of these kinds. */
export function marksOf(score: Score, kinds: readonly ScoreMark["of"][]): ScoreMark[] {
  return score.voices.flatMap(voice => voice.marks.filter(({ of }) => kinds.includes(of)))
}
