/** How fast the score goes unless someone says otherwise: a sensible figure by practice, not a claim. */
import { over, ratio, times, type Rational } from "../base/index.js"
import type { Score } from "./types.js"
import { wholesPerUnit, type ValueOptions } from "./values.js"

/** Tempora, or minims, in a minute. */
const SPEEDS: Readonly<Record<string, number>> = {
  modal: 200,
  "ars-antiqua": 100,
  "ars-nova": 240,
  trecento: 240,
  "ars-subtilior": 200,
  white: 120,
}

/** Units of the score in a minute. A stroke that all voices share halves the time of each sign, not the singers' beat. */
export function unitsPerMinute(score: Score): Rational {
  const speed = SPEEDS[score.practice] ?? 200
  // Where minims are the common unit, a practice that counts tempora has about six of them in its tempus.
  const inUnit = score.unit === "minima" && speed <= 100 ? speed * 6 : speed
  return over(ratio(inUnit), score.sharedProportion)
}

/** The same in modern quarter notes. */
export function quartersPerMinute(score: Score, options: ValueOptions = {}): Rational {
  return times(times(unitsPerMinute(score), wholesPerUnit(score, options)), ratio(4))
}
