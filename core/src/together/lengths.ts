/**
 * How long voices can be: for each place of a voice, what every remaining time up to its final costs. That part of
 * reading together is exact: which common length is the cheapest for all is known before the search begins, and the
 * search never follows what can no longer reach it.
 */
import { MISSED_MEETING } from "../counterpoint/index.js"
import type { VoiceGraph } from "./voice-graph.js"

/** Lengths kept at one place, and how much dearer than the cheapest they may be. */
const MOST_LENGTHS = 64
const DEAREST = 24
/** Common lengths that the search bears in mind. */
const MOST_GOALS = 6

export interface Lengths {
  /** By node: time up to the final's onset, and what it costs. Empty where the voice closes with a rest. */
  readonly left: readonly ReadonlyMap<number, number>[]
  /** By node: the cheapest way to the end. */
  readonly least: readonly number[]
}

export function lengthsOf(graph: VoiceGraph): Lengths {
  const { ways, figureAt, final } = graph
  const delayOf = (node: number): number => graph.delays.get(figureAt[node]!) ?? 0
  const least = ways.map(() => Infinity)
  const left: Map<number, number>[] = ways.map(() => new Map<number, number>())
  const order = ways.map((_, node) => node).sort((a, b) => figureAt[b]! - figureAt[a]!)
  for (const node of order) {
    if (ways[node]!.length === 0) least[node] = 0
    for (const way of ways[node]!) least[node] = Math.min(least[node]!, way.cost + least[way.to]!)
    if (final < 0) continue
    if (figureAt[node] === final) left[node]!.set(0, least[node]!)
    else left[node] = narrowed(lengthsAt(ways[node]!, left, delayOf), least[node]!)
  }
  return { left, least }
}

function lengthsAt(
  ways: VoiceGraph["ways"][number],
  left: readonly ReadonlyMap<number, number>[],
  delayOf: (node: number) => number,
): Map<number, number> {
  const all = new Map<number, number>()
  for (const { to, lasts, cost } of ways) {
    const delay = delayOf(to)
    for (const [time, further] of left[to]!) {
      const total = cost + further
      const whole = time + lasts + delay
      if (total < (all.get(whole) ?? Infinity)) all.set(whole, total)
    }
  }
  return all
}

function narrowed(all: Map<number, number>, least: number): Map<number, number> {
  if (all.size <= MOST_LENGTHS) return all
  const kept = [...all].filter(([, cost]) => cost <= least + DEAREST).sort((a, b) => a[1] - b[1])
  return new Map(kept.slice(0, MOST_LENGTHS))
}

/** What is still to be paid from a node, if the final has to begin `time` later: the voice may also miss it, at a price. */
export function toGoal({ left, least }: Lengths, node: number, time: number): number {
  const missed = least[node]! + MISSED_MEETING
  if (left[0]!.size === 0) return least[node]!
  const cost = left[node]!.get(time)
  return cost === undefined ? missed : Math.min(cost, missed)
}

/** Onsets of the final at which the voices could meet most cheaply. */
export function goalsOf(all: readonly Lengths[]): number[] {
  const bound = all.filter(one => one.left[0]!.size > 0)
  const times = new Set(bound.flatMap(one => [...one.left[0]!.keys()]))
  const priced = [...times].map(time => ({ time, cost: bound.reduce((sum, one) => sum + toGoal(one, 0, time), 0) }))
  priced.sort((a, b) => a.cost - b.cost || a.time - b.time)
  return priced
    .filter(one => one.cost <= priced[0]!.cost + MISSED_MEETING)
    .slice(0, MOST_GOALS)
    .map(one => one.time)
}
