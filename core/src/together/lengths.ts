/**
 * How long voices can be: for each place of a voice, what every remaining time up to its final costs. That part of
 * reading together is exact: which common length is the cheapest for all is known before the search begins, and the
 * search never follows what can no longer reach it.
 */
import { MISSED_MEETING } from "../counterpoint/index.js"
import type { VoiceGraph } from "./voice-graph.js"

/** Lengths kept at one place. One that is dearer than the cheapest by more than missing the others costs is never chosen. */
const MOST_LENGTHS = 64
/** Common lengths that the search bears in mind. */
const MOST_GOALS = 6

/** Times with costs for every node, in two long rows: a voice of thousands of notes has hundreds of thousands of them. */
class Table {
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

  /** The entries of a node, in the order of time; they are put down once. */
  put(node: number, entries: Iterable<readonly [time: number, cost: number]>): void {
    this.from[node] = this.count
    for (const [time, cost] of entries) this.push(time, cost)
    this.to[node] = this.count
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
      this.times = grown(this.times)
      this.costs = grown(this.costs)
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

function grown(row: Float64Array): Float64Array<ArrayBuffer> {
  const larger = new Float64Array(2 * row.length)
  larger.set(row)
  return larger
}

export interface Lengths {
  /** By node: time up to the final's onset, and what it costs. Empty where the voice closes with a rest. */
  readonly left: Pick<Table, "get" | "has" | "forEach">
  /** By node: the cheapest way to the end. */
  readonly least: readonly number[]
}

const known = new WeakMap<VoiceGraph, Lengths>()

/** Worked out once for each graph: it is asked again for every search that the voice is part of. */
export function lengthsOf(graph: VoiceGraph): Lengths {
  let lengths = known.get(graph)
  if (lengths === undefined) known.set(graph, (lengths = workedOut(graph)))
  return lengths
}

function workedOut(graph: VoiceGraph): Lengths {
  const { ways, figureAt, final } = graph
  const delayOf = (node: number): number => graph.delays.get(figureAt[node]!) ?? 0
  const least = ways.map(() => Infinity)
  const left = new Table(ways.length)
  const order = ways.map((_, node) => node).sort((a, b) => figureAt[b]! - figureAt[a]!)
  for (const node of order) {
    const own = ways[node]!
    if (own.length === 0) least[node] = 0
    for (const way of own) least[node] = Math.min(least[node]!, way.cost + least[way.to]!)
    if (final < 0) continue
    if (figureAt[node] === final) left.put(node, [[0, least[node]!]])
    else if (own.length === 1) left.putMoved(node, own[0]!.to, own[0]!.lasts + delayOf(own[0]!.to), own[0]!.cost)
    else left.put(node, lengthsAt(own, left, delayOf, least[node]! + MISSED_MEETING))
  }
  return { left, least }
}

function lengthsAt(
  ways: VoiceGraph["ways"][number],
  left: Lengths["left"],
  delayOf: (node: number) => number,
  dearest: number,
): [number, number][] {
  const all = new Map<number, number>()
  for (const { to, lasts, cost } of ways) {
    const later = lasts + delayOf(to)
    left.forEach(to, (time, further) => {
      const total = cost + further
      if (total <= dearest && total < (all.get(time + later) ?? Infinity)) all.set(time + later, total)
    })
  }
  const found = [...all]
  if (found.length > MOST_LENGTHS) {
    found.sort((a, b) => a[1] - b[1])
    found.length = MOST_LENGTHS
  }
  return found.sort((a, b) => a[0] - b[0])
}

/** What is still to be paid from a node, if the final has to begin `time` later: the voice may also miss it, at a price. */
export function toGoal({ left, least }: Lengths, node: number, time: number): number {
  const missed = least[node]! + MISSED_MEETING
  if (!left.has(0)) return least[node]!
  const cost = left.get(node, time)
  return cost === undefined ? missed : Math.min(cost, missed)
}

/** Onsets of the final at which the voices could meet most cheaply. */
export function goalsOf(all: readonly Lengths[]): number[] {
  const bound = all.filter(one => one.left.has(0))
  const times = new Set<number>()
  for (const { left } of bound) left.forEach(0, time => times.add(time))
  const priced = [...times].map(time => ({ time, cost: bound.reduce((sum, one) => sum + toGoal(one, 0, time), 0) }))
  priced.sort((a, b) => a.cost - b.cost || a.time - b.time)
  return priced
    .filter(one => one.cost <= priced[0]!.cost + MISSED_MEETING)
    .slice(0, MOST_GOALS)
    .map(one => one.time)
}
