/** The settled blocks of a voice laid out as nodes and ways, figure by figure. */
import { ticksOf } from "../reading/choices.js"
import type { Block, Edge, State } from "../reading/lattice-parts.js"
import { WIDE_BEAM } from "../reading/nodes.js"

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

/** Times of a stretch on the shared scale: ticks times `num`, over `den`. */
export interface Scale {
  readonly num: number
  readonly den: number
  /** Times of one tick's length on the shared scale. */
  readonly common?: number
}

/** A block where it stands in a voice. */
export interface PlacedBlock {
  readonly block: Block
  /** What is added to the numbers of its figures to have those of the voice. */
  readonly by: number
  /** Its stretch, and the scale on which that is measured. */
  readonly stretch: number
  readonly scale: Scale
  /** It closes its stretch. */
  readonly closes: boolean
}

/** Number in the voice of the figure with which the block begins. */
export const figureOf = ({ block, by }: PlacedBlock): number => block.start.node + by

/** Blocks that follow each other, laid out one after the other; `from`: the first figure, numbered 0 here. */
export class BlockWays {
  readonly ways: Way[][] = [[]]
  readonly figureAt: number[] = [0]
  /** The node to which the blocks lead. */
  last = 0

  constructor(private readonly from = 0) {}

  /**
   * The states of the block become nodes; the last block of a stretch ends in one, whatever states are left there. Gives what the
   * voice's own cheapest way through it costs.
   */
  add({ block, by, scale, closes }: PlacedBlock): number {
    const shift = by - this.from
    const nodes = new Map<State, number>([[block.start, this.last]])
    const single = isSingle(block)
    const end = this.node(block.end.node + shift)
    for (const state of closes ? block.nodes.at(-1)! : [block.end]) nodes.set(state, end)
    const nodeOf = (state: State): number => {
      let known = nodes.get(state)
      if (known === undefined) nodes.set(state, (known = this.node(state.node + shift)))
      return known
    }
    for (const states of block.nodes)
      for (const state of states)
        for (let edge = state.first; edge !== undefined; edge = edge.beside) {
          const cost = single ? 0 : extraOf(edge)
          if (cost === undefined || (!single && isTooDear(edge, block))) continue
          this.addEdge(edge, nodeOf(edge.from), nodeOf(edge.to), Math.max(0, cost), edge.figure + shift, scale)
        }
    this.last = end
    return single ? block.end.best + atEnd(block.end) : block.start.bestAfter
  }

  private node(figure: number): number {
    this.figureAt.push(figure)
    return this.ways.push([]) - 1
  }

  /** A group of semibreves becomes a chain, its price paid with the first. */
  private addEdge(edge: Edge, from: number, to: number, cost: number, figure: number, scale: Scale): void {
    const { length } = edge
    let at = from
    for (let member = 0; member < length; member++) {
      const next = member === length - 1 ? to : this.node(figure + member + 1)
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
