/**
 * One voice as a graph for the search over all voices: every way through its lattice, figure by figure, with times as
 * whole numbers on a scale that all voices share. Costs are what a way costs beyond the voice's own cheapest.
 */
import { leastCommonMultiple, ZERO, type Rational } from "../base/index.js"
import { tonesOf, type Tone } from "../counterpoint/index.js"
import { UNIT } from "../practices/index.js"
import { ticksOf } from "../reading/choices.js"
import type { Block, Edge, State } from "../reading/lattice-parts.js"
import { WIDE_BEAM } from "../reading/nodes.js"
import { stepNumber } from "../reading/pitches.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Settled } from "../reading/settle.js"
import { sungAfter } from "./sung.js"

/** One figure with one duration, between two nodes. */
export interface Way {
  readonly to: number
  /** Index of the figure in its voice. */
  readonly figure: number
  /** Time it lasts, on the shared scale. */
  readonly lasts: number
  /** What it costs beyond the voice's own cheapest. */
  readonly cost: number
  readonly edge: Edge
  readonly member: number
}

/** How the time of a stretch is measured: a perfection (or breve), and its first parts, on the shared scale. */
export interface Grid {
  readonly strong: number
  readonly medium: number
}

export interface VoiceGraph {
  readonly worked: WorkedVoice
  /** By node: the ways on. The first node is 0; the last has none. */
  readonly ways: readonly (readonly Way[])[]
  /** By node: index of the figure that comes next; the number of figures at the end. */
  readonly figureAt: readonly number[]
  readonly figures: number
  /** By figure: how it is heard. */
  readonly tones: readonly Tone[]
  /** By figure: the grid of its stretch, and whether the stretch begins with it. */
  readonly grids: readonly Grid[]
  readonly opens: readonly boolean[]
  /** By figure: a gap in the source before it lasts so long. */
  readonly delays: ReadonlyMap<number, number>
  /** Index of the final note, held freely; -1 where the voice closes with a rest. */
  readonly final: number
  /** Raw cost of the voice's own cheapest way. */
  readonly cost: number
  /** The blocks it was built of, in order. */
  readonly blocks: readonly BuiltBlock[]
}

/** A block as it stands in a graph: its first node, its first figure, and what its ways were made with. */
export interface BuiltBlock {
  readonly node: number
  readonly figure: number
  readonly block: Block
  readonly scale: Scale
  /** It closes its stretch. */
  readonly closes: boolean
}

/** Times of a stretch on the shared scale: ticks times `num`, over `den`. */
export interface Scale {
  readonly num: number
  readonly den: number
  /** Times of one tick's length on the shared scale. */
  readonly common?: number
}

/** The graph built last of each voice: it holds as long as the voice is the same and counts on the same scale. */
const known = new WeakMap<WorkedVoice, { readonly key: string; readonly graph: VoiceGraph }>()

/** `after`: what is sung after the part itself, in its unit, where that is not as it is read by itself. */
export function graphOf(worked: WorkedVoice, scales: readonly Scale[], after?: Rational): VoiceGraph {
  const key = JSON.stringify([scales, after])
  const before = known.get(worked)
  if (before?.key === key) return before.graph
  const sung = after ?? (worked.reading.canon ? sungAfter(worked.reading) : ZERO)
  const graph = new Builder(worked, scales, sung).build()
  known.set(worked, { key, graph })
  return graph
}

class Builder {
  private readonly ways: Way[][] = [[]]
  private readonly figureAt: number[] = [0]
  private cost = 0
  private last = 0
  private readonly blocks: BuiltBlock[] = []

  constructor(
    private readonly worked: WorkedVoice,
    private readonly scales: readonly Scale[],
    private readonly after: Rational,
  ) {}

  build(): VoiceGraph {
    const { worked } = this
    let offset = 0
    const steps: number[] = []
    const grids: Grid[] = []
    const opens: boolean[] = []
    worked.settled.forEach(({ stretch, blocks }, i) => {
      const scale = this.scales[i]!
      const grid = gridOf(
        worked,
        stretch.measuring.tempus,
        stretch.measuring.prolatio,
        stretch.measuring.modusMinor,
        scale,
      )
      for (const figure of stretch.figures) {
        const pitch = figure.rest ? undefined : figure.note?.pitch
        steps.push(pitch === undefined ? Number.NaN : stepNumber(pitch))
        grids.push(grid)
        opens.push(figure.index === 0)
      }
      blocks.forEach((block, at) => this.addBlock(block, offset, scale, at === blocks.length - 1))
      offset += stretch.figures.length
    })
    return {
      worked,
      ways: this.ways,
      figureAt: this.figureAt,
      figures: offset,
      tones: tonesOf(steps),
      grids,
      opens,
      delays: delaysOf(worked, this.scales, this.after),
      final: finalOf(worked),
      cost: this.cost,
      blocks: this.blocks,
    }
  }

  private node(figure: number): number {
    this.figureAt.push(figure)
    return this.ways.push([]) - 1
  }

  /** The states of a block become nodes; the last block of a stretch ends in one, whatever states are left there. */
  private addBlock({ block, moved = 0 }: Settled, offset: number, scale: Scale, closes: boolean): void {
    if (block === undefined) throw new Error("the voice was not kept for a reading together")
    const nodes = new Map<State, number>([[block.start, this.last]])
    this.blocks.push({ node: this.last, figure: this.figureAt[this.last]!, block, scale, closes })
    const single = isSingle(block)
    this.cost += single ? block.end.best + atEnd(block.end) : block.start.bestAfter
    const endFigure = block.end.node + moved + offset
    const end = this.node(endFigure)
    const lastStates = block.nodes.at(-1)!
    for (const state of closes ? lastStates : [block.end]) nodes.set(state, end)
    const nodeOf = (state: State): number => {
      let known = nodes.get(state)
      if (known === undefined) nodes.set(state, (known = this.node(state.node + moved + offset)))
      return known
    }
    for (const states of block.nodes)
      for (const state of states)
        for (const edge of state.out) {
          const cost = single ? 0 : extraOf(edge)
          if (cost === undefined || (!single && isTooDear(edge, block))) continue
          this.addEdge(edge, nodeOf(edge.from), nodeOf(edge.to), Math.max(0, cost), edge.figure + moved + offset, scale)
        }
    this.last = end
  }

  /** A group of semibreves becomes a chain, its price paid with the first. */
  private addEdge(edge: Edge, from: number, to: number, cost: number, figure: number, scale: Scale): void {
    let at = from
    for (let member = 0; member < edge.length; member++) {
      const next = member === edge.length - 1 ? to : this.node(figure + member + 1)
      const lasts = Math.round((ticksOf(edge, member) * scale.num) / scale.den)
      this.ways[at]!.push({ to: next, figure: figure + member, lasts, cost: member === 0 ? cost : 0, edge, member })
      at = next
    }
  }
}

const atEnd = (state: State): number => (state.bestAfter === Infinity ? 0 : state.bestAfter)

const isSingle = (block: Block): boolean =>
  block.nodes.every(states => states.length === 0 || (states.length === 1 && states[0]!.single))

/** What the edge costs beyond the cheapest way on; states that lead nowhere have none. */
function extraOf({ from, to, cost }: Edge): number | undefined {
  return to.bestAfter === Infinity || from.bestAfter === Infinity ? undefined : cost + to.bestAfter - from.bestAfter
}

const isTooDear = ({ from, to, cost }: Edge, { start }: Block): boolean =>
  from.best + cost + to.bestAfter - start.bestAfter > WIDE_BEAM

/** Gaps whose length is known, by the figure that follows; before the final what is sung after the part itself. */
function delaysOf(worked: WorkedVoice, scales: readonly Scale[], sung: Rational): Map<number, number> {
  const { cut, settled } = worked
  const delays = new Map<number, number>()
  const onScale = ({ num, den }: Rational, at: number): number => {
    // of several gaps at the very end the last stand in a stretch that was not kept; a ratio and its scale undo each other
    const stretch = Math.min(at, settled.length - 1)
    const scale = scales[stretch]!
    const { ratio } = settled[stretch]!.stretch.measuring
    return Math.round((num * ratio.num * UNIT * scale.num) / (den * ratio.den * scale.den))
  }
  let next = 0
  for (const { lasts, stretch, figure } of cut.entries) {
    if (figure >= 0) next++
    if (lasts === undefined) continue
    delays.set(next, (delays.get(next) ?? 0) + onScale(lasts, stretch))
  }
  const after = sung.num > 0 ? onScale(sung, settled.length - 1) : 0
  const final = finalOf(worked)
  if (after > 0 && final > 0) delays.set(final, (delays.get(final) ?? 0) + after)
  return delays
}

function finalOf({ settled }: WorkedVoice): number {
  let count = 0
  let final = -1
  for (const { stretch } of settled)
    for (const figure of stretch.figures) {
      if (figure.final) final = count
      count++
    }
  return final === count - 1 ? final : -1
}

function gridOf({ chosen }: WorkedVoice, tempus: 2 | 3, prolatio: 2 | 3, modus: 2 | 3, { num, den }: Scale): Grid {
  const unit = (UNIT * num) / den
  if (chosen.practice.unit === "tempus") return { strong: modus * unit, medium: unit }
  return { strong: tempus * prolatio * unit, medium: prolatio * unit }
}

/** A scale for each stretch of each voice on which all times are whole numbers (or, under wild proportions, nearly). */
export function scalesOf(voices: readonly WorkedVoice[], factor: (voice: WorkedVoice) => Rational): Scale[][] {
  const fractions = voices.map(voice =>
    voice.settled.map(({ stretch: { measuring } }) => {
      const by = factor(voice)
      return { num: by.num * measuring.ratio.den, den: by.den * measuring.ratio.num }
    }),
  )
  let common = 1
  for (const all of fractions) for (const { den } of all) common = widened(common, reduced(den))
  return fractions.map(all => all.map(({ num, den }) => ({ num: num * common, den, common })))
}

/** What of a denominator a whole number of ticks does not swallow. */
function reduced(den: number): number {
  for (const prime of [2, 2, 2, 2, 3, 3, 5, 7]) if (den % prime === 0) den /= prime
  return den
}

const WIDEST = 100_000

/** Beyond a certain width times are rounded instead: proportions upon proportions, which no piece means. */
function widened(common: number, den: number): number {
  const multiple = leastCommonMultiple(common, den)
  return multiple > WIDEST ? common : multiple
}
