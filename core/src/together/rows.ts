/**
 * The graphs of all voices side by side in long rows of numbers. The search asks them millions of times in a long piece;
 * rows are read several times as fast as objects, and leave nothing to clear away.
 */
import {
  intervalOf,
  type CounterpointWeights,
  type PairWeights,
  type Strength,
  type Tone,
} from "../counterpoint/index.js"
import type { VoiceGraph, Way } from "./voice-graph.js"

/** Nodes, figures and ways are counted through all voices. Each voice has one figure more than it has: its end. */
export class Rows {
  /** By voice: its first node, its end, and its final (-1 where it closes with a rest). */
  readonly firstNode: Int32Array
  readonly firstFigure: Int32Array
  readonly endFigure: Int32Array
  readonly final: Int32Array
  /** By node: the figure that comes next, and the first of its ways; those of the next node follow. */
  readonly figureAt: Int32Array
  readonly firstWay: Int32Array
  /** By way. */
  readonly to: Int32Array
  readonly lasts: Float64Array
  readonly cost: Float64Array
  readonly ways: readonly Way[]
  /** By figure: staff step (NaN: a rest), how it is entered and left, a gap before it, its grid. */
  readonly step: Float64Array
  readonly byStep: Uint8Array
  readonly falls: Uint8Array
  readonly delay: Float64Array
  readonly strong: Float64Array
  readonly medium: Float64Array
  readonly opens: Uint8Array

  constructor(readonly graphs: readonly VoiceGraph[]) {
    const figures = graphs.reduce((sum, graph) => sum + graph.figures + 1, 0)
    const nodes = graphs.reduce((sum, graph) => sum + graph.ways.length, 0)
    this.ways = graphs.flatMap(waysOf)
    const byVoice = (): Int32Array => new Int32Array(graphs.length)
    ;[this.firstNode, this.firstFigure, this.endFigure, this.final] = [byVoice(), byVoice(), byVoice(), byVoice()]
    this.figureAt = new Int32Array(nodes)
    this.firstWay = new Int32Array(nodes + 1)
    this.to = new Int32Array(this.ways.length)
    this.lasts = new Float64Array(this.ways.length)
    this.cost = new Float64Array(this.ways.length)
    this.layWays()
    const times = (): Float64Array => new Float64Array(figures)
    ;[this.delay, this.strong, this.medium, this.step] = [times(), times(), times(), times().fill(Number.NaN)]
    const signs = (): Uint8Array => new Uint8Array(figures)
    ;[this.byStep, this.falls, this.opens] = [signs(), signs(), signs()]
    this.layNodes()
    this.layFigures()
  }

  private layWays(): void {
    const { ways, lasts, cost } = this
    for (let i = 0; i < ways.length; i++) {
      lasts[i] = ways[i]!.lasts
      cost[i] = ways[i]!.cost
    }
  }

  private layNodes(): void {
    let [node, figure, way] = [0, 0, 0]
    this.graphs.forEach((graph, v) => {
      this.firstNode[v] = node
      this.firstFigure[v] = figure
      this.endFigure[v] = figure + graph.figures
      this.final[v] = graph.final < 0 ? -1 : figure + graph.final
      for (let own = 0; own < graph.ways.length; own++) {
        this.figureAt[node + own] = figure + graph.figureAt[own]!
        this.firstWay[node + own] = way
        for (const { to } of graph.ways[own]!) this.to[way++] = node + to
      }
      node += graph.ways.length
      figure += graph.figures + 1
    })
    this.firstWay[node] = way
  }

  private layFigures(): void {
    this.graphs.forEach(({ tones, grids, opens, delays, figures }, v) => {
      const first = this.firstFigure[v]!
      for (let own = 0; own < figures; own++) {
        this.step[first + own] = tones[own]!.step
        this.byStep[first + own] = Number(tones[own]!.byStep)
        this.falls[first + own] = Number(tones[own]!.falls)
        this.strong[first + own] = grids[own]!.strong
        this.medium[first + own] = grids[own]!.medium
        this.opens[first + own] = Number(opens[own]!)
      }
      for (const [own, lasts] of delays) if (own <= figures) this.delay[first + own] = lasts
    })
  }
}

/** All ways of a graph, node by node: asked again for every search that the voice is part of. */
const known = new WeakMap<VoiceGraph, readonly Way[]>()
function waysOf(graph: VoiceGraph): readonly Way[] {
  let ways = known.get(graph)
  if (ways === undefined) known.set(graph, (ways = graph.ways.flat()))
  return ways
}

const STEPS = 7

/** What intervals cost, in one row; see `soundAt`. */
export function soundsOf({ lowest, upper }: CounterpointWeights): Float64Array {
  const costs = new Float64Array(2 * 2 * 3 * STEPS * 2)
  const each = (pair: PairWeights, isUpper: boolean, together: boolean): void => {
    for (const strength of [0, 1, 2] as const)
      for (let steps = 0; steps < STEPS; steps++)
        for (const byStep of [false, true]) {
          const kind = intervalOf({ step: steps, byStep, falls: false }, STILL, together)
          costs[soundAt(isUpper, together, strength, steps, byStep)] = (together ? pair.together : pair.against)[
            strength
          ][kind]
        }
  }
  for (const together of [false, true]) {
    each(lowest, false, together)
    each(upper, true, together)
  }
  return costs
}

const STILL: Tone = { step: 0, byStep: false, falls: false }

/** Where the cost of an interval of so many steps stands in the row. */
export function soundAt(
  isUpper: boolean,
  together: boolean,
  strength: Strength,
  steps: number,
  byStep: boolean,
): number {
  const how = ((isUpper ? 2 : 0) + (together ? 1 : 0)) * 3 + strength
  return (how * STEPS + ((steps < 0 ? -steps : steps) % STEPS)) * 2 + (byStep ? 1 : 0)
}
