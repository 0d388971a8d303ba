/**
 * One voice laid against the others, which are fixed: the cheapest way through its graph (rules, intervals, arrival at
 * the finals) when it may also part from them for no known reason here and there, at a price. Where it would pay that
 * price is where a slip is to be looked for; a change of the page that mends the slip saves it.
 */
import type { Rational } from "../../base/index.js"
import type { Strength } from "../../counterpoint/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import { commonUnit } from "../../score/units.js"
import type { Reading } from "../../reading/index.js"
import { ByTime } from "./by-time.js"
import { keptCosts, type KeptCosts } from "./kept-costs.js"
import { PARTS, shapeOf, type Metre, type Slot } from "./metre.js"
import { graphOf, type Grid, type Scale, type VoiceGraph, type Way } from "../voice-graph.js"
import { strengthAt, type Backdrop, type Factor } from "../backdrop.js"

/** Some or all figures of a voice with what the others' weights ask of them. Times in ticks of the common unit. */
export interface Part {
  readonly graph: Pick<VoiceGraph, "ways" | "figureAt" | "tones" | "grids" | "final">
  /** Nodes, each after those that lead to it. */
  readonly order: readonly number[]
  /** By figure: when its stretch began, from where its measures are counted. */
  readonly origins: readonly number[]
  /** By figure: what it is in a measure. */
  readonly shapes: readonly string[]
  readonly metre: Metre | undefined
}

/** A whole voice. */
export interface Line extends Part {
  readonly graph: VoiceGraph
}

/** The scale of each stretch of the voice. */
export function scalesIn(worked: WorkedVoice, factor: Factor): Scale[] {
  const by = factor(worked.reading)
  return worked.settled.map(({ stretch: { measuring } }) => ({
    num: by.num * measuring.ratio.den,
    den: by.den * measuring.ratio.num,
  }))
}

/** `after`: what is sung after the part itself, in its unit, where that is not as it was read before. */
export function lineOf(worked: WorkedVoice, backdrop: Backdrop, factor: Factor, metre?: Metre, after?: Rational): Line {
  const graph = withDelays(graphOf(worked, scalesIn(worked, factor), after))
  const order = inOrder(graph)
  const shapes = worked.settled.flatMap(({ stretch }) => stretch.figures.map(shapeOf))
  return { graph, order, origins: originsOf(graph, order, backdrop), shapes, metre }
}

/** The nodes, each after those that lead to it. */
export const inOrder = ({ ways, figureAt }: Pick<VoiceGraph, "ways" | "figureAt">): number[] =>
  ways.map((_, node) => node).sort((a, b) => figureAt[a]! - figureAt[b]!)

function withDelays(graph: VoiceGraph): VoiceGraph {
  return graph.delays.size === 0 ? graph : { ...graph, ways: delayed(graph.ways, graph.delays) }
}

/** What is lost or sung again before a figure is time of the one before it; `from`: number in the voice of the first figure. */
export function delayed(ways: VoiceGraph["ways"], delays: VoiceGraph["delays"], from = 0): VoiceGraph["ways"] {
  if (delays.size === 0) return ways
  const later = (way: Way): Way => {
    const delay = delays.get(from + way.figure + 1)
    return delay === undefined ? way : { ...way, lasts: way.lasts + delay }
  }
  return ways.map(all => all.map(later))
}

/** Where each stretch begins: with a change of sign in the other voices, where one is near, else as the voice counts by itself. */
function originsOf(graph: VoiceGraph, order: readonly number[], backdrop: Backdrop): number[] {
  const origins: number[] = []
  let origin = 0
  let usual: number[] | undefined
  for (let figure = 0; figure < graph.figures; figure++) {
    if (graph.opens[figure] && figure > 0) {
      usual ??= usualTimes({ graph, order })
      origin = originNear(usual[graph.figureAt.indexOf(figure)]!, graph.grids[figure]!, backdrop)
    }
    origins.push(origin)
  }
  return origins
}

/** Where a stretch begins that by itself would begin then. */
export const originNear = (own: number, { strong }: Grid, backdrop: Backdrop): number =>
  backdrop.changeNear(own, NEAR_CHANGE * strong)

/** A change of sign within so many measures is the same as the voice's own. */
const NEAR_CHANGE = 2

/** By node: its time when the voice is read by itself. */
export function usualTimes({ graph, order }: Pick<Part, "graph" | "order">): number[] {
  const least = graph.ways.map(() => Infinity)
  const times = graph.ways.map(() => 0)
  least[0] = 0
  for (const node of order)
    for (const way of graph.ways[node]!) {
      const cost = least[node]! + way.cost
      if (cost >= least[way.to]!) continue
      least[way.to] = cost
      times[way.to] = times[node]! + way.lasts
    }
  return times
}

/** Where in its measure the figure begins. */
export function strengthOf({ graph, origins }: Part, figure: number, time: number): Strength {
  const { strong, medium } = graph.grids[figure]!
  return strengthAt(time - origins[figure]!, strong, medium)
}

/** What a way costs from a time on: its rule, what it sounds, and for the final where it begins. */
export function costOf(line: Part, backdrop: Backdrop, way: Way, time: number): number {
  const kept = keptCosts(backdrop, line.metre)
  return costIn(kept, line, backdrop, way, kindOf(kept, line, way), time)
}

/** Which kind of figure a way is, for asking `costIn` at many times. */
export function kindOf(kept: KeptCosts, { graph, origins, shapes }: Part, { figure, lasts }: Way): number {
  const { strong, medium } = graph.grids[figure]!
  const isFinal = figure === graph.final
  const [tone, origin, shape] = [graph.tones[figure]!, origins[figure]!, shapes[figure]!]
  return kept.kindOf({ tone, lasts, isFinal, strong, medium, origin, shape })
}

/** The same as `costOf`; `kept`: of the backdrop and the line's measure. */
export function costIn(kept: KeptCosts, line: Part, backdrop: Backdrop, way: Way, kind: number, time: number): number {
  let at = kept.find(kind, time)
  if (at < 0) at = workedOut(kept, line, backdrop, way, kind, time)
  return way.cost + kept.costs[at]!
}

function workedOut(
  kept: KeptCosts,
  line: Part,
  backdrop: Backdrop,
  { figure, lasts }: Way,
  kind: number,
  time: number,
): number {
  const { graph, metre } = line
  const strength = strengthOf(line, figure, time)
  const isFinal = figure === graph.final
  const end = isFinal ? Math.max(backdrop.end, time + lasts) : time + lasts
  const sound = backdrop.cost(graph.tones[figure]!, time, end, strength)
  const place = metre === undefined ? 0 : metre.cost(line.shapes[figure]!, slotOf(line, figure, time, strength))
  return kept.put(kind, time, sound + place + (isFinal ? backdrop.missed(time) : 0))
}

/** The same, and whether smaller notes begin there too. */
export function slotOf({ graph, origins }: Part, figure: number, time: number, strength: Strength): Slot {
  if (strength > 0) return strength
  const { medium } = graph.grids[figure]!
  for (const [slot, parts] of PARTS) if ((parts * (time - origins[figure]!)) % medium === 0) return slot
  return -2
}

/** A voice that closes with a rest has to end where the others begin or leave their finals. */
export function atEnd({ graph }: Part, backdrop: Backdrop, time: number): number {
  if (graph.final >= 0 || time >= backdrop.end) return 0
  return backdrop.missed(time)
}

/** Where to the voice may part from the others, and at what price: by some amounts, or to some times of each node. */
export interface Partings {
  readonly price: number
  readonly by?: readonly number[]
  readonly to?: (node: number) => Iterable<number>
}

export const NO_PARTING: Partings = { price: Infinity }

/** By node and time: the least cost to get there without a parting at this very node, and with one allowed. */
export interface Forward {
  readonly before: readonly ByTime[]
  readonly after: readonly ByTime[]
}

/** States dearer than the cheapest at their node by more than this lead nowhere. */
const DEAREST = 40
/** Where the voice may part by some amounts, a way that parts three times more than another need not be followed: in prices of one. */
const MOST_PARTED = 2.5

/** `dearest`: states dearer than the cheapest at their node by more than this lead nowhere. */
export function forward(line: Line, backdrop: Backdrop, partings: Partings, dearest = dearestIn(partings)): Forward {
  const { graph, order } = line
  const before = graph.ways.map(() => new ByTime())
  const after = graph.ways.map(() => new ByTime())
  before[0]!.add(0, 0)
  for (const node of order) {
    after[node] = withJumps(before[node]!, node, partings, after[node]!)
    onward(line, backdrop, node, after[node], before, dearest)
  }
  return { before, after }
}

export const dearestIn = ({ by, price }: Partings): number =>
  by?.length ? Math.min(DEAREST, MOST_PARTED * price) : DEAREST

/** Goes on from a node, from what it costs to be there with partings, to those that its ways lead to. */
export function onward(
  line: Part,
  backdrop: Backdrop,
  node: number,
  { times, costs, size }: ByTime,
  before: readonly ByTime[],
  dearest: number,
): void {
  const kept = keptCosts(backdrop, line.metre)
  let limit = Infinity
  for (let i = 0; i < size; i++) if (costs[i]! < limit) limit = costs[i]!
  limit += dearest
  for (const way of line.graph.ways[node]!) {
    const next = before[way.to]!
    const kind = kindOf(kept, line, way)
    for (let i = 0; i < size; i++) {
      if (costs[i]! > limit) continue
      const time = times[i]!
      next.lower(time + way.lasts, costs[i]! + costIn(kept, line, backdrop, way, kind, time))
    }
  }
}

/** What it costs to be at a node where the voice may part there; put down in `all`, if there is need. */
export function withJumps(costs: ByTime, node: number, { price, by, to }: Partings, all: ByTime): ByTime {
  if (price === Infinity || costs.size === 0 || (to === undefined && !by?.length)) return costs
  all.copy(costs)
  if (to) {
    const jumped = costs.least() + price
    for (const time of to(node)) all.lower(time, jumped)
  }
  if (by)
    for (let i = 0; i < costs.size; i++)
      for (const delta of by) {
        const time = costs.times[i]! + delta
        if (time >= 0) all.lower(time, costs.costs[i]! + price)
      }
  return all
}

/** Cost of the cheapest way through the whole voice. */
export function totalOf(line: Line, backdrop: Backdrop, { after }: Forward): number {
  return leastAtEnd(line, backdrop, after[line.order.at(-1)!]!) + line.graph.cost
}

/** Of what it costs to be at the end at some times: the least, with what it costs to end then. */
export function leastAtEnd(line: Part, backdrop: Backdrop, { times, costs, size }: ByTime): number {
  let least = Infinity
  for (let i = 0; i < size; i++) least = Math.min(least, costs[i]! + atEnd(line, backdrop, times[i]!))
  return least
}

/**
 * Of each time at a node: the least cost from there on, by what it costs from the nodes that follow, no more than the limit of each;
 * `tell` is told of each.
 */
export function backFrom(
  line: Line,
  backdrop: Backdrop,
  node: number,
  from: ByTime,
  { costs: after, limits }: Backward,
  tell: (time: number, cost: number) => void,
): void {
  const kept = keptCosts(backdrop, line.metre)
  const ways = line.graph.ways[node]!
  const kinds = ways.map(way => kindOf(kept, line, way))
  for (let i = 0; i < from.size; i++) {
    const time = from.times[i]!
    let least = ways.length === 0 ? atEnd(line, backdrop, time) : Infinity
    for (let w = 0; w < ways.length; w++) {
      const way = ways[w]!
      const further = after[way.to]!.get(time + way.lasts)
      if (further === undefined) continue
      const cost = Math.min(further, limits[way.to]!) + costIn(kept, line, backdrop, way, kinds[w]!, time)
      if (cost < least) least = cost
    }
    if (least < Infinity) tell(time, least)
  }
}

/** By node and time: the least cost from there to the end without a parting at this very node, and by node: with one. */
export interface Backward {
  readonly costs: readonly ByTime[]
  readonly limits: readonly number[]
}

/** Of the times `forward` reached. */
export function backward(line: Line, backdrop: Backdrop, { after }: Forward, { price }: Partings): Backward {
  const costs = line.graph.ways.map(() => new ByTime())
  const limits = line.graph.ways.map(() => Infinity)
  for (const node of line.order.toReversed()) {
    const here = costs[node]!
    backFrom(line, backdrop, node, after[node]!, { costs, limits }, (time, cost) => here.add(time, cost))
    limits[node] = here.least() + price
  }
  return { costs, limits }
}

/** The common unit of these readings as a factor, whatever other readings it is asked of. */
export function factorFor(readings: readonly Reading[]): Factor {
  const { factor } = commonUnit(readings)
  return factor
}
