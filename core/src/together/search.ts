/**
 * The search over all voices at once. A hypothesis is one way through every voice up to about one moment: for each
 * voice the place in its graph and the time at which its last note ends. The voice that ends first goes on first, so
 * what sounds with the note that then begins is known in all others. Hypotheses are compared when they have laid down
 * equally many notes; those that stand at the same places at the same times are one from then on, with the chances of
 * both. Costs are logarithms of odds: the rules of each voice, the intervals, and the meeting at the finals, which is
 * known ahead of time (lengths.ts).
 */
import { kindOfInterval, MISSED_MEETING, type CounterpointWeights, type Strength } from "../counterpoint/index.js"
import { goalsOf, lengthsOf, toGoal, type Lengths } from "./lengths.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** Hypotheses dearer than the best by this much, and more than so many, are let go. */
const BEAM = 14
const WIDTH = 150
/** Finals have no end: their onset is kept above this. */
const HELD = 2 ** 50

/** How a hypothesis came to be: from which, by which way of which voice, at what cost. */
interface Step {
  readonly from: Hypothesis
  readonly way: Way
  readonly voice: number
  readonly cost: number
}

export class Hypothesis {
  steps: Step[] = []
  best: Step | undefined = undefined
  cost = Infinity
  /** Chances of all ways here, relative to the best. */
  weight = 0
  after = Infinity
  weightAfter = 0
  future = 0

  constructor(
    readonly nodes: readonly number[],
    /** When the last note of each voice ends, when it began, and when its stretch began. */
    readonly ends: readonly number[],
    readonly onsets: readonly number[],
    readonly origins: readonly number[],
  ) {}
}

/** Places where all voices stand together, by voice the index of the figure that begins there. */
export type Meeting = readonly number[]

export interface Joint {
  /** By voice and figure: the way taken. */
  readonly chosen: readonly (readonly Way[])[]
  readonly layers: readonly (readonly Hypothesis[])[]
  readonly end: Hypothesis
  /** Onset of each voice's final; undefined where it closes with a rest. */
  readonly finals: readonly (number | undefined)[]
}

export interface JointInput {
  readonly graphs: readonly VoiceGraph[]
  readonly weights: CounterpointWeights
  /** Index of the lowest voice. */
  readonly lowest: number
  readonly meetings: readonly Meeting[]
}

export function searchTogether(input: JointInput): Joint {
  return new Search(input).run()
}

class Search {
  private readonly lengths: readonly Lengths[]
  private readonly goals: readonly number[]
  private readonly count: number
  private table = new Map<number, Hypothesis[]>()
  private layer: Hypothesis[] = []

  constructor(private readonly input: JointInput) {
    this.lengths = input.graphs.map(lengthsOf)
    this.goals = goalsOf(this.lengths)
    this.count = input.graphs.length
  }

  run(): Joint {
    const zeros = this.input.graphs.map(() => 0)
    const start = new Hypothesis(
      zeros,
      zeros,
      this.input.graphs.map(() => -1),
      zeros,
    )
    start.cost = 0
    start.weight = 1
    const layers: Hypothesis[][] = [[start]]
    const figures = this.input.graphs.reduce((sum, graph) => sum + graph.figures, 0)
    for (let n = 0; n < figures; n++) {
      this.table = new Map()
      this.layer = []
      for (const hypothesis of layers[n]!) this.extend(hypothesis)
      layers.push(this.pruned())
    }
    return this.outcome(layers)
  }

  private pruned(): Hypothesis[] {
    const { layer } = this
    if (layer.length < 2) return layer
    layer.sort((a, b) => a.cost + a.future - b.cost - b.future)
    const limit = layer[0]!.cost + layer[0]!.future + BEAM
    let keep = 1
    while (keep < layer.length && keep < WIDTH && layer[keep]!.cost + layer[keep]!.future <= limit) keep++
    layer.length = keep
    return layer
  }

  private outcome(layers: Hypothesis[][]): Joint {
    const last = layers.at(-1)!
    const end = last.reduce((best, one) => (one.cost < best.cost ? one : best), last[0]!)
    const chosen = this.input.graphs.map((): Way[] => [])
    for (let step = end.best; step !== undefined; step = step.from.best) chosen[step.voice]!.push(step.way)
    for (const ways of chosen) ways.reverse()
    const finals = this.input.graphs.map((graph, v) => (graph.final < 0 ? undefined : end.onsets[v]!))
    return { chosen, layers, end, finals }
  }

  /** Lays down the next note of the voice that ends first. */
  private extend(from: Hypothesis): void {
    const v = this.nextVoice(from)
    const graph = this.input.graphs[v]!
    const figure = graph.figureAt[from.nodes[v]!]!
    const onset = from.ends[v]!
    const origin = graph.opens[figure] ? onset : from.origins[v]!
    const sounding = this.soundCost(from, v, figure, onset, origin)
    const missed = this.missedCost(from, v, figure)
    for (const way of graph.ways[from.nodes[v]!]!) {
      const end = figure === graph.final ? HELD + onset : onset + way.lasts
      this.reach(from, v, way, onset, end, origin, sounding + missed + way.cost)
    }
  }

  /** The voice whose last note ends first; one that stands at a meeting waits for the others. */
  private nextVoice({ ends, nodes }: Hypothesis): number {
    const { graphs, meetings } = this.input
    let next = -1
    for (let v = 0; v < this.count; v++) {
      const figure = graphs[v]!.figureAt[nodes[v]!]!
      if (figure === graphs[v]!.figures) continue
      if (meetings.length > 0 && this.waits(v, figure, nodes)) continue
      if (next < 0 || ends[v]! < ends[next]!) next = v
    }
    return next
  }

  private waits(v: number, figure: number, nodes: readonly number[]): boolean {
    return this.input.meetings.some(
      meeting =>
        meeting[v] === figure && this.input.graphs.some((graph, u) => graph.figureAt[nodes[u]!]! < meeting[u]!),
    )
  }

  /** What it costs that the voices do not stand together where this figure is the last to arrive. */
  private missedCost({ ends, nodes, onsets }: Hypothesis, v: number, figure: number): number {
    const { graphs, meetings } = this.input
    let cost = 0
    for (const meeting of meetings)
      if (meeting[v] === figure && graphs.every((graph, u) => u === v || graph.figureAt[nodes[u]!]! >= meeting[u]!)) {
        const arrived = graphs.every((graph, u) => graph.figureAt[nodes[u]!] === meeting[u])
        if (arrived) cost += MISSED_MEETING * unlike(ends)
      }
    const { final } = graphs[v]!
    if (figure !== final || graphs.some((graph, u) => u !== v && graph.figureAt[nodes[u]!]! < graph.figures))
      return cost
    const times = onsets.flatMap((onset, u) => (graphs[u]!.final < 0 ? [] : u === v ? [ends[v]!] : [onset]))
    return cost + MISSED_MEETING * unlike(times)
  }

  /** What the note that begins says against what sounds in the other voices. */
  private soundCost(from: Hypothesis, v: number, figure: number, onset: number, origin: number): number {
    const { graphs, weights, lowest } = this.input
    const own = graphs[v]!.steps[figure]!
    if (Number.isNaN(own)) return 0
    const strength = strengthOf(graphs[v]!, figure, onset - origin)
    let cost = 0
    for (let u = 0; u < this.count; u++) {
      if (u === v || from.ends[u]! <= onset) continue
      const graph = graphs[u]!
      const other = graph.steps[graph.figureAt[from.nodes[u]!]! - 1]!
      if (Number.isNaN(other)) continue
      const pair = u === lowest || v === lowest ? weights.lowest : weights.upper
      const costs = from.onsets[u] === onset ? pair.together : pair.against
      cost += costs[strength][kindOfInterval(own - other)]
    }
    return cost
  }

  private reach(from: Hypothesis, v: number, way: Way, onset: number, end: number, origin: number, cost: number): void {
    const total = from.cost + cost
    const key = this.keyOf(from, v, way.to, end)
    let list = this.table.get(key)
    if (list === undefined) this.table.set(key, (list = []))
    let to = list.find(one => this.isSame(one, from, v, way.to, onset, end))
    if (to === undefined) {
      to = new Hypothesis(
        replaced(from.nodes, v, way.to),
        replaced(from.ends, v, end),
        replaced(from.onsets, v, onset),
        origin === from.origins[v] ? from.origins : replaced(from.origins, v, origin),
      )
      to.future = this.futureOf(to)
      list.push(to)
      this.layer.push(to)
    }
    link(to, { from, way, voice: v, cost }, total)
  }

  private keyOf({ nodes, ends }: Hypothesis, v: number, node: number, end: number): number {
    let key = 0
    for (let u = 0; u < this.count; u++) {
      key = (Math.imul(key, 31) + (u === v ? node : nodes[u]!)) | 0
      key = (Math.imul(key, 31) + ((u === v ? end : ends[u]!) % 1_000_003)) | 0
    }
    return key
  }

  /** The same places at the same times, and the same notes begun just now. */
  private isSame(one: Hypothesis, from: Hypothesis, v: number, node: number, onset: number, end: number): boolean {
    for (let u = 0; u < this.count; u++) {
      if (one.nodes[u] !== (u === v ? node : from.nodes[u]) || one.ends[u] !== (u === v ? end : from.ends[u]))
        return false
      const began = u === v ? onset : from.onsets[u]
      if (one.onsets[u] !== began && (one.onsets[u] === onset || began === onset)) return false
    }
    return true
  }

  /** The least that is still to be paid, the meeting at the finals included. */
  private futureOf({ nodes, ends }: Hypothesis): number {
    if (this.goals.length === 0) return nodes.reduce((sum, node, v) => sum + this.lengths[v]!.least[node]!, 0)
    let least = Infinity
    for (const goal of this.goals) {
      let sum = 0
      for (let v = 0; v < this.count && sum < least; v++)
        sum +=
          ends[v]! >= HELD
            ? ends[v] === HELD + goal
              ? 0
              : MISSED_MEETING
            : toGoal(this.lengths[v]!, nodes[v]!, goal - ends[v]!)
      if (sum < least) least = sum
    }
    return least
  }
}

function link(to: Hypothesis, step: Step, total: number): void {
  to.steps.push(step)
  const mass = step.from.weight
  if (total < to.cost) {
    to.weight = mass + to.weight * (to.cost === Infinity ? 0 : Math.exp(total - to.cost))
    to.cost = total
    to.best = step
  } else to.weight += mass * Math.exp(to.cost - total)
}

/** How many of them are not where most are. */
function unlike(times: readonly number[]): number {
  let most = 0
  for (const time of times) most = Math.max(most, times.filter(other => other === time).length)
  return times.length - most
}

function replaced(list: readonly number[], at: number, value: number): number[] {
  const copy = list.slice()
  copy[at] = value
  return copy
}

/** Where in its measure a note begins, `time` after its stretch did. */
export function strengthOf({ grids }: VoiceGraph, figure: number, time: number): Strength {
  const { strong, medium } = grids[figure]!
  return time % strong === 0 ? 2 : time % medium === 0 ? 1 : 0
}
