/** Exact tuplets: which ratio lets notes that halving does not reach be written with ordinary signs. */
import { leastCommonMultiple, minus, ratio, times, type Rational } from "../base/index.js"
import { isDyadic, modernValue } from "./values.js"

export interface TupletRatio {
  /** So many are played … */
  readonly num: number
  /** … in the time of so many. */
  readonly numbase: number
}

/** What lasts `wholes` is written so long inside the tuplet. */
export function writtenIn(wholes: Rational, { num, numbase }: TupletRatio): Rational {
  return times(wholes, ratio(num, numbase))
}

/**
 * The ratio with the fewest ties and dots under which all these durations can be written. There always is one: the
 * odd part of their common denominator in the time of a power of two.
 */
export function bestRatio(durations: readonly Rational[]): TupletRatio {
  const num = durations.reduce((common, duration) => leastCommonMultiple(common, oddPart(duration.den)), 1)
  const candidates = bases(num).filter(numbase =>
    durations.every(duration => isDyadic(writtenIn(duration, { num, numbase }))),
  )
  const cost = (numbase: number) =>
    durations.reduce((total, duration) => total + signsFor(writtenIn(duration, { num, numbase })), 0)
  const numbase = candidates.reduce((best, other) => (cost(other) < cost(best) ? other : best))
  return { num, numbase }
}

/** Every duration is one sign: no tie is needed inside the tuplet. */
export function isUntied(durations: readonly Rational[], tuplet: TupletRatio): boolean {
  return durations.every(duration => modernValue(writtenIn(duration, tuplet)) !== undefined)
}

/** Usual first: the power of two below (3:2, 5:4, 7:4), then three times one (5:3, 7:6), then longer written signs. */
function bases(num: number): number[] {
  const power = 2 ** Math.floor(Math.log2(num))
  const three = [num * 0.75, num * 0.5].map(low => 3 * 2 ** Math.ceil(Math.log2(low / 3)))
  const usual = [power, ...three].filter(base => Number.isInteger(base) && base < num)
  const longer = Array.from({ length: Math.log2(power) }, (_, i) => power / 2 ** (i + 1))
  return [...usual, ...longer.filter(base => base >= 1)]
}

/** 0 for a plain sign, 1 for a dotted one, 10 for what must be tied, much for what is shorter than any sign. */
function signsFor(written: Rational): number {
  const value = modernValue(written)
  if (value) return value.dots
  return written.den > 1024 ? 1000 : 10
}

export function oddPart(n: number): number {
  while (n % 2 === 0) n /= 2
  return n
}

/** Lengths between neighbouring times. */
export function lengths(times: readonly Rational[]): Rational[] {
  return times.slice(1).map((time, i) => minus(time, times[i]!))
}
