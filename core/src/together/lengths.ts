/**
 * How long voices can be: for each place of a voice, what every remaining time up to its final costs. That part of
 * reading together is exact: which common length is the cheapest for all is known before the search begins, and the
 * search never follows what can no longer reach it.
 */
import { MISSED_MEETING } from "../counterpoint/index.js"
import { LengthTable } from "./length-table.js"
import type { VoiceGraph } from "./voice-graph.js"

/** Common lengths that the search bears in mind. */
const MOST_GOALS = 6

export interface Lengths {
  /** By node: time up to the final's onset, and what it costs. Empty where the voice closes with a rest. */
  readonly left: Pick<LengthTable, "get" | "has" | "forEach">
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
  const left = new LengthTable(ways.length)
  const order = ways.map((_, node) => node).sort((a, b) => figureAt[b]! - figureAt[a]!)
  for (const node of order) {
    const own = ways[node]!
    if (own.length === 0) least[node] = 0
    for (const way of own) least[node] = Math.min(least[node]!, way.cost + least[way.to]!)
    if (final < 0 || figureAt[node]! > final) continue
    if (figureAt[node] === final) left.put(node, 0, least[node]!)
    else if (own.length === 1) left.putMoved(node, own[0]!.to, own[0]!.lasts + delayOf(own[0]!.to), own[0]!.cost)
    else left.putMerged(node, own, way => way.lasts + delayOf(way.to), least[node]! + MISSED_MEETING)
  }
  return { left, least }
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
