/** What the lattice is made of. */
import type { Mensuration, Practice, RuleId, Settings } from "../practices/index.js"
import type { Proposal } from "./proposal.js"
import type { GroupOffer, GroupPlan } from "./semibreve-plan.js"
import type { DraftFigure } from "./draft-figure.js"

/** What a state is, without the ways to and from it. */
export interface Standing {
  readonly node: number
  readonly position: number
  readonly opening: number
  readonly opener: number
  readonly counted: number
  readonly shift: number
}

export const stateAs = (s: Standing): State => new State(s.node, s.position, s.opening, s.opener, s.counted, s.shift)

/** Costs along a path are whole 1024ths: they add up without rounding, so that a block reads the same wherever its count began. */
export const PARTS = 1024
/** More than any cost, as a whole number: kept apart from endless ones, which take more room. */
const UNREACHED = 2 ** 30

/** How much is filled, and what is still open, at one place between two figures. */
export class State implements Standing {
  /** Cheapest cost to get here in 1024ths, and the edge it comes by. */
  parts = UNREACHED
  via: Edge | undefined = undefined
  /** The edges that lead on, in a chain: most states have one or two, and a list for each would take more room. */
  first: Edge | undefined = undefined
  /** The same from here to the end of the block. */
  bestAfter = Infinity
  next: Edge | undefined = undefined
  /** Where its sums of chances stand while they are worked out; -1 for one that was not worth following. */
  slot = -1

  constructor(
    readonly node: number,
    /** Ticks of the largest perfection already filled. */
    readonly position: number,
    /** How the modus run in progress was opened, by which figure, and written ticks counted since. */
    readonly opening: number,
    readonly opener: number,
    readonly counted: number,
    /** Ticks by which perfections are displaced while a unit is carried; 0 otherwise. */
    readonly shift: number,
  ) {}

  /** Cheapest cost to get here; Infinity where no edge leads. */
  get best(): number {
    return this.parts === UNREACHED ? Infinity : this.parts / PARTS
  }

  /** The edges that lead on, in the order they were laid. */
  get out(): Edge[] {
    const edges: Edge[] = []
    for (let edge = this.first; edge !== undefined; edge = edge.beside) edges.push(edge)
    return edges
  }

  /** There is no choice here. */
  get single(): boolean {
    return this.first?.beside === undefined
  }
}

/** What an edge says yes or no to, as bits of one number: there are a dozen edges a note, and room costs time. */
const LEFT = 1
const OVERRULED_RUN = 2
const CHOSEN = 4

/** One figure, or a group of semibreves, with the duration a rule proposed. */
export class Edge {
  private bits: number
  /** The next one from the same state. */
  beside: Edge | undefined = undefined

  constructor(
    readonly from: State,
    readonly to: State,
    readonly proposal: Proposal,
    /** Its cost in 1024ths. */
    readonly parts: number,
    left: boolean,
    overruledRun: boolean,
  ) {
    this.bits = (left ? LEFT : 0) | (overruledRun ? OVERRULED_RUN : 0)
  }

  get cost(): number {
    return this.parts / PARTS
  }
  get rule(): RuleId {
    return this.proposal.rule
  }
  get ticks(): number {
    return this.proposal.ticks
  }
  get group(): GroupOffer | undefined {
    return this.proposal.group
  }
  /** Index of its first figure. */
  get figure(): number {
    return this.from.node
  }
  /** How many figures it covers. */
  get length(): number {
    return this.to.node - this.from.node
  }
  /** A perfection was left open before it. */
  get left(): boolean {
    return (this.bits & LEFT) !== 0
  }
  /** The group count of the run that ends here was overruled. */
  get overruledRun(): boolean {
    return (this.bits & OVERRULED_RUN) !== 0
  }
  /** It lies on the way that the reading takes. */
  get chosen(): boolean {
    return (this.bits & CHOSEN) !== 0
  }
  choose(): void {
    this.bits |= CHOSEN
  }
}

export interface Block {
  readonly start: State
  readonly end: State
  /** States by node, from `start.node` to `end.node`. */
  readonly nodes: readonly (readonly State[])[]
  /** There is one way through it only. */
  readonly single: boolean
}

export interface LatticeInput {
  readonly practice: Practice
  readonly settings: Settings
  readonly mensuration: Mensuration
  readonly figures: readonly DraftFigure[]
  /** A sign, a finis or a change of colour follows, where a perfection should be full. */
  readonly endsAtSign: boolean
  /** How much dearer than the best of its place a state may be and still be followed. */
  readonly beam: number
  /** How runs of semibreves may be cut; undefined where they are read singly. */
  readonly plan: GroupPlan | undefined
}
