/**
 * The search over all voices at once. A hypothesis is one way through every voice up to about one moment: for each
 * voice the place in its graph and the time at which its last note ends. The voice that ends first goes on first, so
 * what sounds with the note that then begins is known in all others. Hypotheses are compared when they have laid down
 * equally many notes; those that stand at the same places at the same times are one from then on, with the chances of
 * both. Costs are logarithms of odds: the rules of each voice, the intervals, and the meeting at the finals, which is
 * known ahead of time (lengths.ts).
 */
import { intervalOf, MISSED_MEETING, type CounterpointWeights, type Strength } from "../counterpoint/index.js"
import { goalsOf, lengthsOf, toGoal, type Lengths } from "./lengths.js"
import {
  cheapest,
  sweep,
  END,
  FIELDS,
  Hypothesis,
  isSame,
  keyOf,
  link,
  NODE,
  ONSET,
  ORIGIN,
  started,
} from "./hypothesis.js"
import type { Backdrop } from "./backdrop.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** Hypotheses dearer than the best by this much, and more than so many, are let go. */
const BEAM = 14
const WIDTH = 64
/** Finals have no end: their onset is kept above this. */
const HELD = 2 ** 50

/** Places where all voices stand together, by voice the index of the figure that begins there. */
export type Meeting = readonly number[]

/** Layers of hypotheses from one at which a single one was left to another, and the best at its end. */
export interface Window {
  readonly layers: readonly (readonly Hypothesis[])[]
  readonly end: Hypothesis
}

export interface Joint {
  /** By voice and figure: the way taken. */
  readonly chosen: readonly (readonly Way[])[]
  readonly cost: number
  /** Onset of each voice's final; undefined where it closes with a rest. */
  readonly finals: readonly (number | undefined)[]
}

export interface JointInput {
  readonly graphs: readonly VoiceGraph[]
  readonly weights: CounterpointWeights
  readonly meetings: readonly Meeting[]
  /** What sounds beside these voices, whatever way they take: what a tone says against it. */
  readonly echoes?: Pick<Backdrop, "cost"> | undefined
}

/** Searches; `settle` is shown each window before it is let go. */
export function searchTogether(input: JointInput, settle: (window: Window) => void): Joint {
  return new Search(input, settle).run()
}

/** Layers up to this size are looked through; larger ones have a table. */
const SMALL = 6
/** Hypotheses that have led nowhere are let go after each so many layers. */
const SWEPT = 64
/** What lies before a place through which all that are left have come is settled. At the latest a window has so many layers. */
const LONGEST = 3000

class Search {
  private readonly lengths: readonly Lengths[]
  private readonly goals: readonly number[]
  private readonly count: number
  /** Those of a large layer by where they stand. */
  private readonly table = new Map<number, Hypothesis[]>()
  private layer: Hypothesis[] = []
  private readonly chosen: Way[][]

  constructor(
    private readonly input: JointInput,
    private readonly settle: (window: Window) => void,
  ) {
    this.lengths = input.graphs.map(lengthsOf)
    this.goals = goalsOf(this.lengths)
    this.count = input.graphs.length
    this.chosen = input.graphs.map((): Way[] => [])
  }

  run(): Joint {
    const start = this.input.graphs.flatMap(({ delays }) => [0, delays.get(0) ?? 0, -1, 0])
    let layers: Hypothesis[][] = [[started(start, 0)]]
    const figures = this.input.graphs.reduce((sum, graph) => sum + graph.figures, 0)
    for (let n = 0; n < figures; n++) {
      this.layer = []
      for (const hypothesis of layers.at(-1)!) this.extend(hypothesis)
      layers.push(this.pruned())
      if (layers.length % SWEPT !== 0 || n === figures - 1) continue
      sweep(layers, n + 1)
      layers = this.settled(layers)
    }
    const end = cheapest(layers.at(-1)!, one => one.cost)
    for (const one of layers.at(-1)!) one.after = 0
    this.close({ layers, end })
    const finals = this.input.graphs.map((graph, v) => (graph.final < 0 ? undefined : end.at[FIELDS * v + ONSET]!))
    return { chosen: this.chosen, cost: end.cost, finals }
  }

  /** The layers that are not settled yet. */
  private settled(layers: Hypothesis[][]): Hypothesis[][] {
    let last = layers.length - 1
    while (last > 0 && layers[last]!.length > 1) last--
    if (last > 0) {
      const end = layers[last]![0]!
      end.after = 0
      this.close({ layers: layers.slice(0, last + 1), end })
      end.beginAnew()
      return layers.slice(last)
    }
    return layers.length > LONGEST ? this.cutShort(layers) : layers
  }

  /** Settles all and goes on from the likeliest of the last layer. */
  private cutShort(layers: Hypothesis[][]): Hypothesis[][] {
    const last = layers.at(-1)!
    const end = cheapest(last, one => one.cost + one.future)
    for (const one of last) one.after = one.future - end.future
    this.close({ layers, end })
    return [[started(end.at, end.cost)]]
  }

  private close(window: Window): void {
    this.settle(window)
    const ways = this.input.graphs.map((): Way[] => [])
    for (let step = window.end.best; step !== undefined; step = step.from.best) ways[step.voice]!.push(step.way)
    ways.forEach((own, v) => this.chosen[v]!.push(...own.reverse()))
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

  /** Lays down the next note of the voice that ends first. */
  private extend(from: Hypothesis): void {
    const v = this.nextVoice(from.at)
    const graph = this.input.graphs[v]!
    const node = from.at[FIELDS * v + NODE]!
    const figure = graph.figureAt[node]!
    const onset = from.at[FIELDS * v + END]!
    const origin = graph.opens[figure] ? onset : from.at[FIELDS * v + ORIGIN]!
    const cost = this.soundCost(from.at, v, figure, onset, origin) + this.missedCost(from.at, v, figure)
    const delay = graph.delays.get(figure + 1) ?? 0
    for (const way of graph.ways[node]!) {
      const end = figure === graph.final ? HELD + onset : onset + way.lasts + delay
      this.reach(from, v, way, onset, end, origin, cost + way.cost + this.echoed(v, way, onset, origin))
    }
  }

  private figureOf(at: readonly number[], v: number): number {
    return this.input.graphs[v]!.figureAt[at[FIELDS * v + NODE]!]!
  }

  /** The voice whose last note ends first; one that stands at a meeting waits for the others. */
  private nextVoice(at: readonly number[]): number {
    const { graphs, meetings } = this.input
    let next = -1
    for (let v = 0; v < this.count; v++) {
      if (next >= 0 && at[FIELDS * v + END]! >= at[FIELDS * next + END]!) continue
      const figure = this.figureOf(at, v)
      if (figure === graphs[v]!.figures) continue
      if (meetings.length === 0 || !this.waits(v, figure, at)) next = v
    }
    return next
  }

  private waits(v: number, figure: number, at: readonly number[]): boolean {
    return this.input.meetings.some(
      meeting => meeting[v] === figure && meeting.some((wanted, u) => this.figureOf(at, u) < wanted),
    )
  }

  /** What it costs that the voices do not stand together where this figure is the last to arrive. */
  private missedCost(at: readonly number[], v: number, figure: number): number {
    const { graphs, meetings } = this.input
    let cost = 0
    for (const meeting of meetings)
      if (meeting[v] === figure && meeting.every((wanted, u) => this.figureOf(at, u) === wanted))
        cost += MISSED_MEETING * unlike(meeting.map((_, u) => at[FIELDS * u + END]!))
    if (figure !== graphs[v]!.final || graphs.some((graph, u) => u !== v && this.figureOf(at, u) < graph.figures))
      return cost
    const finals = graphs.flatMap(({ final }, u) => (final < 0 ? [] : [at[FIELDS * u + (u === v ? END : ONSET)]!]))
    return cost + MISSED_MEETING * unlike(finals)
  }

  /** What the note that begins says against what sounds in the other voices. */
  private soundCost(at: readonly number[], v: number, figure: number, onset: number, origin: number): number {
    const { graphs, weights } = this.input
    const own = graphs[v]!.tones[figure]!
    if (Number.isNaN(own.step)) return 0
    const strength = strengthOf(graphs[v]!, figure, onset - origin)
    const floor = this.floorOf(at, v, onset)
    let cost = 0
    for (let u = 0; u < this.count; u++) {
      if (u === v || at[FIELDS * u + END]! <= onset) continue
      const next = this.figureOf(at, u)
      const other = graphs[u]!.tones[next - 1]!
      if (Number.isNaN(other.step)) continue
      const delay = graphs[u]!.delays.size > 0 ? graphs[u]!.delays.get(next) : undefined
      if (delay !== undefined && at[FIELDS * u + END]! - delay <= onset) continue
      const pair = Math.min(own.step, other.step) <= floor ? weights.lowest : weights.upper
      const together = at[FIELDS * u + ONSET] === onset
      cost += (together ? pair.together : pair.against)[strength][intervalOf(own, other, together)]
    }
    return cost
  }

  /** What the note says against what is sung again; the final as it begins. */
  private echoed(v: number, { figure, lasts }: Way, onset: number, origin: number): number {
    const { graphs, echoes } = this.input
    if (echoes === undefined) return 0
    const graph = graphs[v]!
    const end = figure === graph.final ? onset + 1 : onset + lasts
    return echoes.cost(graph.tones[figure]!, onset, end, strengthOf(graph, figure, onset - origin))
  }

  /** Step of the lowest note of the others that sounds as this one begins, or begins with it. */
  private floorOf(at: readonly number[], v: number, onset: number): number {
    let floor = Infinity
    for (let u = 0; u < this.count; u++) {
      if (u === v) continue
      const next = this.figureOf(at, u)
      const tone = this.input.graphs[u]!.tones[at[FIELDS * u + END]! > onset ? next - 1 : next]
      if (tone !== undefined && tone.step < floor) floor = tone.step
    }
    return floor
  }

  private reach(from: Hypothesis, v: number, way: Way, onset: number, end: number, origin: number, cost: number): void {
    const at = from.at.slice()
    at[FIELDS * v + NODE] = way.to
    at[FIELDS * v + END] = end
    at[FIELDS * v + ONSET] = onset
    at[FIELDS * v + ORIGIN] = origin
    let to = this.known(at, onset)
    if (to === undefined) {
      to = new Hypothesis(at)
      to.future = this.futureOf(at)
      this.enter(to)
    }
    link(to, { from, way, voice: v, cost }, from.cost + cost)
  }

  /** The hypothesis of this layer that stands there already; in a small layer it is found by looking through. */
  private known(at: readonly number[], now: number): Hypothesis | undefined {
    const { layer } = this
    if (layer.length > SMALL) return this.table.get(keyOf(at))?.find(one => isSame(one.at, at, now))
    for (const one of layer) if (isSame(one.at, at, now)) return one
    return undefined
  }

  private enter(to: Hypothesis): void {
    this.layer.push(to)
    if (this.layer.length <= SMALL) return
    if (this.layer.length === SMALL + 1) this.table.clear()
    for (const one of this.layer.length === SMALL + 1 ? this.layer : [to]) {
      const key = keyOf(one.at)
      const list = this.table.get(key)
      if (list === undefined) this.table.set(key, [one])
      else list.push(one)
    }
  }

  /** The least that is still to be paid, the meeting at the finals included. */
  private futureOf(at: readonly number[]): number {
    let least = this.goals.length === 0 ? this.leastOf(at) : Infinity
    for (const goal of this.goals) {
      let sum = 0
      for (let v = 0; v < this.count && sum < least; v++) sum += this.futureTo(goal, at, v)
      if (sum < least) least = sum
    }
    return least
  }

  private leastOf(at: readonly number[]): number {
    return this.lengths.reduce((sum, { least }, v) => sum + least[at[FIELDS * v + NODE]!]!, 0)
  }

  private futureTo(goal: number, at: readonly number[], v: number): number {
    const end = at[FIELDS * v + END]!
    if (end >= HELD) return end === HELD + goal ? 0 : MISSED_MEETING
    return toGoal(this.lengths[v]!, at[FIELDS * v + NODE]!, goal - end)
  }
}

/** How many of them are not where most are. */
function unlike(times: readonly number[]): number {
  let most = 0
  for (const time of times) most = Math.max(most, times.filter(other => other === time).length)
  return times.length - most
}

/** Where in its breve or perfection a note begins, `time` after its stretch did. */
export function strengthOf({ grids }: VoiceGraph, figure: number, time: number): Strength {
  const { strong, medium } = grids[figure]!
  return time % strong === 0 ? 2 : time % medium === 0 ? 1 : 0
}
