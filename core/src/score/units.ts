/** One unit of time for all voices, and the bars that a mensuration makes of it. */
import { ONE, over, ratio, times, type Rational } from "../base/index.js"
import type { MensurationSpan, Reading, Unit } from "../reading/types.js"
import type { ScoreMensuration } from "./types.js"

export interface CommonUnit {
  readonly unit: Unit
  /** What a time in a voice's own unit is multiplied by. */
  readonly factor: (reading: Reading) => Rational
  readonly equivalence: string | null
}

/**
 * Minims, as soon as one voice counts in them; a voice in tempora is then compared breve for breve: its tempus lasts
 * as long as the breve with which the first voice in minims begins (breve equivalence).
 */
export function commonUnit(readings: readonly Reading[]): CommonUnit {
  const model = readings.find(reading => reading.unit === "minima")
  if (!model) return { unit: "tempus", factor: () => ONE, equivalence: null }
  const mixed = readings.some(reading => reading.unit === "tempus")
  const breve = brevis(model.mensurations[0])
  return {
    unit: "minima",
    factor: reading => (reading.unit === "tempus" ? breve : ONE),
    equivalence: mixed
      ? `One tempus is taken as one breve of ${breve.num} minims, the breve with which ${model.label} begins.`
      : null,
  }
}

/** In minims. A level that is unknown divides in two. */
function brevis(span: MensurationSpan | undefined): Rational {
  return ratio((span?.tempus ?? 2) * (span?.prolatio ?? 2))
}

/**
 * The bars of a voice in the common unit: a perfection (three tempora unless the modus is imperfect) where tempora are
 * counted, a breve where minims are. A proportion in force shortens them as it shortens the notes.
 */
export function mensurationsOf(reading: Reading, factor: Rational): ScoreMensuration[] {
  const spans = reading.mensurations.length > 0 ? reading.mensurations : [undefined]
  return spans.map(span => ({
    onset: span ? times(span.onset, factor) : ratio(0),
    periods: periodsOf(reading.unit, span).map(period =>
      over(times(period, factor), span && span.proportion.num > 0 ? span.proportion : ONE),
    ),
  }))
}

function periodsOf(unit: Unit, span: MensurationSpan | undefined): Rational[] {
  if (unit === "tempus") return [ratio(span?.modusMinor ?? 3), ONE]
  return [brevis(span), ratio(span?.prolatio ?? 2), ONE]
}

/** The proportion with which every voice begins, or 1. */
export function sharedProportion(readings: readonly Reading[]): Rational {
  const first = readings[0]?.mensurations[0]?.proportion ?? ONE
  const shared = readings.every(reading => {
    const own = reading.mensurations[0]?.proportion ?? ONE
    return own.num === first.num && own.den === first.den
  })
  return shared && first.num > 0 ? first : ONE
}
