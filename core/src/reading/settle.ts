/** From a settled block of the lattice to a decision for each figure, with the chances of every other duration. */
import { lookAhead, withChances } from "./chances.js"
import { choiceOf, decidedAs, ticksOf, type Choice, type Decided } from "./choices.js"
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
  /** Decisions without a doubt, one for all figures alike: most notes of a voice have one of a few. */
  private readonly singles = new Map<Choice, Decided>()
  /** The same for the figures of a group. */
  private readonly groups = new Map<Choice, readonly Decided[]>()
  /** The end of the block settled last. */
  private last: Standing | undefined

  /** With `keep`, the blocks are kept for a reading together; with `bare`, nothing is decided in them. */
  constructor(
    readonly keep = false,
    private readonly bare = false,
  ) {}

  settle(block: Block): Settled {
    const settled = this.bare ? this.undecided(block) : this.decide(block)
    return this.keep ? { ...settled, block } : settled
  }

  private undecided(block: Block): Settled {
    lookAhead(block)
    return { start: this.startOf(block.start), end: (this.last = bare(block.end)), decisions: NONE, paths: NONE }
  }

  private decide(block: Block): Settled {
    const edges = chooseEdges(block)
    const start = this.startOf(block.start)
    const end = (this.last = bare(block.end))
    const decisions = this.decisionsOf(edges, end.node - start.node)
    const paths = block.single ? NONE : withChances(block, decisions)
    return { start, end, decisions, paths }
  }

  /** Decisions for the edges that were chosen. */
  private decisionsOf(edges: number, figures: number): Decided[] {
    // a list that grows has room for many more; these are kept
    const decisions = new Array<Decided>(figures)
    let at = 0
    for (let n = edges - 1; n >= 0; n--) {
      const choice = choiceOf(chosen[n]!)
      if (choice.group === undefined) decisions[at++] = this.single(choice)
      else for (const member of this.members(choice)) decisions[at++] = member
    }
    return decisions
  }

  private members(choice: Choice): readonly Decided[] {
    let known = this.groups.get(choice)
    if (known === undefined)
      this.groups.set(
        choice,
        (known = Array.from({ length: choice.length }, (_, n) => decidedAs(choice, n, ticksOf(choice, n)))),
      )
    return known
  }

  private single(choice: Choice): Decided {
    let known = this.singles.get(choice)
    if (known === undefined) this.singles.set(choice, (known = decidedAs(choice, 0, choice.ticks)))
    return known
  }

  /** Where a block starts: one object with the end of the block before, if it goes on from there. */
  private startOf(state: State): Standing {
    const { last } = this
    return last !== undefined && isSame(last, state) ? last : bare(state)
  }
}

const isSame = (a: Standing, b: Standing): boolean =>
  a.node === b.node &&
  a.position === b.position &&
  a.opening === b.opening &&
  a.opener === b.opener &&
  a.counted === b.counted &&
  a.shift === b.shift

/** The state without what leads to and from it. */
const bare = ({ node, position, opening, opener, counted, shift }: State): Standing => ({
  node,
  position,
  opening,
  opener,
  counted,
  shift,
})

/** The edges of the cheapest path of a block, the last first; written anew for each. */
const chosen: Edge[] = []

/** Lays the edges into `chosen`; gives their number. */
function chooseEdges({ end }: Block): number {
  let count = 0
  for (let edge = end.via; edge !== undefined; edge = edge.from.via) {
    edge.choose()
    chosen[count++] = edge
  }
  return count
}
