/** What the lattice is made of. */
import type { Mensuration, Offer, Practice, RuleId, Settings } from "../practices/index.js"
import type { GroupOffer, GroupPlan } from "./semibreve-plan.js"
import type { DraftFigure } from "./stretches.js"

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

/** How much is filled, and what is still open, at one place between two figures. */
export class State implements Standing {
  /** Cheapest cost to get here, and the edge it comes by. */
  best = Infinity
  via: Edge | undefined = undefined
  readonly out: Edge[] = []
  /** The same from here to the end of the block. */
  bestAfter = Infinity
  next: Edge | undefined = undefined
  /** Sums of chances to get here and to go on, relative to `best` and `bestAfter`. */
  weight = 0
  weightAfter = 0

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
}

/** One figure, or a group of semibreves, with the duration a rule proposed. */
export class Edge {
  constructor(
    readonly from: State,
    readonly to: State,
    readonly cost: number,
    readonly figure: number,
    readonly length: number,
    readonly rule: RuleId,
    readonly ticks: number,
    readonly offer: Partial<Offer>,
    /** The group count of the run that ends here was overruled. */
    readonly overruledRun: boolean,
    /** A perfection was left open before it. */
    readonly left: boolean,
    /** The wall after it does not close a perfection. */
    readonly openWall: boolean,
    readonly group: GroupOffer | undefined,
    /** It lies across the end of a larger perfection. */
    readonly crosses: boolean,
  ) {}
}

export interface Block {
  readonly start: State
  readonly end: State
  /** States by node, from `start.node` to `end.node`. */
  readonly nodes: readonly (readonly State[])[]
}

export interface LatticeInput {
  readonly practice: Practice
  readonly settings: Settings
  readonly mensuration: Mensuration
  readonly figures: readonly DraftFigure[]
  /** A sign, a finis or a change of colour follows, where a perfection should be full. */
  readonly endsAtSign: boolean
  /** How runs of semibreves may be cut; undefined where they are read singly. */
  readonly plan: GroupPlan | undefined
}
