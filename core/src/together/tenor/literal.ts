/** What it costs to tell a voice sign by sign, and where it looks like itself at a distance. */
import type { Token, View } from "./views.js"

const keyOf = (token: Token): string => `${token.note ? "" : "-"}${token.value.toFixed(4)}${token.detail}`

/** Each key as a small number. */
export function numbered(keys: readonly string[]): { readonly codes: Int32Array; readonly size: number } {
  const known = new Map<string, number>()
  const codes = Int32Array.from(keys, key => {
    const code = known.get(key) ?? known.size
    known.set(key, code)
    return code
  })
  return { codes, size: known.size }
}

/**
 * Bits that each token costs when it is told by itself: the mean of what it costs by how common it is, and by how
 * common it is after the one before it. So a voice that only goes long, breve, long, breve is cheap without any talea.
 */
export function literalBits(tokens: readonly Token[]): Float64Array {
  const { codes, size } = numbered(tokens.map(keyOf))
  const single = new Map<number, number>()
  const before = new Map<number, number>()
  const pairs = new Map<number, number>()
  const add = (counts: Map<number, number>, key: number) => counts.set(key, (counts.get(key) ?? 0) + 1)
  codes.forEach((code, at) => {
    add(single, code)
    if (at === 0) return
    add(before, codes[at - 1]!)
    add(pairs, codes[at - 1]! * size + code)
  })
  const bits = (count: number, of: number) => -Math.log2((count + 0.5) / (of + 0.5 * size))
  return Float64Array.from(codes, (code, at) => {
    const alone = bits(single.get(code)!, codes.length)
    if (at === 0) return alone
    const last = codes[at - 1]!
    return (alone + bits(pairs.get(last * size + code)!, before.get(last)!)) / 2
  })
}

export interface Lag {
  /** Distance in tokens from one statement to the next. */
  readonly period: number
  /** Token from which the voice looks like itself at this distance. */
  readonly from: number
  readonly score: number
}

/** Price of a step that is not the same again, in bits: some three slips may stand within a statement. */
const STEP_DIFFERS = 4
/** Share of what could come again that must do so without a break for a distance to be followed up. */
const PASSAGE = 0.1
/** Slips shift a repeat by one or two; a distance so near a better one is the same candidate. */
const KEPT = 10

/**
 * Distances at which the steps from token to token come again, best first. Steps, not tokens, are compared, so that
 * transposed and diminished repeats show too. Takes time in proportion to the square of the voice's length, but only a
 * comparison of two whole numbers each: some two million for two thousand notes.
 */
export function lags(view: View, from: number, to: number, shortest: number): Lag[] {
  const steps = stepCodes(view, from, to)
  const found: Lag[] = []
  const longest = Math.floor((to - from) * LONGEST)
  for (let period = shortest; period <= longest; period++) found.push(bestStretch(steps, period, from))
  return found
    .filter(one => one.score > 0)
    .toSorted((a, b) => b.score - a.score || a.period - b.period)
    .slice(0, KEPT)
}
/** A second statement that has at least a third of the first. */
const LONGEST = 0.75

interface Steps {
  readonly codes: Int32Array
  readonly bits: Float64Array
}

function stepCodes({ tokens }: View, from: number, to: number): Steps {
  const keys: string[] = []
  for (let at = from + 1; at < to; at++) {
    const [last, token] = [tokens[at - 1]!, tokens[at]!]
    keys.push(`${last.note ? "n" : "r"}${keyOf({ ...token, value: token.value - last.value })}`)
  }
  const { codes, size } = numbered(keys)
  const counts = new Int32Array(size)
  for (const code of codes) counts[code]!++
  return { codes, bits: Float64Array.from(codes, code => -Math.log2((counts[code]! + 0.5) / (codes.length + 1))) }
}

/** The stretch of steps in which most come again after `period`, weighed by how rare they are. */
function bestStretch({ codes, bits }: Steps, period: number, from: number): Lag {
  let [score, start, best, bestStart, bestEnd] = [0, period, 0, period, period]
  for (let at = period; at < codes.length; at++) {
    score += codes[at] === codes[at - period] ? bits[at]! : -STEP_DIFFERS
    if (score <= 0) [score, start] = [0, at + 1]
    else if (score > best) [best, bestStart, bestEnd] = [score, start, at]
  }
  // A passage that comes again by itself, in a voice that else does not look like itself at this distance.
  if (bestEnd - bestStart < PASSAGE * (codes.length - period)) best = 0
  return { period, from: from + bestStart - period, score: best }
}
