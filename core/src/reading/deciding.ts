/** From rivals to decisions, and what a decision changed: the two ends of an editor's choice. */
import { equals, type SignId } from "../base/index.js"
import type { Decision } from "../page/index.js"
import type { Reading, SignReading, VoiceRival } from "./types.js"

/** Who decides, why, and under which label decisions made as one are known. */
export type DecidedAs = Pick<Decision, "label" | "who" | "why">

/** The choice of another way through the whole voice: a fixed duration for each sign that it changes. */
export function decisionsForRival(rival: VoiceRival, as: DecidedAs, nextId: () => SignId): Decision[] {
  return [...rival.signs].map(([sign, duration]) => ({ id: nextId(), sign, duration, ...as }))
}

/** A sign that is read otherwise after a decision: as it was and as it is, in the same voice. */
export interface SignChange {
  readonly reading: Reading
  readonly before: SignReading
  readonly after: SignReading
}

/** What changed between two readings of the same signs, in order: durations, and what dots and strokes were taken for. */
export function changesBetween(before: readonly Reading[], after: readonly Reading[]): SignChange[] {
  const old = new Map(before.map(reading => [reading.voice, reading]))
  return after.flatMap(reading => {
    const signs = new Map(old.get(reading.voice)?.signs.map(sign => [sign.id, sign]))
    return reading.signs.flatMap((sign): SignChange[] => {
      const was = signs.get(sign.id)
      const same = was === undefined || (equals(was.duration, sign.duration) && was.takenFor === sign.takenFor)
      return same ? [] : [{ reading, before: was, after: sign }]
    })
  })
}
