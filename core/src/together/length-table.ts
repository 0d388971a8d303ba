/** How long a voice can still last from each of its nodes, and what each of these lengths costs. */
import { roomFor } from "./grown.js"
import type { Way } from "./voice-graph.js"

/** Lengths kept at one place. One that is dearer than the cheapest by more than missing the others costs is never chosen. */
const MOST_LENGTHS = 64

/** Times with costs for every node, in two long rows: a voice of thousands of notes has hundreds of thousands of them. */
export class LengthTable {
  private times = new Float64Array(1024)
  private costs = new Float64Array(1024)
  private count = 0
  private readonly from: Int32Array
  private readonly to: Int32Array
  /** By how much the entries are later and dearer than they are put down. */
  private readonly later: Float64Array
  private readonly dearer: Float64Array

  constructor(nodes: number) {
    this.from = new Int32Array(nodes)
    this.to = new Int32Array(nodes)
    this.later = new Float64Array(nodes)
    this.dearer = new Float64Array(nodes)
  }

  /** The only entry of a node. */
  put(node: number, time: number, cost: number): void {
    this.from[node] = this.count
    this.push(time, cost)
    this.to[node] = this.count
  }

  /** What the ways of a node lead to, each so much later; nothing dearer than `dearest`. */
  putMerged(node: number, ways: readonly Way[], later: (way: Way) => number, dearest: number): void {
    let all: Merged = one.clear()
    ways.forEach((way, number) => {
      const next = all === one ? other.clear() : one.clear()
      this.merge(all, next, way, later(way), number, dearest)
      all = next
    })
    all.keepCheapest()
    this.from[node] = this.count
    for (let i = 0; i < all.count; i++) this.push(all.times[i]!, all.costs[i]!)
    this.to[node] = this.count
  }

  /** Both lists in the order of time: that of `all`, and that of the node to which the way of a number leads, so much later. */
  private merge(all: Merged, into: Merged, { to, cost }: Way, by: number, number: number, dearest: number): void {
    const [later, dearer, behind] = [this.later[to]!, this.dearer[to]!, this.to[to]!]
    let at = 0
    for (let i = this.from[to]!; i < behind; i++) {
      const total = cost + (this.costs[i]! + dearer)
      if (total > dearest) continue
      const time = this.times[i]! + later + by
      while (at < all.count && all.times[at]! < time) into.take(all, at++)
      if (at === all.count || all.times[at]! > time) into.add(time, total, number)
      else into.add(time, Math.min(total, all.costs[at]!), all.ways[at++]!)
    }
    while (at < all.count) into.take(all, at++)
  }

  /** Those of another node, each so much later and dearer: most nodes have one way on, and need no room of their own. */
  putMoved(node: number, other: number, time: number, cost: number): void {
    this.from[node] = this.from[other]!
    this.to[node] = this.to[other]!
    this.later[node] = this.later[other]! + time
    this.dearer[node] = this.dearer[other]! + cost
  }

  private push(time: number, cost: number): void {
    if (this.count === this.times.length) {
      this.times = roomFor(this.times, this.count + 1)
      this.costs = roomFor(this.costs, this.count + 1)
    }
    this.times[this.count] = time
    this.costs[this.count++] = cost
  }

  has(node: number): boolean {
    return this.from[node]! < this.to[node]!
  }

  forEach(node: number, tell: (time: number, cost: number) => void): void {
    const [later, dearer] = [this.later[node]!, this.dearer[node]!]
    for (let i = this.from[node]!; i < this.to[node]!; i++) tell(this.times[i]! + later, this.costs[i]! + dearer)
  }

  get(node: number, time: number): number | undefined {
    const wanted = time - this.later[node]!
    let low = this.from[node]!
    let high = this.to[node]!
    while (low < high) {
      const middle = (low + high) >> 1
      if (this.times[middle]! < wanted) low = middle + 1
      else high = middle
    }
    return low < this.to[node]! && this.times[low] === wanted ? this.costs[low]! + this.dearer[node]! : undefined
  }
}

/** Lengths by several ways, in the order of time. */
class Merged {
  count = 0
  times = new Float64Array(8 * MOST_LENGTHS)
  costs = new Float64Array(8 * MOST_LENGTHS)
  /** The first of the ways by which it can be had. */
  ways = new Int32Array(8 * MOST_LENGTHS)
  private sorted = new Float64Array(8 * MOST_LENGTHS)

  clear(): this {
    this.count = 0
    return this
  }

  add(time: number, cost: number, way: number): void {
    const at = this.count++
    if (at === this.times.length) {
      this.times = roomFor(this.times, at + 1)
      this.costs = roomFor(this.costs, at + 1)
      this.ways = roomFor(this.ways, at + 1)
    }
    this.times[at] = time
    this.costs[at] = cost
    this.ways[at] = way
  }

  take({ times, costs, ways }: Merged, at: number): void {
    this.add(times[at]!, costs[at]!, ways[at]!)
  }

  /** Of more than can be kept the cheapest; of those that cost alike the ones that come by the first ways, and soonest. */
  keepCheapest(): void {
    const { count, costs, ways } = this
    if (count <= MOST_LENGTHS) return
    this.sorted = roomFor(this.sorted, count)
    const sorted = this.sorted.subarray(0, count)
    sorted.set(costs.subarray(0, count))
    sorted.sort()
    const limit = sorted[MOST_LENGTHS - 1]!
    const room = MOST_LENGTHS - sorted.indexOf(limit)
    const atLimit = Array.from({ length: count }, (_, i) => i).filter(i => costs[i] === limit)
    atLimit.sort((a, b) => ways[a]! - ways[b]! || a - b)
    const kept = new Set(atLimit.slice(0, room))
    this.count = 0
    for (let i = 0; i < count; i++) if (costs[i]! < limit || kept.has(i)) this.take(this, i)
  }
}

/** Used for one node after the other. */
const [one, other] = [new Merged(), new Merged()]
