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
    this.ways = NO_WAYS.concat(...graphs.map(graph => rowsOf(graph).ways))
    const byVoice = (): Int32Array => new Int32Array(graphs.length)
    ;[this.firstNode, this.firstFigure, this.endFigure, this.final] = [byVoice(), byVoice(), byVoice(), byVoice()]
    this.figureAt = new Int32Array(nodes)
    this.firstWay = new Int32Array(nodes + 1)
    this.to = new Int32Array(this.ways.length)
    this.lasts = new Float64Array(this.ways.length)
    this.cost = new Float64Array(this.ways.length)
    const times = (): Float64Array => new Float64Array(figures)
    ;[this.delay, this.strong, this.medium, this.step] = [times(), times(), times(), times().fill(Number.NaN)]
    const signs = (): Uint8Array => new Uint8Array(figures)
    ;[this.byStep, this.falls, this.opens] = [signs(), signs(), signs()]
    this.layNodes()
    this.layFigures()
  }

  private layNodes(): void {
    let [node, figure, way] = [0, 0, 0]
    this.graphs.forEach((graph, v) => {
      const own = rowsOf(graph)
      this.firstNode[v] = node
      this.firstFigure[v] = figure
      this.endFigure[v] = figure + graph.figures
      this.final[v] = graph.final < 0 ? -1 : figure + graph.final
      layRow(this.figureAt, node, own.figureAt, figure)
      layRow(this.firstWay, node, own.firstWay, way)
      layRow(this.to, way, own.to, node)
      this.lasts.set(own.lasts, way)
      this.cost.set(own.cost, way)
      node += graph.ways.length
      figure += graph.figures + 1
      way += own.ways.length
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

const NO_WAYS: readonly Way[] = []

/** Puts a row down from a place on, each number so much greater. */
function layRow(row: Int32Array, at: number, own: Int32Array, more: number): void {
  for (let i = 0; i < own.length; i++) row[at + i] = own[i]! + more
}

/** The nodes and ways of one graph in rows: asked again for every search that the voice is part of. */
interface GraphRows extends Pick<Rows, "figureAt" | "firstWay" | "to" | "lasts" | "cost" | "ways"> {}

const known = new WeakMap<VoiceGraph, GraphRows>()

function rowsOf(graph: VoiceGraph): GraphRows {
  let rows = known.get(graph)
  if (rows === undefined) known.set(graph, (rows = laidInRows(graph)))
  return rows
}

function laidInRows({ ways: byNode, figureAt }: VoiceGraph): GraphRows {
  let count = 0
  for (let node = 0; node < byNode.length; node++) count += byNode[node]!.length
  const ways = new Array<Way>(count)
  const [firstWay, to] = [new Int32Array(byNode.length), new Int32Array(count)]
  const [lasts, cost] = [new Float64Array(count), new Float64Array(count)]
  let way = 0
  for (let node = 0; node < byNode.length; node++) {
    firstWay[node] = way
    for (const one of byNode[node]!) {
      ways[way] = one
      to[way] = one.to
      lasts[way] = one.lasts
      cost[way++] = one.cost
    }
  }
  return { ways, firstWay, to, lasts, cost, figureAt: Int32Array.from(figureAt) }
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
