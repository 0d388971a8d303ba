/** Which things with ids stayed in their order, and which values are the same. */
import type { Sign } from "./signs.js"

export interface Difference<T = Sign> {
  /** Old signs that are gone, or stand elsewhere now. */
  readonly gone: readonly T[]
  /** New signs in order; `old` where the sign stayed in its place among the others. */
  readonly now: readonly { readonly sign: T; readonly old?: T }[]
}

/** What stays is a longest run that is in the same order in both. */
export function difference<T extends { readonly id: string }>(
  before: readonly T[],
  after: readonly T[],
): Difference<T> {
  const places = new Map(before.map((sign, index) => [sign.id, index]))
  const known = after.map(sign => places.get(sign.id) ?? -1)
  const kept = longestRising(known)
  const keptPlaces = new Set([...kept].map(index => known[index]!))
  return {
    gone: before.filter((_, index) => !keptPlaces.has(index)),
    now: after.map((sign, index) => (kept.has(index) ? { sign, old: before[known[index]!]! } : { sign })),
  }
}

/** Indices of a longest rising run among the numbers from 0; negative ones are left out. */
function longestRising(numbers: readonly number[]): Set<number> {
  const tails: number[] = []
  const previous: number[] = []
  numbers.forEach((number, index) => {
    if (number < 0) return
    let low = 0
    let high = tails.length
    while (low < high) {
      const middle = (low + high) >> 1
      if (numbers[tails[middle]!]! < number) low = middle + 1
      else high = middle
    }
    previous[index] = low > 0 ? tails[low - 1]! : -1
    tails[low] = index
  })
  const kept = new Set<number>()
  for (let at = tails.at(-1) ?? -1; at >= 0; at = previous[at]!) kept.add(at)
  return kept
}

/** Equal as values; members that are undefined count as absent. */
export function same(a: unknown, b: unknown): boolean {
  if (a === b) return true
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false
  const keys = new Set([...Object.keys(a), ...Object.keys(b)])
  for (const key of keys)
    if (!same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key])) return false
  return Array.isArray(a) === Array.isArray(b)
}
