/** What two runs have in common, in order. */

export type Pair = readonly [before: number, after: number]

/** A table of more places would take too long to fill on a key press; then only the two ends are compared. */
const LARGEST_TABLE = 4_000_000

/** Pairs of equal places, rising in both runs, as many as there can be. */
export function commonPairs(before: readonly string[], after: readonly string[]): Pair[] {
  const shorter = Math.min(before.length, after.length)
  let start = 0
  while (start < shorter && before[start] === after[start]) start++
  let end = 0
  while (end < shorter - start && before.at(-1 - end) === after.at(-1 - end)) end++
  const head = Array.from({ length: start }, (_, i): Pair => [i, i])
  const tail = Array.from({ length: end }, (_, i): Pair => [before.length - end + i, after.length - end + i])
  const middle = longest(before.slice(start, before.length - end), after.slice(start, after.length - end))
  return [...head, ...middle.map(([a, b]): Pair => [a + start, b + start]), ...tail]
}

/** The longest common subsequence, by the table of lengths from the end (common practice). */
function longest(before: readonly string[], after: readonly string[]): Pair[] {
  const width = after.length + 1
  if (before.length * after.length === 0 || (before.length + 1) * width > LARGEST_TABLE) return []
  const lengths = new Uint32Array((before.length + 1) * width)
  for (let a = before.length - 1; a >= 0; a--)
    for (let b = after.length - 1; b >= 0; b--)
      lengths[a * width + b] =
        before[a] === after[b]
          ? lengths[(a + 1) * width + b + 1]! + 1
          : Math.max(lengths[(a + 1) * width + b]!, lengths[a * width + b + 1]!)
  const pairs: Pair[] = []
  for (let a = 0, b = 0; a < before.length && b < after.length;)
    if (before[a] === after[b]) pairs.push([a++, b++])
    else if (lengths[(a + 1) * width + b]! >= lengths[a * width + b + 1]!) a++
    else b++
  return pairs
}

/** What stands between the pairs: runs of the one that have no partner in the other, with how the other goes on there. */
export interface Gap {
  readonly before: readonly [from: number, to: number]
  readonly after: readonly [from: number, to: number]
}

export function gapsOf(pairs: readonly Pair[], before: number, after: number): Gap[] {
  const gaps: Gap[] = []
  let [a, b] = [0, 0]
  for (const [nextA, nextB] of [...pairs, [before, after] as const]) {
    if (nextA > a || nextB > b) gaps.push({ before: [a, nextA], after: [b, nextB] })
    ;[a, b] = [nextA + 1, nextB + 1]
  }
  return gaps
}
