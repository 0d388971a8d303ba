/** From exact moments of the score to seconds and back: one clock for all voices, so that they keep exact step. */
import { compare, minus, plus, ratio, toNumber, type Rational } from "../base/index.js"
import type { EquivalenceTaken } from "./equivalence.js"

/** A stretch of even speed. */
export interface ClockStretch {
  /** In the score's unit. */
  readonly from: Rational
  readonly seconds: number
  readonly secondsPerUnit: number
}

/** So much waiting just before a moment: what sounds there is held, what begins there begins later. */
export interface Hold {
  readonly at: Rational
  readonly seconds: number
}

/** The first stretch begins at 0; holds are in the order of time. */
export interface Clock {
  readonly stretches: readonly ClockStretch[]
  readonly holds: readonly Hold[]
}

/** `unitsPerMinute` at the beginning; each change makes the unit so much faster than before it. */
export function clockOf(unitsPerMinute: number, changes: readonly EquivalenceTaken[]): Clock {
  const first: ClockStretch = { from: ratio(0), seconds: 0, secondsPerUnit: 60 / unitsPerMinute }
  const stretches = [first]
  let faster = 1
  for (const { onset, faster: by } of changes) {
    if (by.num === by.den) continue
    // The speed is reckoned from the first, so that there and back again is exactly the same.
    faster = near(faster * toNumber(by))
    const before = stretches.at(-1)!
    const seconds = before.seconds + toNumber(minus(onset, before.from)) * before.secondsPerUnit
    stretches.push({ from: onset, seconds, secondsPerUnit: first.secondsPerUnit / faster })
  }
  return { stretches, holds: [] }
}

/** 1.4999999999999998 is 3/2: rounded to twelve figures. */
const near = (number: number): number => Number(number.toPrecision(12))

/** Seconds of a moment, all holds up to it counted. */
export function secondsAt({ stretches, holds }: Clock, moment: Rational): number {
  const stretch = stretches[lastUpTo(stretches, moment, one => one.from)] ?? stretches[0]!
  const even = stretch.seconds + toNumber(minus(moment, stretch.from)) * stretch.secondsPerUnit
  let held = 0
  for (const hold of holds) if (compare(hold.at, moment) <= 0) held += hold.seconds
  return even + held
}

function lastUpTo<T>(sorted: readonly T[], moment: Rational, of: (one: T) => Rational): number {
  let low = 0
  let high = sorted.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (compare(of(sorted[middle]!), moment) <= 0) low = middle + 1
    else high = middle
  }
  return low - 1
}

/** How long a unit lasts from a moment on. */
export function secondsPerUnitAt({ stretches }: Clock, moment: Rational): number {
  return (stretches[lastUpTo(stretches, moment, one => one.from)] ?? stretches[0]!).secondsPerUnit
}

/** Where the music stands so many seconds after its beginning, in the score's unit; during a hold, where it waits. */
export function unitsAt(clock: Clock, seconds: number): number {
  const places = [...clock.stretches.map(one => one.from), ...clock.holds.map(one => one.at)].sort(compare)
  const last = places.findLast(at => secondsAt(clock, at) <= seconds) ?? ratio(0)
  const stretch = clock.stretches[lastUpTo(clock.stretches, last, one => one.from)] ?? clock.stretches[0]!
  const units = toNumber(last) + Math.max(0, seconds - secondsAt(clock, last)) / stretch.secondsPerUnit
  const next = places.find(at => compare(at, last) > 0)
  return next ? Math.min(units, toNumber(next)) : units
}

/** The clock with waiting put in. */
export function withHolds(clock: Clock, holds: readonly Hold[]): Clock {
  const all = [...clock.holds, ...holds].filter(one => one.seconds > 0)
  return { ...clock, holds: all.sort((a, b) => compare(a.at, b.at)) }
}

/** The moment a note ends. */
export const endOf = ({ onset, duration }: { readonly onset: Rational; readonly duration: Rational }): Rational =>
  plus(onset, duration)
