/** Exact durations from ticks. */
import { over, ratio, times, type Rational } from "../base/index.js"
import { UNIT } from "../practices/index.js"

const wholes = new Map<number, Rational>()
/** Fractions of one unit by ticks: few different ones occur, and making one costs a division loop. */
function unscaled(ticks: number): Rational {
  let known = wholes.get(ticks)
  if (known === undefined) {
    known = Number.isInteger(ticks) ? ratio(ticks, UNIT) : fraction(ticks)
    if (wholes.size < 4096) wholes.set(ticks, known)
  }
  return known
}

/** The exact duration of so many ticks under a ratio; ticks may be a fraction only by a rounding far below one tick. */
export function durationOf(ticks: number, by: Rational): Rational {
  return by.num === by.den ? unscaled(ticks) : over(unscaled(ticks), by)
}

/** For values no whole number of ticks gives (a given 11 in the time of 13): the nearest fraction with a small denominator. */
function fraction(ticks: number): Rational {
  const value = ticks / UNIT
  for (let den = 1; den <= 4096; den++) {
    const num = Math.round(value * den)
    if (Math.abs(num / den - value) < 1e-9) return ratio(num, den)
  }
  return times(ratio(Math.round(ticks)), ratio(1, UNIT))
}
