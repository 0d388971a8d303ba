/** What two lists have in common at their beginnings and at their ends. */
import type { FlatSign } from "../page/index.js"

/** So many at the beginning, so many at the end. */
export interface Ends {
  readonly head: number
  readonly tail: number
}

export const NO_ENDS: Ends = { head: 0, tail: 0 }

/** How many are the same; none is counted twice. */
export function commonEnds<T>(a: readonly T[], b: readonly T[], same: (x: T, y: T) => boolean): Ends {
  const most = Math.min(a.length, b.length)
  let head = 0
  while (head < most && same(a[head]!, b[head]!)) head++
  let tail = 0
  while (tail < most - head && same(a[a.length - 1 - tail]!, b[b.length - 1 - tail]!)) tail++
  return { head, tail }
}

/** The same sign object, within the same ligature or in none. */
export const sameFlat = (a: FlatSign, b: FlatSign): boolean =>
  a === b || (a.sign === b.sign && a.ligature === b.ligature)
