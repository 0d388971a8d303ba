/** Keeps peaks under a ceiling: the gain goes down smoothly before a peak and up again after it. */

/** Seconds that it looks ahead, and back. */
const REACH = 0.005

/** How many samples on either side a piece must bring with it, so that pieces join without a seam. */
export const limiterMargin = (rate: number): number => 2 * Math.round(REACH * rate)

/**
 * Gains from 0 to 1 for the samples between the margins. Sample times gain is never above the ceiling. Left and right have
 * one length, margins counted; before the beginning and after the end of a file the margins hold zeros.
 */
export function limiterGains(left: Float32Array, right: Float32Array, ceiling: number, rate: number): Float32Array {
  const reach = Math.round(REACH * rate)
  const needed = Float32Array.from(left, (l, i) =>
    Math.min(1, ceiling / Math.max(1e-9, Math.abs(l), Math.abs(right[i]!))),
  )
  const least = slidingLeast(needed, reach)
  const gains = new Float32Array(Math.max(0, left.length - 4 * reach))
  // Each gain is the mean of the least gains around it; all of these are low enough for the sample in their middle.
  let sum = 0
  for (let i = reach; i <= 3 * reach && i < least.length; i++) sum += least[i]!
  for (let i = 0; i < gains.length; i++) {
    gains[i] = Math.min(1, sum / (2 * reach + 1))
    sum += (least[i + 3 * reach + 1] ?? 1) - least[i + reach]!
  }
  return gains
}

/** At each place the least within `reach` on either side. */
function slidingLeast(values: Float32Array, reach: number): Float32Array {
  const out = new Float32Array(values.length)
  const queue = new Int32Array(values.length)
  let [head, tail] = [0, 0]
  for (let i = 0; i < values.length + reach; i++) {
    if (i < values.length) {
      while (tail > head && values[queue[tail - 1]!]! >= values[i]!) tail--
      queue[tail++] = i
    }
    const place = i - reach
    if (place < 0) continue
    while (queue[head]! < place - reach) head++
    out[place] = values[queue[head]!]!
  }
  return out
}
