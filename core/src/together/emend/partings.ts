/** Where a voice, laid against the others, would have to part from them for a reason not known: there a slip is likely. */
import { greatestCommonDivisor } from "../../base/index.js"
import { UNIT } from "../../practices/index.js"
import type { Backdrop } from "../backdrop.js"
import {
  backward,
  costOf,
  forward,
  NO_PARTING,
  strengthOf,
  totalOf,
  usualTimes,
  type Backward,
  type Forward,
  type Line,
  type Partings,
} from "./laid.js"
import type { Strength } from "../../counterpoint/index.js"
import type { Way } from "../voice-graph.js"
import { UNEXPLAINED } from "./weights.js"

interface Jump {
  /** Figure before which the voice parts. */
  readonly figure: number
  /** Ticks of the common unit; positive: the voice lacks time there. */
  readonly by: number
}

export interface Analysis {
  /** Cost of the voice when it never parts, and when it may. */
  readonly whole: number
  readonly parted: number
  /** The partings of the cheapest way, in order; empty where it is cheaper not to part. */
  readonly jumps: readonly Jump[]
  /** By figure: cost of the cheapest way that parts just before it. */
  readonly partedAt: readonly number[]
  /** By figure, on the cheapest way with partings: when it begins. */
  readonly onsets: readonly number[]
  /** By figure, on the same way: where in its measure it begins. */
  readonly strengths: readonly Strength[]
  /** By figure, on the same way: what its rule and its intervals cost. */
  readonly costs: readonly number[]
  /** By figure: the amount by which the cheapest way that parts just before it does, and when. */
  readonly amounts: readonly number[]
  readonly leftAt: readonly number[]
  /** The times of each node that were looked at. */
  readonly there: Forward
}

/** Steps of the grid that a voice may be off by, either way; in long voices fewer, so that the tables stay small. */
const MOST_STEPS = 48
const LEAST_STEPS = 8
const MOST_CELLS = 150_000
/** No finer grid than this part of the unit. */
const FINEST = UNIT / 12

/** `price`: of each parting. */
export function analyse(line: Line, backdrop: Backdrop, price = UNEXPLAINED): Analysis {
  const { graph } = line
  const whole = totalOf(line, backdrop, forward(line, backdrop, NO_PARTING))
  const usual = usualTimes(line)
  const grain = grainOf(line, backdrop)
  const steps = Math.max(LEAST_STEPS, Math.min(MOST_STEPS, Math.floor(MOST_CELLS / graph.ways.length)))
  const offsets = offsetsOf(line, backdrop, usual, grain, steps)
  const partings: Partings = { price, to: node => around(usual[node]!, offsets) }
  const there = forward(line, backdrop, partings)
  const back = backward(line, backdrop, there, partings)
  const parted = totalOf(line, backdrop, there)
  const partedAt = Array.from({ length: graph.figures }, () => Infinity)
  const amounts = Array.from({ length: graph.figures }, () => 0)
  const leftAt = Array.from({ length: graph.figures }, () => 0)
  graph.figureAt.forEach((figure, node) => {
    if (figure >= graph.figures) return
    const from = there.before[node]!.cheapest()
    const to = back.costs[node]!.cheapest()
    const cost = from.cost + price + to.cost + graph.cost
    if (cost >= partedAt[figure]!) return
    partedAt[figure] = cost
    amounts[figure] = to.time - from.time
    leftAt[figure] = from.time
  })
  return { whole, parted, partedAt, amounts, leftAt, there, ...walk(line, backdrop, back, price) }
}

function* around(usual: number, offsets: readonly number[]): Iterable<number> {
  for (const offset of offsets) if (usual + offset >= 0) yield usual + offset
}

/** Units (semibreves, or breves where they are counted) that a voice may be off by, either way: a passage may be lost. */
const MOST_UNITS = 30

/** By how much a voice may be off: in small steps a little, in units more, and by what it misses its goals by. */
function offsetsOf(
  { graph }: Line,
  backdrop: Backdrop,
  usual: readonly number[],
  grain: number,
  steps: number,
): number[] {
  const found = new Set<number>()
  for (let k = -steps; k <= steps; k++) found.add(k * grain)
  const unit = graph.grids[0]?.medium ?? 0
  for (let k = -MOST_UNITS; k <= MOST_UNITS; k++) found.add(k * unit)
  const end = usual[graph.final >= 0 ? graph.figureAt.indexOf(graph.final) : usual.length - 1] ?? 0
  for (const goal of new Set(backdrop.goals)) for (const k of [-2, -1, 0, 1, 2]) found.add(goal - end + k * unit)
  return [...found]
}

function grainOf({ graph }: Line, { durations }: Backdrop): number {
  let grain = 0
  for (const duration of durations) if (duration > 0) grain = greatestCommonDivisor(grain, duration)
  for (const ways of graph.ways)
    for (const { lasts } of ways) if (lasts > 0) grain = greatestCommonDivisor(grain, lasts)
  return Math.max(grain, FINEST)
}

/** The cheapest way with partings, from the beginning on. */
function walk(
  line: Line,
  backdrop: Backdrop,
  back: Backward,
  price: number,
): Pick<Analysis, "jumps" | "onsets" | "strengths" | "costs"> {
  const { graph } = line
  const jumps: Jump[] = []
  const onsets: number[] = []
  const strengths: Strength[] = []
  const costs: number[] = []
  let node = 0
  let time = 0
  while (graph.ways[node]!.length > 0) {
    const here = back.costs[node]!
    if (here.least() + price < (here.get(time) ?? Infinity) - 1e-9) {
      const to = here.cheapest().time
      jumps.push({ figure: graph.figureAt[node]!, by: to - time })
      time = to
    }
    let best: { way: Way; cost: number } | undefined
    for (const way of graph.ways[node]!) {
      const further = back.costs[way.to]!.get(time + way.lasts)
      if (further === undefined) continue
      const cost = Math.min(further, back.limits[way.to]!) + costOf(line, backdrop, way, time)
      if (best === undefined || cost < best.cost) best = { way, cost }
    }
    if (best === undefined) break
    onsets.push(time)
    strengths.push(strengthOf(line, best.way.figure, time))
    const { way } = best
    costs.push(costOf(line, backdrop, way, time) - way.cost + (way.member === 0 ? way.edge.cost : 0))
    time += best.way.lasts
    node = best.way.to
  }
  return { jumps, onsets, strengths, costs }
}
