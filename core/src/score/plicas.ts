/** Plicas as notes with a time of their own. */
import { minus, plus, ratio, signId, times, type Rational, type SignId } from "../base/index.js"
import type { Score, ScoreEvent, ScoreNote, ScoreVoice } from "./types.js"

/** Id of the note that a plica becomes. */
export function plicaNoteId(id: SignId): SignId {
  return signId(`${id}.plica`)
}

/** Each plica whose share is known is a note after the one that bears it, which is so much shorter; brackets take it in. */
export function withPlicaNotes(score: Score): Score {
  if (!score.voices.some(voice => voice.events.some(hasShare))) return score
  return { ...score, voices: score.voices.map(inVoice) }
}

function inVoice(voice: ScoreVoice): ScoreVoice {
  const parted = new Set(voice.events.filter(hasShare).map(note => note.id as string))
  if (parted.size === 0) return voice
  return {
    ...voice,
    events: voice.events.flatMap((event): ScoreEvent[] => (hasShare(event) ? partedNote(event) : [event])),
    brackets: voice.brackets.map(bracket =>
      parted.has(bracket.to) ? { ...bracket, to: plicaNoteId(bracket.to) } : bracket,
    ),
  }
}

function hasShare(event: ScoreEvent): event is ScoreNote {
  const share = event.kind === "note" ? event.plica?.duration : undefined
  return share !== undefined && share !== null && share.num > 0 && minus(event.duration, share).num > 0
}

function partedNote(note: ScoreNote): ScoreNote[] {
  const { plica, written: _, ...rest } = note
  const share = plica!.duration!
  const left = minus(note.duration, share)
  const bearer: ScoreNote = {
    ...rest,
    ...(note.written && { written: note.written }),
    duration: left,
    readDuration: left,
  }
  const small: ScoreNote = {
    ...rest,
    id: plicaNoteId(note.id),
    onset: plus(note.onset, left),
    duration: share,
    readDuration: share,
    pitch: plica!.pitch ?? note.pitch,
    fermata: false,
    held: false,
    syllables: [],
    plicaOf: note.id,
  }
  return [bearer, small]
}

const THIRD = ratio(1, 3)

/**
 * What a plica takes of the note that bears it: what the reading gives, or where it leaves the share open a third, as is usual
 * today when it is sung (common practice). Null where there is no plica, or nothing would be left of its note.
 */
export function plicaShare({ plica, duration }: Pick<ScoreNote, "plica" | "duration">): Rational | null {
  if (!plica) return null
  const share = plica.duration ?? times(duration, THIRD)
  return share.num > 0 && share.num * duration.den < duration.num * share.den ? share : null
}
