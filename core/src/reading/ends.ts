/** What two lists have in common at their beginnings and at their ends. */
import { flatSigns, type FlatSign, type Sign } from "../page/index.js"

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

/** `flatSigns` of a voice after an edit: for signs that it has in common with the voice before, the same objects. */
export function flatAgain(
  signs: readonly Sign[],
  before: { readonly signs: readonly Sign[]; readonly flat: readonly FlatSign[] },
): readonly FlatSign[] {
  const { head, tail } = commonEnds(before.signs, signs, Object.is)
  const { flat } = before
  const middle = flatSigns({ signs: signs.slice(head, signs.length - tail) })
  const later = flat.length - flatLength(signs, signs.length - tail, signs.length)
  return flat.slice(0, flatLength(signs, 0, head)).concat(middle, flat.slice(later))
}

function flatLength(signs: readonly Sign[], from: number, to: number): number {
  let length = 0
  for (let i = from; i < to; i++) {
    const sign = signs[i]!
    length += sign.kind === "ligature" ? sign.members.length : 1
  }
  return length
}
