/** The score with what the conventions leave out or add: brackets, plicas as notes, words. */
import type { Syllable } from "../page/index.js"
import { withPlicaNotes, type Score, type ScoreBracket, type ScoreEvent, type ScoreVoice } from "../score/index.js"
import type { EditionConventions } from "./conventions.js"

export function preparedBy(score: Score, conventions: EditionConventions): Score {
  const base = conventions.plicas === "dotted-slur" ? withPlicaNotes(score) : score
  const voices = base.voices.map((voice): ScoreVoice => ({
    ...voice,
    brackets: voice.brackets.filter(bracket => isShown(bracket, conventions)),
    events: withWords(voice.events, conventions),
  }))
  return { ...base, voices }
}

function isShown({ kind }: ScoreBracket, { ligatures, coloration }: EditionConventions): boolean {
  return kind === "ligature" ? ligatures === "bracket" : coloration === "corners"
}

type WordConventions = Pick<EditionConventions, "stanzas" | "suppliedText" | "extenders">

function withWords(events: readonly ScoreEvent[], conventions: WordConventions): ScoreEvent[] {
  return events.map((event, i): ScoreEvent => {
    if (event.kind === "rest" || event.syllables.length === 0) return event
    const sung = event.syllables.filter(({ stanza }) => conventions.stanzas === "all" || stanza === 1)
    return { ...event, syllables: sung.map(one => shown(one, isMelisma(events, i, one), conventions)) }
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

/** The last syllable on its note, and the next note, without a rest between, has none of the stanza. */
function isMelisma(events: readonly ScoreEvent[], at: number, syllable: Syllable): boolean {
  const own = events[at]!
  const next = events[at + 1]
  if (own.kind !== "note" || own.syllables.findLast(({ stanza }) => stanza === syllable.stanza) !== syllable)
    return false
  return (
    next?.kind === "note" &&
    next.plicaOf === undefined &&
    !next.syllables.some(({ stanza }) => stanza === syllable.stanza)
  )
}
