/**
 * What the search over all voices has found and not settled yet. A hypothesis is one way through all voices up to about
 * one moment; hypotheses that have laid down equally many notes are a layer. All of them stand in long rows, numbered in
 * the order in which they were kept, and so do the steps that lead from one to another: a long piece has millions.
 */
import { roomFor } from "./grown.js"

/** From such weights on all are made smaller: only their shares count. */
const HEAVY = 2 ** 400

/** The trail of a search that is over, if it is no larger than this: rows of such lengths take long to be made and cleared away. */
let spare: Trail | undefined
const LARGEST_SPARE = 2 ** 18

/** A trail for one search; what stands on it from another says nothing (`start`). */
export function takeTrail(): Trail {
  const trail = spare ?? new Trail()
  spare = undefined
  return trail
}

/** For the next search. */
export function leaveTrail(trail: Trail): void {
  if (trail.cost.length <= LARGEST_SPARE) spare = trail
}

export class Trail {
  /** By hypothesis: cost of the best way here; chances of all ways here, relative to the best; the best step; the first. */
  cost = new Float64Array(1024)
  weight = new Float64Array(1024)
  best = new Int32Array(1024)
  firstStep = new Int32Array(1025)
  /** What a step from here costs because voices do not stand together; 0 as long as there is none. */
  missed = new Float64Array(1024)
  /** Costs and chances from here on, as far as the trail was looked back along. */
  after = new Float64Array(1024)
  weightAfter = new Float64Array(1024)
  /** By step: the hypothesis it comes from, the way taken, whose it is, and what it costs. */
  from = new Int32Array(1024)
  way = new Int32Array(1024)
  voice = new Uint8Array(1024)
  stepCost = new Float64Array(1024)
  count = 0
  steps = 0
  /** First hypothesis of each layer that is not settled. */
  private layers: number[] = []
  /** By layer: how many hypotheses are in use. */
  private used: number[] = []
  /** By hypothesis: still in use at the sweep of this number. */
  private swept = new Int32Array(1024)
  private sweeps = 0
  /** So many layers were swept before. */
  private clean = 0

  /** Layers that are not settled yet. */
  get length(): number {
    return this.layers.length
  }
  firstOf(layer: number): number {
    return this.layers[layer]!
  }
  /** The first hypothesis behind the layer. */
  endOf(layer: number): number {
    return this.layers[layer + 1] ?? this.count
  }
  usedIn(layer: number): number {
    return this.used[layer]!
  }

  /** Begins with a single hypothesis: nothing is known of how it came to be. */
  start(cost: number): void {
    this.count = this.steps = this.clean = 0
    this.layers = []
    this.used = []
    this.beginLayer()
    this.keep(cost, 1, -1)
    this.endLayer()
  }

  beginLayer(): void {
    this.layers.push(this.count)
  }
  endLayer(): void {
    this.used.push(this.count - this.layers.at(-1)!)
  }

  /** A step to the hypothesis that is kept next. */
  step(from: number, way: number, voice: number, cost: number): number {
    const at = this.steps++
    if (at === this.from.length) {
      this.from = roomFor(this.from, at + 1)
      this.way = roomFor(this.way, at + 1)
      this.voice = roomFor(this.voice, at + 1)
      this.stepCost = roomFor(this.stepCost, at + 1)
    }
    this.from[at] = from
    this.way[at] = way
    this.voice[at] = voice
    this.stepCost[at] = cost
    return at
  }

  /** A hypothesis, after the steps to it. */
  keep(cost: number, weight: number, best: number): void {
    const at = this.count++
    if (at === this.cost.length) {
      for (const name of ["cost", "weight", "missed", "after", "weightAfter"] as const)
        this[name] = roomFor(this[name], at + 1)
      for (const name of ["best", "swept"] as const) this[name] = roomFor(this[name], at + 1)
      this.firstStep = roomFor(this.firstStep, this.cost.length + 1)
    }
    this.cost[at] = cost
    this.weight[at] = weight
    this.missed[at] = 0
    this.best[at] = best
    this.swept[at] = 0
    this.firstStep[at + 1] = this.steps
  }

  /** Finds out which hypotheses still lead to the last layer: the others say nothing any more. */
  sweep(): void {
    const sweep = ++this.sweeps
    const last = this.length - 1
    this.swept.fill(sweep, this.firstOf(last), this.count)
    for (let layer = last; layer > 0; layer--) {
      const used = this.markBefore(layer, sweep)
      // where none had to go, those before were swept already
      if (used === this.used[layer - 1] && layer - 1 < this.clean) break
      this.used[layer - 1] = used
    }
    this.clean = last
  }

  private markBefore(layer: number, sweep: number): number {
    const { swept, from, firstStep } = this
    let used = 0
    for (let to = this.firstOf(layer); to < this.endOf(layer); to++) {
      if (swept[to] !== sweep) continue
      for (let step = firstStep[to]!; step < firstStep[to + 1]!; step++) {
        if (swept[from[step]!] === sweep) continue
        swept[from[step]!] = sweep
        used++
      }
    }
    return used
  }

  /** The one hypothesis of the layer that is still in use. */
  onlyOne(layer: number): number {
    let best = this.firstOf(layer)
    // it was swept, or is the only one there is
    for (let one = best; one < this.endOf(layer); one++) if (this.swept[one]! > this.swept[best]!) best = one
    return best
  }

  /** The cheapest of the last layer, by a cost of one's own. */
  cheapest(cost: (hypothesis: number) => number): number {
    const first = this.firstOf(this.length - 1)
    let best = first
    for (let one = first + 1; one < this.count; one++) if (cost(one) < cost(best)) best = one
    return best
  }

  /**
   * Lets go of all that leads to the layer; it becomes the first. Rows are moved down seldom, and weights made smaller
   * by a power of two, which leaves all shares exactly as they were.
   */
  settle(layer: number): void {
    this.layers.splice(0, layer)
    this.used.splice(0, layer)
    this.clean = Math.max(0, this.clean - layer)
    const first = this.layers[0]!
    if (this.weight[first]! > HEAVY) for (let one = first; one < this.count; one++) this.weight[one]! /= HEAVY
    if (2 * first > this.count && first > 8192) this.moveDown(first)
  }

  private moveDown(first: number): void {
    const steps = this.firstStep[first]!
    for (const name of ["cost", "weight", "missed", "best", "swept"] as const)
      this[name].copyWithin(0, first, this.count)
    for (const name of ["from", "way", "voice", "stepCost"] as const) this[name].copyWithin(0, steps, this.steps)
    this.firstStep.copyWithin(0, first, this.count + 1)
    this.count -= first
    this.steps -= steps
    for (let one = 0; one < this.count; one++) this.best[one]! -= steps
    for (let one = 0; one <= this.count; one++) this.firstStep[one]! -= steps
    for (let step = 0; step < this.steps; step++) this.from[step]! -= first
    this.layers = this.layers.map(one => one - first)
  }
}
