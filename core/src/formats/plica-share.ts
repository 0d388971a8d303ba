/** A plica's time as files have it that write it as a small note: a percentage of the note that bears it. */
import { over, ratio, times, toNumber, type Rational } from "../base/index.js"

/** "33.33", "50". */
export function percentOf(share: Rational, whole: Rational): string {
  return String(Number(toNumber(times(over(share, whole), ratio(100))).toFixed(2)))
}
