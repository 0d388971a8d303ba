/** The score with what the conventions leave out or add: brackets, plicas as notes, words. */
import { compare, type Rational } from "../base/index.js"
import type { Syllable } from "../page/index.js"
import {
  partLines,
  withPlicaNotes,
  type Score,
  type ScoreBracket,
  type ScoreEvent,
  type ScoreVoice,
} from "../score/index.js"
import type { EditionConventions } from "./conventions.js"

export function preparedBy(score: Score, conventions: EditionConventions): Score {
  const base = conventions.plicas === "dotted-slur" ? withPlicaNotes(score) : score
  const lines = partLines(base)
  const voices = base.voices.map((voice): ScoreVoice => ({
    ...voice,
    brackets: voice.brackets.filter(bracket => isShown(bracket, conventions)),
    events: withHands(withWords(voice.events, conventions, lines), conventions),
  }))
  return { ...base, voices }
}

function isShown({ kind }: ScoreBracket, { ligatures, coloration }: EditionConventions): boolean {
  return kind === "ligature" ? ligatures === "bracket" : coloration === "corners"
}

function withHands(events: ScoreEvent[], { supplied }: EditionConventions): ScoreEvent[] {
  if (supplied !== "none" || events.every(event => !isByEditor(event))) return events
  return events.map(event => {
    const { hand: _, ...plain } = event
    if (plain.kind === "rest") return plain
    const { dotHand: __, ...bare } = plain
    return bare
  })
}

const isByEditor = (event: ScoreEvent): boolean =>
  event.hand !== undefined || (event.kind === "note" && event.dotHand !== undefined)

type WordConventions = Pick<EditionConventions, "stanzas" | "suppliedText" | "extenders">

function withWords(
  events: readonly ScoreEvent[],
  conventions: WordConventions,
  lines: readonly Rational[],
): ScoreEvent[] {
  return events.map((event, i): ScoreEvent => {
    if (event.kind === "rest" || event.syllables.length === 0) return event
    const sung = event.syllables.filter(({ stanza }) => conventions.stanzas === "all" || stanza === 1)
    return { ...event, syllables: sung.map(one => shown(one, isMelisma(events, i, one, lines), conventions)) }
  })
}

function shown(
  { italic, ...syllable }: Syllable,
  melisma: boolean,
  { suppliedText, extenders }: WordConventions,
): Syllable {
  const { join } = syllable
  const ends = join === " " || join === "_"
  const extended = extenders === "source" ? join === "_" : extenders === "melismas" && (join === "_" || melisma)
  return {
    ...syllable,
    join: ends ? (extended ? "_" : " ") : join,
    ...(italic && suppliedText === "italic" ? { italic } : {}),
  }
}

/**
 * The last syllable on its note, sung on without a rest to the next syllable of the stanza, in the same part of the piece.
 * After a last syllable, and before a rest, there is no line: engravers draw it to the next syllable, wherever that is.
 */
function isMelisma(events: readonly ScoreEvent[], at: number, syllable: Syllable, lines: readonly Rational[]): boolean {
  const own = events[at]!
  const sings = (event: ScoreEvent) =>
    event.kind === "note" && event.syllables.some(({ stanza }) => stanza === syllable.stanza)
  if (own.kind !== "note" || own.syllables.findLast(({ stanza }) => stanza === syllable.stanza) !== syllable)
    return false
  const end = events.findIndex((event, i) => i > at && (event.kind === "rest" || sings(event)))
  const until = events[end]
  if (!until || !sings(until)) return false
  if (lines.some(line => compare(own.onset, line) < 0 && compare(line, until.onset) <= 0)) return false
  return events.slice(at + 1, end).some(event => event.kind === "note" && event.plicaOf === undefined)
}
