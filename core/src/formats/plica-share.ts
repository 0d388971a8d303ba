/** A plica's time as files have it that write it as a small note: a percentage of the note that bears it. */
import { over, ratio, times, toNumber, type Rational } from "../base/index.js"
import type { ScoreNote } from "../score/index.js"

/** "33.33", "50". */
export function percentOf(share: Rational, whole: Rational): string {
  return String(Number(toNumber(times(over(share, whole), ratio(100))).toFixed(2)))
}

/** Plicas of which the reading does not say how much of the time they take. */
export const openPlicas = (notes: readonly ScoreNote[]): number =>
  notes.filter(({ plica }) => plica && !plica.duration).length
