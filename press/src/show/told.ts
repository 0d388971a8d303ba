/** What the page tells of each sign. */
import {
  explainShort,
  headlineOf,
  otherLengths,
  sourceOf,
  spokenName,
  toNumber,
  plus,
  type Reading,
  type Score,
  type SignId,
  type SignReading,
} from "@resolutio/core"

/** Short names: there is one for every sign. */
export interface ToldSign {
  readonly id: SignId
  /** "tenor 12" */
  readonly place: string
  /** Its name for the ear. */
  readonly spoken: string
  readonly headline: string
  readonly sentence: string
  readonly source: string
  readonly because: readonly SignId[]
  /** In the score's unit; where it is sung several times, the first. */
  readonly onset: number
  readonly until: number
}
export interface ToldVoice {
  readonly label: string
  readonly signs: readonly ToldSign[]
}

/** The voices of the page with their notes and rests, in their order. */
export function toldVoices(readings: readonly Reading[], score: Score): ToldVoice[] {
  const moments = new Map<SignId, readonly [number, number]>()
  for (const { events } of score.voices)
    for (const { sign, onset, duration } of events)
      if (sign !== null && !moments.has(sign)) moments.set(sign, [toNumber(onset), toNumber(plus(onset, duration))])
  return readings.map(reading => ({
    label: reading.label || reading.n,
    signs: reading.signs.flatMap(sign => (sign.number > 0 ? [toldSign(reading, sign, moments.get(sign.id))] : [])),
  }))
}

function toldSign(reading: Reading, sign: SignReading, moment: readonly [number, number] = [0, 0]): ToldSign {
  return {
    id: sign.id,
    place: `${reading.label || reading.n} ${sign.number}`,
    spoken: spokenName(reading, sign),
    headline: headlineOf(reading, sign),
    sentence: [explainShort(reading, sign), otherLengths(reading, sign)].filter(Boolean).join(" "),
    source: sourceOf(reading.practice.name, sign.rule),
    because: sign.because,
    onset: moment[0],
    until: moment[1],
  }
}
