/** What the search over all voices is made of: one way through every voice, and how it came to be. */
import type { Way } from "./voice-graph.js"

/** How a hypothesis came to be: from which, by which way of which voice, at what cost. */
export interface Step {
  readonly from: Hypothesis
  readonly way: Way
  readonly voice: number
  readonly cost: number
}

/** One way through every voice up to about one moment. */
export class Hypothesis {
  readonly steps: Step[] = []
  best: Step | undefined = undefined
  /** Of the best way here. */
  cost = Infinity
  /** Chances of all ways here, relative to the best. */
  weight = 0
  /** The same from here on. */
  after = Infinity
  weightAfter = 0
  /** Still in use at the sweep of this number. */
  swept = 0
  /** The least that is still to be paid (lengths.ts). */
  future = 0

  /** By voice four numbers: its place, when its last note ends, when that began, and when its stretch did. */
  constructor(readonly at: readonly number[]) {}

  /** All that leads here is settled. */
  beginAnew(): void {
    this.steps.length = 0
    this.best = undefined
    this.after = Infinity
    this.weightAfter = 0
  }
}

/** Places in `Hypothesis.at`, for each voice. */
export const FIELDS = 4
export const NODE = 0
export const END = 1
export const ONSET = 2
export const ORIGIN = 3

/** One to go on from: nothing is known of how it came to be. */
export function started(at: readonly number[], cost: number): Hypothesis {
  const one = new Hypothesis(at)
  one.cost = cost
  one.weight = 1
  return one
}

/** The cheapest of a layer, by a cost of one's own. */
export function cheapest(layer: readonly Hypothesis[], cost: (one: Hypothesis) => number): Hypothesis {
  return layer.reduce((best, one) => (cost(one) < cost(best) ? one : best), layer[0]!)
}

/** Alike for alike hypotheses, and seldom for others. */
export function keyOf(at: readonly number[]): number {
  let key = 0
  for (let i = 0; i < at.length; i += FIELDS)
    key = (Math.imul(Math.imul(key, 31) + at[i + NODE]!, 31) + (at[i + END]! % 1_000_003)) | 0
  return key
}

/** The same places at the same times, and the same notes begun just now. */
export function isSame(a: readonly number[], b: readonly number[], now: number): boolean {
  for (let i = 0; i < a.length; i += FIELDS) {
    if (a[i + NODE] !== b[i + NODE] || a[i + END] !== b[i + END]) return false
    const [x, y] = [a[i + ONSET], b[i + ONSET]]
    if (x !== y && (x === now || y === now)) return false
  }
  return true
}

/** Layers from the last at which all may be in use by chance though those before were not swept yet. */
const UNSETTLED = 256

/** Lets go of hypotheses from which nothing leads to the last layer: they say nothing any more. `sweeps`: another each time. */
export function sweep(layers: Hypothesis[][], sweeps: number): void {
  for (const one of layers.at(-1)!) one.swept = sweeps
  for (let n = layers.length - 1; n > 0; n--) {
    for (const one of layers[n]!) for (const { from } of one.steps) from.swept = sweeps
    const left = layers[n - 1]!.filter(one => one.swept === sweeps)
    // where none had to go, those before were swept already
    if (left.length === layers[n - 1]!.length && n < layers.length - UNSETTLED) return
    layers[n - 1] = left
  }
}

/** Lays a step to a hypothesis that costs `total` by it. */
export function link(to: Hypothesis, step: Step, total: number): void {
  to.steps.push(step)
  const mass = step.from.weight
  if (total < to.cost) {
    to.weight = mass + to.weight * (to.cost === Infinity ? 0 : Math.exp(total - to.cost))
    to.cost = total
    to.best = step
  } else to.weight += mass * Math.exp(to.cost - total)
}
