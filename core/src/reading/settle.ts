/** From a settled block of the lattice to a decision for each figure, with the chances of every other duration. */
import { NOBODY, type RuleId } from "../practices/index.js"
import { withChances } from "./chances.js"
import { choiceOf, decidedAs, ticksOf, type Decided } from "./choices.js"
import type { Block, Edge, Standing, State } from "./lattice-parts.js"
import type { Path } from "./paths.js"

/** A block that is read: its decisions, and the other ways through it. */
export interface Settled {
  /** First figure of the block, and the states it goes from and to. */
  readonly start: Standing
  readonly end: Standing
  readonly decisions: readonly Decided[]
  readonly paths: readonly Path[]
  /** The block itself, where the voices are to be read together. */
  readonly block?: Block
  /** Figures by which it moved since it was laid. */
  readonly moved?: number
}

const NONE: readonly never[] = []

/** Settles the blocks of one voice. */
export class Settler {
  /** Decisions with nothing to tell but rule and duration: one for all figures alike, since most notes of a voice are. */
  private readonly plain = new Map<RuleId, Map<number, Decided>>()

  /** With `keep`, the blocks are kept for a reading together. */
  constructor(private readonly keep = false) {}

  settle(block: Block): Settled {
    const settled = this.decide(block)
    return this.keep ? { ...settled, block } : settled
  }

  private decide(block: Block): Settled {
    const chosen = chosenEdges(block)
    const start = bare(block.start)
    const end = bare(block.end)
    const single = block.nodes.every(
      states => states.length <= 1 && (states.length === 0 || states[0]!.out.length <= 1),
    )
    if (single) return { start, end, decisions: this.decisionsOf(chosen), paths: NONE }
    return { start, end, ...withChances(block, this.decisionsOf(chosen), new Set(chosen)) }
  }

  private decisionsOf(chosen: readonly Edge[]): Decided[] {
    const decisions: Decided[] = []
    for (const edge of chosen) {
      if (isPlain(edge)) {
        decisions.push(this.plainDecision(edge))
        continue
      }
      const choice = choiceOf(edge)
      for (let member = 0; member < edge.length; member++)
        decisions.push(decidedAs(choice, member, ticksOf(edge, member)))
    }
    // a list that grew has room for many more; these are kept
    return decisions.slice()
  }

  private plainDecision(edge: Edge): Decided {
    let byTicks = this.plain.get(edge.rule)
    if (byTicks === undefined) this.plain.set(edge.rule, (byTicks = new Map()))
    let known = byTicks.get(edge.ticks)
    if (known === undefined) byTicks.set(edge.ticks, (known = decidedAs(choiceOf(edge), 0, edge.ticks)))
    return known
  }
}

function isPlain(edge: Edge): boolean {
  const { offer, to } = edge
  if (
    edge.group !== undefined ||
    edge.overruledRun ||
    edge.left ||
    edge.openWall ||
    edge.crosses ||
    edge.from.shift > 0 ||
    to.shift > 0
  )
    return false
  if (
    offer.front !== undefined ||
    offer.back !== undefined ||
    offer.overruled === true ||
    (offer.dot !== undefined && offer.dot !== "none")
  )
    return false
  return to.opening === NOBODY || to.opener !== edge.figure
}

/** The state without what leads to and from it. */
const bare = ({ node, position, opening, opener, counted, shift }: State): Standing => ({
  node,
  position,
  opening,
  opener,
  counted,
  shift,
})

function chosenEdges(block: Block): Edge[] {
  const edges: Edge[] = []
  for (let edge = block.end.via; edge !== undefined; edge = edge.from.via) edges.push(edge)
  return edges.reverse()
}
