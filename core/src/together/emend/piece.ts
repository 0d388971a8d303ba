/** A stretch of a changed voice: the blocks that are not as they were, laid out by themselves, and what stands around them. */
import { tonesOf, type Tone } from "../../counterpoint/index.js"
import type { DraftFigure } from "../../reading/draft-figure.js"
import type { WorkedVoice } from "../../reading/read-voice.js"
import type { Backdrop } from "../backdrop.js"
import { BlockWays, figureOf, type PlacedBlock, type Scale } from "../block-ways.js"
import { finalOf, gridOf, placedIn, stepOf, type Grid, type VoiceGraph } from "../voice-graph.js"
import { delayed, inOrder, originNear, usualTimes, type Line, type Part } from "./laid.js"
import { shapeOf, type Metre } from "./metre.js"

/** A voice after a change, before it is laid out. */
export class ChangedVoice {
  readonly placed: readonly PlacedBlock[]
  readonly grids: readonly Grid[]
  readonly final: number
  /** By stretch: its first figure; at last the number of all. */
  readonly opens: readonly number[]

  constructor(
    private readonly worked: WorkedVoice,
    scales: readonly Scale[],
    readonly delays: VoiceGraph["delays"],
  ) {
    this.placed = placedIn(worked, scales)
    this.grids = worked.settled.map(({ stretch }, i) => gridOf(worked, stretch.measuring, scales[i]!))
    this.final = finalOf(worked)
    const opens = [0]
    for (const { stretch } of worked.settled) opens.push(opens.at(-1)! + stretch.figures.length)
    this.opens = opens
  }

  /** Staff step of a figure of the voice; undefined where there is none. */
  private stepAt(figure: number): number | undefined {
    const one = this.figure(figure)
    return one && stepOf(one)
  }

  private figure(figure: number): DraftFigure | undefined {
    const stretch = this.stretchOf(figure)
    return this.worked.settled[stretch]?.stretch.figures[figure - this.opens[stretch]!]
  }

  private stretchOf(figure: number): number {
    let stretch = 0
    while (stretch < this.grids.length - 1 && this.opens[stretch + 1]! <= figure) stretch++
    return stretch
  }

  /** Whether the figures of a block are heard as those of one of the voice before that is laid out alike. */
  soundsAs({ graph, shapes }: Line, was: PlacedBlock, is: PlacedBlock): boolean {
    const [before, now] = [figureOf(was), figureOf(is)]
    const count = was.block.end.node - was.block.start.node
    const tones = this.tones(now, count)
    for (let i = 0; i < count; i++) {
      const [old, at] = [before + i, now + i]
      if (!isSameTone(graph.tones[old]!, tones[i]!) || shapes[old] !== shapeOf(this.figure(at)!)) return false
      if ((old === graph.final) !== (at === this.final)) return false
      if (graph.delays.get(old + 1) !== this.delays.get(at + 1)) return false
    }
    return true
  }

  /** The blocks from one up to another laid out; figures are numbered from the first of them. */
  piece(from: number, to: number, metre: Metre | undefined): Piece {
    const placed = this.placed.slice(from, to)
    const next = this.placed[from]
    const first = next === undefined ? this.opens.at(-1)! : figureOf(next)
    const walk = new BlockWays(first)
    const costs = placed.map(block => walk.add(block))
    const count = walk.figureAt[walk.last]!
    const figures = Array.from({ length: count }, (_, i) => this.figure(first + i)!)
    const graph = {
      ways: delayed(walk.ways, this.delays, first),
      figureAt: walk.figureAt,
      tones: this.tones(first, count),
      grids: figures.map((_, i) => this.grids[this.stretchOf(first + i)]!),
      final: this.final < 0 ? -1 : Math.max(0, this.final - first),
    }
    const part = { graph, order: inOrder(graph), shapes: figures.map(shapeOf), metre }
    return { part, first, count, last: walk.last, costs }
  }

  /** How a figure is heard depends on its neighbours. */
  private tones(first: number, count: number): VoiceGraph["tones"] {
    const around = first === 0 ? 0 : 1
    const steps: number[] = []
    for (let i = first - around; i <= first + count; i++) {
      const step = this.stepAt(i)
      if (step !== undefined) steps.push(step)
    }
    return tonesOf(steps).slice(around, around + count)
  }

  /** By stretch: from where its measures are counted. `own`: when the voice by itself comes to a figure. */
  origins(own: (figure: number) => number, backdrop: Backdrop): number[] {
    let origin = 0
    return this.grids.map((grid, stretch) => {
      const opens = this.opens[stretch]!
      if (opens > 0 && opens < this.opens[stretch + 1]!) origin = originNear(own(opens), grid, backdrop)
      return origin
    })
  }

  /** The piece with where its measures are counted from. */
  counted({ part, first, count }: Piece, origins: readonly number[]): Part {
    return { ...part, origins: Array.from({ length: count }, (_, i) => origins[this.stretchOf(first + i)]!) }
  }
}

const isSameTone = (a: Tone, b: Tone): boolean =>
  Object.is(a.step, b.step) && a.byStep === b.byStep && a.falls === b.falls

export interface Piece {
  readonly part: Omit<Part, "origins">
  /** Number in the voice of its first figure, and of how many. */
  readonly first: number
  readonly count: number
  /** The node to which it leads; it begins at 0. */
  readonly last: number
  /** By block: what the voice's own cheapest way through it costs. */
  readonly costs: readonly number[]
}

/** By figure of a line: when the voice by itself comes to it first. */
export function usualByFigure(line: Pick<Line, "order"> & { readonly graph: Part["graph"] }): number[] {
  const usual = usualTimes(line)
  const first: number[] = []
  line.graph.figureAt.forEach((figure, node) => (first[figure] ??= usual[node]!))
  return first
}
