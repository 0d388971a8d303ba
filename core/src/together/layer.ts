/** The hypotheses that the search stands at, by voice the number of its stand; found again by where they stand. */
import { roomFor } from "./grown.js"
import type { Trail } from "./hypothesis.js"
import type { Breadth } from "./search.js"
import type { Stands } from "./stands.js"

const BUCKETS = 512

export class Layer {
  count = 0
  /** Those that are kept, the likeliest first. */
  order = new Int32Array(64)
  kept = 0
  /** By hypothesis and voice: its stand. */
  state: Int32Array<ArrayBuffer>
  cost = new Float64Array(64)
  weight = new Float64Array(64)
  /** The least that is still to be paid (lengths.ts), and that with the cost. */
  future = new Float64Array(64)
  private total = new Float64Array(64)
  /** Totals in the order in which hypotheses are kept. */
  private sorted = new Float64Array(64)
  key = new Int32Array(64)
  private next = new Int32Array(64)
  private readonly first = new Int32Array(BUCKETS)
  /** Steps to each, in a chain, in the order they were laid. */
  private best = new Int32Array(64)
  private firstStep = new Int32Array(64)
  private lastStep = new Int32Array(64)
  private steps = 0
  private from = new Int32Array(64)
  private way = new Int32Array(64)
  private voice = new Uint8Array(64)
  private stepCost = new Float64Array(64)
  private nextStep = new Int32Array(64)

  constructor(
    private readonly voices: number,
    private readonly stands: Stands,
  ) {
    this.state = new Int32Array(64 * voices)
  }

  clear(): void {
    this.count = this.steps = this.kept = 0
    this.first.fill(-1)
  }

  /**
   * The hypothesis of this layer that stands where `from` of the layer before would with voice `v` gone on to a stand; -1:
   * none. Notes begun just now are told apart from others.
   */
  find(key: number, from: Layer, at: number, v: number, stand: number): number {
    for (let one = this.first[key & (BUCKETS - 1)]!; one >= 0; one = this.next[one]!)
      if (this.key[one] === key && this.isSame(one * this.voices, from.state, at, v, stand)) return one
    return -1
  }

  private isSame(own: number, other: Int32Array, at: number, v: number, stand: number): boolean {
    const { place, onset } = this.stands
    const now = onset[stand]!
    for (let u = 0; u < this.voices; u++) {
      const a = this.state[own + u]!
      const b = u === v ? stand : other[at + u]!
      if (a === b) continue
      if (place[a] !== place[b]) return false
      const [x, y] = [onset[a]!, onset[b]!]
      if (x !== y && (x === now || y === now)) return false
    }
    return true
  }

  /**
   * One more, that stands as one of the layer before does, but for voice `v`. `alike`: the voice has as much still to pay
   * as before, and so have all together.
   */
  add(key: number, before: Layer, from: number, v: number, stand: number, alike: boolean): number {
    const one = this.count++
    if (one === this.key.length) this.grow(one + 1)
    const { voices, state } = this
    const [at, to] = [from * voices, one * voices]
    for (let u = 0; u < voices; u++) state[to + u] = before.state[at + u]!
    state[to + v] = stand
    this.key[one] = key
    this.cost[one] = Infinity
    this.weight[one] = 0
    this.firstStep[one] = this.best[one] = -1
    this.future[one] = alike ? before.future[from]! : this.stands.least(state, to)
    this.enter(one, key & (BUCKETS - 1))
    return one
  }

  private enter(one: number, bucket: number): void {
    this.next[one] = -1
    let last = this.first[bucket]!
    if (last < 0) this.first[bucket] = one
    else {
      while (this.next[last]! >= 0) last = this.next[last]!
      this.next[last] = one
    }
  }

  private grow(count: number): void {
    for (const name of ["cost", "weight", "future", "total", "sorted"] as const) this[name] = roomFor(this[name], count)
    for (const name of ["key", "next", "best", "firstStep", "lastStep", "order"] as const)
      this[name] = roomFor(this[name], count)
    this.state = roomFor(this.state, count * this.voices)
  }

  /** Lays a step to a hypothesis, from one of the trail that has so much weight; it costs `total` by it. */
  link(to: number, from: number, weight: number, way: number, voice: number, cost: number, total: number): void {
    const step = this.layStep(to, from, way, voice, cost)
    if (total < this.cost[to]!) {
      this.weight[to] = weight + this.weight[to]! * (this.cost[to] === Infinity ? 0 : Math.exp(total - this.cost[to]!))
      this.cost[to] = total
      this.best[to] = step
    } else this.weight[to]! += weight * Math.exp(this.cost[to]! - total)
  }

  private layStep(to: number, from: number, way: number, voice: number, cost: number): number {
    const step = this.steps++
    if (step === this.from.length) {
      for (const name of ["from", "way", "nextStep"] as const) this[name] = roomFor(this[name], step + 1)
      this.voice = roomFor(this.voice, step + 1)
      this.stepCost = roomFor(this.stepCost, step + 1)
    }
    this.from[step] = from
    this.way[step] = way
    this.voice[step] = voice
    this.stepCost[step] = cost
    this.nextStep[step] = -1
    if (this.firstStep[to]! < 0) this.firstStep[to] = step
    else this.nextStep[this.lastStep[to]!] = step
    this.lastStep[to] = step
    return step
  }

  /** Keeps those that are not dearer than the best by more than `beam`, and not more than `width`, the cheapest first. */
  prune({ beam, width }: Breadth): void {
    const { count, cost, future, total, order } = this
    let least = Infinity
    for (let one = 0; one < count; one++) {
      total[one] = cost[one]! + future[one]!
      if (total[one]! < least) least = total[one]!
    }
    let kept = 0
    for (let one = 0; one < count; one++)
      if (count === 1 || total[one]! <= least + beam) kept = this.insert(order, one, kept)
    this.kept = Math.min(kept, width)
  }

  /** Puts one where it belongs among those that are sorted; behind those that cost as much. */
  private insert(order: Int32Array, one: number, kept: number): number {
    const { sorted } = this
    const [cost, future] = [this.cost[one]!, this.future[one]!]
    let at = kept
    while (at > 0 && sorted[at - 1]! - cost - future > 0) {
      order[at] = order[at - 1]!
      sorted[at] = sorted[at - 1]!
      at--
    }
    order[at] = one
    sorted[at] = this.total[one]!
    return kept + 1
  }

  /** Puts those that are kept down, with the steps to each. */
  putDown(trail: Trail): void {
    const { order, firstStep, nextStep, from, way, voice, stepCost } = this
    trail.beginLayer()
    for (let i = 0; i < this.kept; i++) {
      const one = order[i]!
      const cheapest = this.best[one]!
      let best = -1
      for (let step = firstStep[one]!; step >= 0; step = nextStep[step]!) {
        const at = trail.step(from[step]!, way[step]!, voice[step]!, stepCost[step]!)
        if (step === cheapest) best = at
      }
      trail.keep(this.cost[one]!, this.weight[one]!, best)
    }
    trail.endLayer()
  }
}
