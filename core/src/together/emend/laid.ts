/**
 * One voice laid against the others, which are fixed: the cheapest way through its graph (rules, intervals, arrival at
 * the finals) when it may also part from them for no known reason here and there, at a price. Where it would pay that
 * price is where a slip is to be looked for; a change of the page that mends the slip saves it.
 */
import type { Strength } from "../../counterpoint/index.js"
import { UNIT } from "../../practices/index.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import { commonUnit } from "../../score/units.js"
import type { Reading } from "../../reading/index.js"
import { graphOf, type VoiceGraph, type Way } from "../voice-graph.js"
import { strengthAt, type Backdrop, type Factor } from "./backdrop.js"

/** A voice's graph with what the others' weights ask of its notes. Times in ticks of the common unit. */
export interface Line {
  readonly graph: VoiceGraph
  /** Nodes, each after those that lead to it. */
  readonly order: readonly number[]
  readonly lowest: boolean
  /** By figure: ticks of its measure (not stretched by proportions), and of its first part. */
  readonly measures: readonly { readonly strong: number; readonly medium: number }[]
}

export function lineOf(worked: WorkedVoice, backdrop: Backdrop, factor: Factor): Line {
  const by = factor(worked.reading)
  const scales = worked.settled.map(({ stretch: { measuring } }) => ({
    num: by.num * measuring.ratio.den,
    den: by.den * measuring.ratio.num,
  }))
  const graph = graphOf(worked, scales)
  const order = graph.ways.map((_, node) => node).sort((a, b) => graph.figureAt[a]! - graph.figureAt[b]!)
  const heights = graph.tones.flatMap(({ step }) => (Number.isNaN(step) ? [] : [step]))
  const height = heights.reduce((sum, step) => sum + step, 0) / Math.max(1, heights.length)
  const inTempora = worked.chosen.practice.unit === "tempus"
  const measures = worked.settled.flatMap(({ stretch }) => {
    const { tempus, prolatio, modusMinor } = stretch.measuring
    const measure = inTempora
      ? { strong: modusMinor * UNIT, medium: UNIT }
      : { strong: tempus * prolatio * UNIT, medium: prolatio * UNIT }
    return stretch.figures.map(() => measure)
  })
  return { graph, order, lowest: heights.length > 0 && backdrop.isLowest(height), measures }
}

/** Where in its own measure the note of a way begins, as the voice itself counts. */
export function strengthOf({ measures }: Line, { figure, edge, member }: Way): Strength {
  let position = edge.from.position
  for (let i = 0; i < member; i++) position += memberTicks(edge, i)
  const { strong, medium } = measures[figure]!
  return strengthAt(position, strong, medium)
}

function memberTicks({ group }: Way["edge"], member: number): number {
  if (group === undefined) return 0
  const [num, den] = group.parts[member]!
  return (group.ticks * num) / den
}

/** What a way costs from `time` on: its rule, what it sounds, and for the final where it begins. */
export function costOf(
  line: Line,
  backdrop: Backdrop,
  way: Way,
  time: number,
  strength = strengthOf(line, way),
): number {
  const { graph, lowest } = line
  const { figure, lasts } = way
  const isFinal = figure === graph.final
  const end = isFinal ? Math.max(backdrop.end, time + lasts) : time + lasts
  const sound = backdrop.cost(graph.tones[figure]!, time, end, strength, lowest)
  return way.cost + sound + (isFinal ? backdrop.missed(time) : 0)
}

/** A voice that closes with a rest has to end where the others begin or leave their finals. */
export function atEnd({ graph }: Line, backdrop: Backdrop, time: number): number {
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
      const strength = strengthOf(line, way)
      const next = before[way.to]!
      for (const [time, cost] of jumped)
        if (cost <= limit) lower(next, time + way.lasts, cost + costOf(line, backdrop, way, time, strength))
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
