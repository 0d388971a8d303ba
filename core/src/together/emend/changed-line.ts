/**
 * What a voice costs after a small change, without going through all of it again: up to the change and after it its graph
 * is as it was, and what it costs to get there, and from there to the end, is known beforehand.
 */
import type { BuiltBlock, VoiceGraph } from "../voice-graph.js"
import type { Backdrop } from "../backdrop.js"
import {
  atEnd,
  costOf,
  forward,
  leastOf,
  onward,
  totalOf,
  type Costs,
  type Forward,
  type Line,
  type Partings,
} from "./laid.js"

/** A voice as it stands, prepared for changes. */
export interface Prepared {
  readonly line: Line
  readonly backdrop: Backdrop
  readonly partings: Partings
  readonly there: Forward
  /** By node and time, partings allowed at the node: the least cost from there to the end. */
  readonly left: readonly Costs[]
}

/** `times`: which times of each node are to be known. */
export function prepared(line: Line, backdrop: Backdrop, partings: Partings, times: Forward): Prepared {
  return {
    line,
    backdrop,
    partings,
    there: forward(line, backdrop, partings),
    left: leftOf(line, backdrop, partings, times),
  }
}

function leftOf(line: Line, backdrop: Backdrop, { price, by = [] }: Partings, times: Forward): Costs[] {
  const { graph, order } = line
  const left = graph.ways.map((): Costs => new Map())
  for (const node of order.toReversed()) {
    const ways = graph.ways[node]!
    const plain: Costs = new Map()
    for (const time of times.after[node]!.keys()) {
      let least = ways.length === 0 ? atEnd(line, backdrop, time) : Infinity
      for (const way of ways) {
        const further = left[way.to]!.get(time + way.lasts)
        if (further !== undefined) least = Math.min(least, further + costOf(line, backdrop, way, time))
      }
      if (least < Infinity) plain.set(time, least)
    }
    left[node] = new Map(plain)
    for (const [time, cost] of plain)
      for (const delta of by) {
        const other = plain.get(time + delta)
        if (other !== undefined && other + price < cost)
          left[node].set(time, Math.min(left[node].get(time)!, other + price))
      }
  }
  return left
}

/** Cost of the cheapest way through the changed voice. */
export function totalAfter(before: Prepared, after: Line): number {
  const [a, b] = [before.line.graph, after.graph]
  if (!waitAlike(a, b)) return totalOf(after, before.backdrop, forward(after, before.backdrop, before.partings))
  const head = commonHead(before.line, after)
  if (head === a.blocks.length && head === b.blocks.length) return totalOf(after, before.backdrop, before.there)
  const tail = commonTail(before.line, after, head)
  const first = b.blocks[head]?.node ?? b.ways.findIndex(ways => ways.length === 0)
  const oldEnd = nodeAt(before.line, a.blocks.length - tail)
  const newEnd = nodeAt(after, b.blocks.length - tail)
  const reached = middle(before, after, first, newEnd)
  const total = joined(reached, before.left[oldEnd]!)
  if (total !== undefined) return total + b.cost
  return totalOf(after, before.backdrop, forward(after, before.backdrop, before.partings))
}

/** What is lost or sung again delays them by as much; which of their figures it does may be another. */
function waitAlike({ delays: a }: VoiceGraph, { delays: b }: VoiceGraph): boolean {
  const [one, other] = [[...a.values()], [...b.values()]]
  return one.length === other.length && one.every((delay, i) => delay === other[i])
}

/** The node at which a block begins, or the last of the graph. */
function nodeAt({ graph, order }: Line, block: number): number {
  return graph.blocks[block]?.node ?? order.at(-1)!
}

/** What it costs to get to the node where the voice goes on as it did. */
function middle({ there, backdrop, partings }: Prepared, after: Line, first: number, end: number): Costs {
  const { figureAt, ways } = after.graph
  const nodes = after.order.filter(
    node => node !== end && figureAt[node]! >= figureAt[first]! && figureAt[node]! < figureAt[end]!,
  )
  const before: Costs[] = []
  for (const node of nodes) before[node] = new Map()
  before[end] = new Map()
  before[first] = new Map(there.before[first]!)
  onward(after, backdrop, partings, nodes, { before, after: new Array<Costs>(ways.length) })
  return before[end]
}

/** Undefined where a time is not known from which the cheapest way might go on. */
function joined(reached: Costs, left: Costs): number | undefined {
  let total = Infinity
  let unknown = Infinity
  for (const [time, cost] of reached) {
    const further = left.get(time)
    if (further === undefined) unknown = Math.min(unknown, cost)
    else total = Math.min(total, cost + further)
  }
  return total <= unknown + leastOf(left) ? total : undefined
}

function commonHead(before: Line, after: Line): number {
  const [a, b] = [before.graph.blocks, after.graph.blocks]
  let n = 0
  while (n < a.length && n < b.length && isSame(before, a[n]!, after, b[n]!) && a[n]!.node === b[n]!.node) n++
  return n
}

function commonTail(before: Line, after: Line, head: number): number {
  const [a, b] = [before.graph.blocks, after.graph.blocks]
  let n = 0
  const most = Math.min(a.length, b.length) - head
  while (n < most && isSame(before, a.at(-1 - n)!, after, b.at(-1 - n)!)) n++
  return n
}

/** The same block, measured alike. */
function isSame(before: Line, a: BuiltBlock, after: Line, b: BuiltBlock): boolean {
  if (a.block !== b.block || a.closes !== b.closes || a.scale.num !== b.scale.num || a.scale.den !== b.scale.den)
    return false
  const [x, y] = [before.graph.grids[a.figure], after.graph.grids[b.figure]]
  return x?.strong === y?.strong && x?.medium === y?.medium && before.origins[a.figure] === after.origins[b.figure]
}
