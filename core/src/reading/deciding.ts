/** From rivals to decisions, and what a decision changed: the two ends of an editor's choice. */
import { compare, equals, over, ratio, type Rational, type SignId } from "../base/index.js"
import type { Decision } from "../page/index.js"
import { divisionsOf } from "./divisions.js"
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
  /** What both lengths are told in: the voice's own unit; breves where the voice was counted in another before. */
  readonly unit: Reading["unit"] | "brevis"
  readonly lasted: Rational
  readonly lasts: Rational
}

/** What changed between two readings of the same signs, in order: durations, and what dots and strokes were taken for. */
export function changesBetween(before: readonly Reading[], after: readonly Reading[]): SignChange[] {
  const old = new Map(before.map(reading => [reading.voice, reading]))
  return after.flatMap(reading => {
    const earlier = old.get(reading.voice)
    const signs = new Map(earlier?.signs.map(sign => [sign.id, sign]))
    const unit = earlier === undefined || earlier.unit === reading.unit ? reading.unit : "brevis"
    return reading.signs.flatMap((sign): SignChange[] => {
      const was = signs.get(sign.id)
      if (earlier === undefined || was === undefined) return []
      const [lasted, lasts] =
        unit === "brevis" ? [inBreves(earlier, was), inBreves(reading, sign)] : [was.duration, sign.duration]
      const same = equals(lasted, lasts) && was.takenFor === sign.takenFor
      return same ? [] : [{ reading, before: was, after: sign, unit, lasted, lasts }]
    })
  })
}

/** How many breves of its own place a sign lasts: what readings that count in different units have in common. */
function inBreves({ unit, mensurations }: Reading, { duration, onset }: SignReading): Rational {
  const span = mensurations.findLast(one => compare(one.onset, onset) <= 0) ?? mensurations[0]
  if (unit === "tempus" || !span) return duration
  const [semibreve, breve] = divisionsOf(span, unit)
  const minims = ratio(semibreve!.parts * breve!.parts)
  return over(duration, span.proportion.num > 0 ? over(minims, span.proportion) : minims)
}
