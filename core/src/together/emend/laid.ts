/**
 * One voice laid against the others, which are fixed: the cheapest way through its graph (rules, intervals, arrival at
 * the finals) when it may also part from them for no known reason here and there, at a price. Where it would pay that
 * price is where a slip is to be looked for; a change of the page that mends the slip saves it.
 */
import type { Rational } from "../../base/index.js"
import type { Strength, Tone } from "../../counterpoint/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import { commonUnit } from "../../score/units.js"
import type { Reading } from "../../reading/index.js"
import { PARTS, shapeOf, type Metre, type Slot } from "./metre.js"
import { graphOf, type VoiceGraph, type Way } from "../voice-graph.js"
import { strengthAt, type Backdrop, type Factor } from "../backdrop.js"

/** A voice's graph with what the others' weights ask of its notes. Times in ticks of the common unit. */
export interface Line {
  readonly graph: VoiceGraph
  /** Nodes, each after those that lead to it. */
  readonly order: readonly number[]
  /** By figure: when its stretch began, from where its measures are counted. */
  readonly origins: readonly number[]
  /** By figure: what it is in a measure. */
  readonly shapes: readonly string[]
  readonly metre: Metre | undefined
}

/** `after`: what is sung after the part itself, in its unit, where that is not as it was read before. */
export function lineOf(worked: WorkedVoice, backdrop: Backdrop, factor: Factor, metre?: Metre, after?: Rational): Line {
  const by = factor(worked.reading)
  const scales = worked.settled.map(({ stretch: { measuring } }) => ({
    num: by.num * measuring.ratio.den,
    den: by.den * measuring.ratio.num,
  }))
  const graph = withDelays(graphOf(worked, scales, after))
  const order = graph.ways.map((_, node) => node).sort((a, b) => graph.figureAt[a]! - graph.figureAt[b]!)
  const shapes = worked.settled.flatMap(({ stretch }) => stretch.figures.map(shapeOf))
  return { graph, order, origins: originsOf(graph, order, backdrop), shapes, metre }
}

/** What is lost or sung again before a figure is time of the one before it. */
function withDelays(graph: VoiceGraph): VoiceGraph {
  const { delays } = graph
  if (delays.size === 0) return graph
  const later = (way: Way): Way => {
    const delay = delays.get(way.figure + 1)
    return delay === undefined ? way : { ...way, lasts: way.lasts + delay }
  }
  return { ...graph, ways: graph.ways.map(ways => ways.map(later)) }
}

/** Where each stretch begins: with a change of sign in the other voices, where one is near, else as the voice counts by itself. */
function originsOf(graph: VoiceGraph, order: readonly number[], backdrop: Backdrop): number[] {
  const origins: number[] = []
  let origin = 0
  let usual: number[] | undefined
  for (let figure = 0; figure < graph.figures; figure++) {
    if (graph.opens[figure] && figure > 0) {
      usual ??= usualTimes({ graph, order })
      const own = usual[graph.figureAt.indexOf(figure)]!
      origin = backdrop.changeNear(own, NEAR_CHANGE * graph.grids[figure]!.strong)
    }
    origins.push(origin)
  }
  return origins
}

/** A change of sign within so many measures is the same as the voice's own. */
const NEAR_CHANGE = 2

/** By node: its time when the voice is read by itself. */
export function usualTimes({ graph, order }: Pick<Line, "graph" | "order">): number[] {
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
export function strengthOf({ graph, origins }: Line, figure: number, time: number): Strength {
  const { strong, medium } = graph.grids[figure]!
  return strengthAt(time - origins[figure]!, strong, medium)
}

/** What a way costs from `time` on: its rule, what it sounds, and for the final where it begins. */
export function costOf(line: Line, backdrop: Backdrop, { figure, lasts, cost }: Way, time: number): number {
  const { graph, metre } = line
  const strength = strengthOf(line, figure, time)
  const isFinal = figure === graph.final
  const end = isFinal ? Math.max(backdrop.end, time + lasts) : time + lasts
  const sound = soundOf(backdrop, graph.tones[figure]!, time, end, strength)
  const place = metre === undefined ? 0 : metre.cost(line.shapes[figure]!, slotOf(line, figure, time, strength))
  return cost + sound + place + (isFinal ? backdrop.missed(time) : 0)
}

/** The same, and whether smaller notes begin there too. */
export function slotOf({ graph, origins }: Line, figure: number, time: number, strength: Strength): Slot {
  if (strength > 0) return strength
  const { medium } = graph.grids[figure]!
  for (const [slot, parts] of PARTS) if ((parts * (time - origins[figure]!)) % medium === 0) return slot
  return -2
}

/** A voice that closes with a rest has to end where the others begin or leave their finals. */
export function atEnd({ graph }: Line, backdrop: Backdrop, time: number): number {
  if (graph.final >= 0 || time >= backdrop.end) return 0
  return backdrop.missed(time)
}

/** By what sounds and at what strength, by onset, by end. */
type Sounds = Map<number, Map<number, number>>[]
const sounds = new WeakMap<Backdrop, Sounds>()

/** The same as the backdrop says, remembered: the same notes are asked about with every change. */
function soundOf(backdrop: Backdrop, tone: Tone, onset: number, end: number, strength: Strength): number {
  if (Number.isNaN(tone.step)) return 0
  let all = sounds.get(backdrop)
  if (all === undefined) sounds.set(backdrop, (all = []))
  const key = 12 * tone.step + 6 * Number(tone.byStep) + 3 * Number(tone.falls) + strength
  const byOnset = (all[key] ??= new Map())
  let byEnd = byOnset.get(onset)
  if (byEnd === undefined) byOnset.set(onset, (byEnd = new Map()))
  let cost = byEnd.get(end)
  if (cost === undefined) byEnd.set(end, (cost = backdrop.cost(tone, onset, end, strength)))
  return cost
}

/** Where to the voice may part from the others, and at what price: by some amounts, or to some times of each node. */
export interface Partings {
  readonly price: number
  readonly by?: readonly number[]
  readonly to?: (node: number) => Iterable<number>
}

export const NO_PARTING: Partings = { price: Infinity }

export type Costs = Map<number, number>

/** By node and time: the least cost to get there without a parting at this very node, and with one allowed. */
export interface Forward {
  readonly before: readonly Costs[]
  readonly after: readonly Costs[]
}

/** States dearer than the cheapest at their node by more than this lead nowhere. */
const DEAREST = 40

export function forward(line: Line, backdrop: Backdrop, partings: Partings): Forward {
  const { graph, order } = line
  const before = graph.ways.map((): Costs => new Map())
  const after: Costs[] = graph.ways.map((): Costs => new Map())
  before[0]!.set(0, 0)
  onward(line, backdrop, partings, order, { before, after })
  return { before, after }
}

/** Goes on through these nodes, in order, from what is known before the first of them. */
export function onward(
  line: Line,
  backdrop: Backdrop,
  partings: Partings,
  nodes: readonly number[],
  { before, after }: { readonly before: readonly Costs[]; readonly after: Costs[] },
): void {
  const { graph } = line
  for (const node of nodes) {
    const jumped = withJumps(before[node]!, node, partings)
    after[node] = jumped
    const limit = leastOf(jumped) + DEAREST
    for (const way of graph.ways[node]!) {
      const next = before[way.to]!
      for (const [time, cost] of jumped)
        if (cost <= limit) lower(next, time + way.lasts, cost + costOf(line, backdrop, way, time))
    }
  }
}

function withJumps(costs: Costs, node: number, { price, by, to }: Partings): Costs {
  if (price === Infinity || costs.size === 0 || (to === undefined && !by?.length)) return costs
  const all = new Map(costs)
  if (to) {
    const jumped = leastOf(costs) + price
    for (const time of to(node)) lower(all, time, jumped)
  }
  if (by)
    for (const [time, cost] of costs)
      for (const delta of by) if (time + delta >= 0) lower(all, time + delta, cost + price)
  return all
}

function lower(costs: Costs, time: number, cost: number): void {
  const known = costs.get(time)
  if (known === undefined || cost < known) costs.set(time, cost)
}

export function leastOf(costs: Costs): number {
  let least = Infinity
  for (const cost of costs.values()) if (cost < least) least = cost
  return least
}

/** Cost of the cheapest way through the whole voice. */
export function totalOf(line: Line, backdrop: Backdrop, { after }: Forward): number {
  let least = Infinity
  for (const [time, cost] of after[line.order.at(-1)!]!) least = Math.min(least, cost + atEnd(line, backdrop, time))
  return least + line.graph.cost
}

/** By node and time, of the times `forward` reached: the least cost from there to the end. */
export function backward(line: Line, backdrop: Backdrop, { after }: Forward, { price }: Partings): Forward {
  const { graph, order } = line
  const before = graph.ways.map((): Costs => new Map())
  const jumped = graph.ways.map((): Costs => new Map())
  for (const node of order.toReversed()) {
    const ways = graph.ways[node]!
    for (const time of after[node]!.keys()) {
      let least = ways.length === 0 ? atEnd(line, backdrop, time) : Infinity
      for (const way of ways) {
        const further = jumped[way.to]!.get(time + way.lasts)
        if (further !== undefined) least = Math.min(least, further + costOf(line, backdrop, way, time))
      }
      if (least < Infinity) before[node]!.set(time, least)
    }
    const limit = leastOf(before[node]!) + price
    for (const [time, cost] of before[node]!) jumped[node]!.set(time, Math.min(cost, limit))
  }
  return { before, after: jumped }
}

/** The common unit of these readings as a factor, whatever other readings it is asked of. */
export function factorFor(readings: readonly Reading[]): Factor {
  const { factor } = commonUnit(readings)
  return factor
}
