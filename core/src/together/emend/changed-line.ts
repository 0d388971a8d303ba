/**
 * What a voice costs after a small change, without going through all of it again: up to the change and after it its graph
 * is as it was, and what it costs to get there, and from there to the end, is known beforehand.
 */
import type { Rational } from "../../base/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import type { Backdrop, Factor } from "../backdrop.js"
import { figureOf, type PlacedBlock } from "../block-ways.js"
import { delaysOf, sungLater, type VoiceGraph } from "../voice-graph.js"
import { ByTime } from "./by-time.js"
import {
  backFrom,
  dearestIn,
  forward,
  leastAtEnd,
  lineOf,
  onward,
  scalesIn,
  totalOf,
  withJumps,
  type Forward,
  type Line,
  type Part,
  type Partings,
} from "./laid.js"
import { ChangedVoice, usualByFigure, type Piece } from "./piece.js"
import { isLaidAlike } from "./same-block.js"

/** A voice as it stands, prepared for changes. */
export interface Prepared {
  readonly line: Line
  readonly backdrop: Backdrop
  readonly partings: Partings
  readonly there: Forward
  /** By node and time, partings allowed at the node: the least cost from there to the end. */
  readonly left: readonly ByTime[]
  /** By figure: when the voice by itself comes to it. */
  readonly usual: readonly number[]
}

/** `times`: which times of each node are to be known. */
export function prepared(line: Line, backdrop: Backdrop, partings: Partings, times: Forward): Prepared {
  return {
    line,
    backdrop,
    partings,
    there: forward(line, backdrop, partings),
    left: leftOf(line, backdrop, partings, times),
    usual: usualByFigure(line),
  }
}

function leftOf(line: Line, backdrop: Backdrop, { price, by = [] }: Partings, times: Forward): ByTime[] {
  const { graph, order } = line
  const left = graph.ways.map(() => new ByTime())
  const limits = graph.ways.map(() => Infinity)
  const plain = new ByTime()
  for (const node of order.toReversed()) {
    plain.clear()
    backFrom(line, backdrop, node, times.after[node]!, { costs: left, limits }, (time, cost) => plain.add(time, cost))
    const here = left[node]!.copy(plain)
    for (let i = 0; i < plain.size; i++)
      for (const delta of by) {
        const other = plain.get(plain.times[i]! + delta)
        if (other !== undefined && other + price < plain.costs[i]!) here.lower(plain.times[i]!, other + price)
      }
  }
  return left
}

/**
 * Cost of the cheapest way through the changed voice, counted by the common unit as before; `after`: what is sung after the part
 * itself, where that is not as it was read before. Only the blocks that are not as they were are laid out.
 */
export function totalAfter(before: Prepared, worked: WorkedVoice, factor: Factor, after?: Rational): number {
  const { line, backdrop } = before
  const scales = scalesIn(worked, factor)
  const delays = delaysOf(worked, scales, sungLater(worked, after))
  if (!waitAlike(line.graph.delays, delays)) {
    const whole = lineOf(worked, backdrop, factor, line.metre, after)
    return totalOf(whole, backdrop, forward(whole, backdrop, before.partings))
  }
  const changed = new ChangedVoice(worked, scales, delays)
  const head = commonHead(line, changed)
  if (head === line.graph.blocks.length && head === changed.placed.length) return totalOf(line, backdrop, before.there)
  return withPiece(before, changed, head)
}

/** The cheapest way through the blocks that are not as they were, and on to the end as before. */
function withPiece(before: Prepared, changed: ChangedVoice, head: number): number {
  const { line, backdrop } = before
  const { blocks } = line.graph
  const like = commonTail(line, changed, head)
  const own = (piece: Piece): ((figure: number) => number) => usualIn(before, piece, head, like)
  let piece = changed.piece(head, changed.placed.length - like, line.metre)
  const origins = changed.origins(own(piece), backdrop)
  const tail = countedAlike(line, changed, origins, like)
  if (tail < like) piece = changed.piece(head, changed.placed.length - tail, line.metre)
  const part = changed.counted(piece, origins)
  const from = new ByTime().copy(before.there.before[nodeAt(line, head)]!)
  const reached = through(before, part, from, 0, piece.last)
  const total = goneOn(before, part, reached, nodeAt(line, blocks.length - tail))
  return total + rulesOf(line, piece, head, tail)
}

/** When the changed voice by itself comes to a figure; `tail`: the last blocks, which are as they were. */
function usualIn({ line, usual }: Prepared, piece: Piece, head: number, tail: number): (figure: number) => number {
  const begins = usual[figureAt(line, head)]!
  const ends = figureAt(line, line.graph.blocks.length - tail)
  let own: readonly number[] | undefined
  return figure => {
    if (figure <= piece.first) return usual[figure]!
    own ??= usualByFigure(piece.part)
    const at = figure - piece.first
    if (at <= piece.count) return begins + own[at]!
    return begins + own[piece.count]! + usual[figure - piece.first - piece.count + ends]! - usual[ends]!
  }
}

/** What the voice's own cheapest way costs, added up in the order of the blocks. */
function rulesOf({ graph: { blocks } }: Line, piece: Piece, head: number, tail: number): number {
  let cost = 0
  for (let i = 0; i < head; i++) cost += blocks[i]!.cost
  for (const own of piece.costs) cost += own
  for (let i = blocks.length - tail; i < blocks.length; i++) cost += blocks[i]!.cost
  return cost
}

/** What is lost or sung again delays them by as much; which of their figures it does may be another. */
function waitAlike(a: VoiceGraph["delays"], b: VoiceGraph["delays"]): boolean {
  if (a.size !== b.size) return false
  const [one, other] = [[...a.values()], [...b.values()]]
  return one.every((delay, i) => delay === other[i])
}

/** The node at which a block begins, or the last of the graph. */
function nodeAt({ graph, order }: Line, block: number): number {
  return graph.blocks[block]?.node ?? order.at(-1)!
}

/** The figure at which a block begins, or the number of all. */
const figureAt = (line: Line, block: number): number => line.graph.figureAt[nodeAt(line, block)]!

/** Lists that are used for one change after the other. */
const lists: ByTime[] = []
const jumps = new ByTime()

/** What it costs to get from one node, where that costs so much, to another. */
function through({ backdrop, partings }: Prepared, part: Part, from: ByTime, first: number, end: number): ByTime {
  if (first === end) return from
  const { figureAt } = part.graph
  const reached = new ByTime()
  const nodes = part.order.filter(
    node => node !== end && figureAt[node]! >= figureAt[first]! && figureAt[node]! < figureAt[end]!,
  )
  const before: ByTime[] = []
  nodes.forEach((node, i) => (before[node] = (lists[i] ??= new ByTime()).clear()))
  before[first] = from
  before[end] = reached
  const dearest = dearestIn(partings)
  for (const node of nodes)
    onward(part, backdrop, node, withJumps(before[node]!, node, partings, jumps), before, dearest)
  return reached
}

/** The least cost to the end from a node where the voice goes on as it did; `part`: what was laid before it. */
function goneOn(before: Prepared, part: Part, { times, costs, size }: ByTime, from: number): number {
  const left = before.left[from]!
  let total = Infinity
  for (let i = 0; i < size; i++) total = Math.min(total, costs[i]! + (left.get(times[i]!) ?? Infinity))
  // times that it never had there are gone on from only if it may become cheaper so
  const least = left.least()
  const others = new ByTime()
  for (let i = 0; i < size; i++)
    if (costs[i]! + least < total && left.get(times[i]!) === undefined) others.add(times[i]!, costs[i]!)
  return others.size === 0 ? total : Math.min(total, restOf(before, part, others, from))
}

function restOf(before: Prepared, part: Part, reached: ByTime, from: number): number {
  const { line, backdrop, partings } = before
  const end = line.order.at(-1)!
  const last = through(before, line, reached, from, end)
  return leastAtEnd(from === end ? part : line, backdrop, withJumps(last, end, partings, jumps))
}

function commonHead(before: Line, changed: ChangedVoice): number {
  const { blocks } = before.graph
  const { placed } = changed
  let n = 0
  while (n < blocks.length && n < placed.length && isSame(before, blocks[n]!, changed, placed[n]!)) n++
  return n
}

function commonTail(before: Line, changed: ChangedVoice, head: number): number {
  const { blocks } = before.graph
  const { placed } = changed
  let n = 0
  const most = Math.min(blocks.length, placed.length) - head
  while (n < most && isSame(before, blocks.at(-1 - n)!, changed, placed.at(-1 - n)!)) n++
  return n
}

/** Of so many last blocks that are as they were those whose measures are counted from where they were. */
function countedAlike(before: Line, { placed }: ChangedVoice, origins: readonly number[], tail: number): number {
  const { blocks } = before.graph
  let n = 0
  while (n < tail && before.origins[figureOf(blocks.at(-1 - n)!)] === origins[placed.at(-1 - n)!.stretch]) n++
  return n
}

/** A block as it was, measured alike. */
function isSame(before: Line, a: PlacedBlock, changed: ChangedVoice, b: PlacedBlock): boolean {
  if (a.closes !== b.closes || a.scale.num !== b.scale.num || a.scale.den !== b.scale.den) return false
  const [x, y] = [before.graph.grids[figureOf(a)], changed.grids[b.stretch]]
  if (x?.strong !== y?.strong || x?.medium !== y?.medium) return false
  return a.block === b.block || (isLaidAlike(a.block, b.block) && changed.soundsAs(before, a, b))
}
