/**
 * What a voice costs after a small change, without going through all of it again: up to the change and after it its graph
 * is as it was, and what it costs to get there, and from there to the end, is known beforehand.
 */
import type { BuiltBlock, VoiceGraph } from "../voice-graph.js"
import type { Backdrop } from "../backdrop.js"
import { ByTime } from "./by-time.js"
import {
  backFrom,
  forward,
  leastAtEnd,
  onward,
  totalOf,
  withJumps,
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
  readonly left: readonly ByTime[]
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

function leftOf(line: Line, backdrop: Backdrop, { price, by = [] }: Partings, times: Forward): ByTime[] {
  const { graph, order } = line
  const left = graph.ways.map(() => new ByTime())
  const plain = new ByTime()
  for (const node of order.toReversed()) {
    plain.clear()
    backFrom(line, backdrop, node, times.after[node]!, left, (time, cost) => plain.add(time, cost))
    const here = left[node]!.copy(plain)
    for (let i = 0; i < plain.size; i++)
      for (const delta of by) {
        const other = plain.get(plain.times[i]! + delta)
        if (other !== undefined && other + price < plain.costs[i]!) here.lower(plain.times[i]!, other + price)
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
  const from = new ByTime().copy(before.there.before[first]!)
  const reached = through(before, after, from, first, newEnd)
  const total = joined(reached, before.left[oldEnd]!)
  if (total !== undefined) return total + b.cost
  return restOf(before, after, reached, newEnd)
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

/** Lists that are used for one change after the other. */
const lists: ByTime[] = []
const jumps = new ByTime()

/** What it costs to get from one node, where that costs so much, to another, where the voice goes on as it did. */
function through({ backdrop, partings }: Prepared, after: Line, from: ByTime, first: number, end: number): ByTime {
  if (first === end) return from
  const { figureAt } = after.graph
  const reached = new ByTime()
  const nodes = after.order.filter(
    node => node !== end && figureAt[node]! >= figureAt[first]! && figureAt[node]! < figureAt[end]!,
  )
  const before: ByTime[] = []
  nodes.forEach((node, i) => (before[node] = (lists[i] ??= new ByTime()).clear()))
  before[first] = from
  before[end] = reached
  for (const node of nodes) onward(after, backdrop, node, withJumps(before[node]!, node, partings, jumps), before)
  return reached
}

/** Goes on to the end from a node where the voice goes on as it did, at times that it never had there. */
function restOf(before: Prepared, after: Line, reached: ByTime, from: number): number {
  const end = after.order.at(-1)!
  const last = through(before, after, reached, from, end)
  return leastAtEnd(after, before.backdrop, withJumps(last, end, before.partings, jumps))
}

/** Undefined where a time is not known from which the cheapest way might go on. */
function joined({ times, costs, size }: ByTime, left: ByTime): number | undefined {
  let total = Infinity
  let unknown = Infinity
  for (let i = 0; i < size; i++) {
    const further = left.get(times[i]!)
    if (further === undefined) unknown = Math.min(unknown, costs[i]!)
    else total = Math.min(total, costs[i]! + further)
  }
  return total <= unknown + left.least() ? total : undefined
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
