/** What the lattice is made of. */
import type { Mensuration, Offer, Practice, RuleId, Settings } from "../practices/index.js"
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

/**
 * An offer on its way to an edge: what it costs so far, and where it ends. There is one object for a whole walk, filled
 * afresh for each offer, since most offers are too dear to become edges.
 */
export class Step {
  figure!: DraftFigure
  /** How many figures it covers. */
  length = 1
  rule: RuleId = ""
  ticks = 0
  cost = 0
  offer: Partial<Offer> = {}
  group: GroupOffer | undefined = undefined
  /** Ticks of the largest perfection filled at its end; more than a cycle where it goes over. */
  end = 0
  /** Ticks by which perfections are displaced after it. */
  shift = 0
  /** A dot or stroke that parts perfections stands after it; no perfection is full there. */
  wall = false
  openWall = false
  /** It lies across the end of a larger perfection. */
  crosses = false
  /** A perfection was left open before it. */
  left = false
  /** The group count of a run that ends here was overruled. */
  overruledRun = false
  /** The run at the modus after it, as in a state. */
  opening = 0
  opener = -1
  counted = 0

  /** Takes up another offer: ends in no wall, shifts nothing. */
  begin(figure: DraftFigure, rule: RuleId, ticks: number, cost: number, offer: Partial<Offer>): this {
    this.figure = figure
    this.length = 1
    this.rule = rule
    this.ticks = ticks
    this.cost = cost
    this.offer = offer
    this.group = undefined
    this.shift = 0
    this.wall = this.openWall = this.crosses = this.left = false
    return this
  }
}

/** One figure, or a group of semibreves, with the duration a rule proposed. */
export class Edge {
  readonly cost: number
  /** Index of its first figure, and how many it covers. */
  readonly figure: number
  readonly length: number
  readonly rule: RuleId
  readonly ticks: number
  readonly offer: Partial<Offer>
  /** The group count of the run that ends here was overruled. */
  readonly overruledRun: boolean
  /** A perfection was left open before it. */
  readonly left: boolean
  /** The wall after it does not close a perfection. */
  readonly openWall: boolean
  readonly group: GroupOffer | undefined
  /** It lies across the end of a larger perfection. */
  readonly crosses: boolean

  constructor(
    readonly from: State,
    readonly to: State,
    step: Step,
  ) {
    this.cost = step.cost
    this.figure = step.figure.index
    this.length = step.length
    this.rule = step.rule
    this.ticks = step.ticks
    this.offer = step.offer
    this.overruledRun = step.overruledRun
    this.left = step.left
    this.openWall = step.openWall
    this.group = step.group
    this.crosses = step.crosses
  }
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
  /** How much dearer than the best of its place a state may be and still be followed. */
  readonly beam: number
  /** How runs of semibreves may be cut; undefined where they are read singly. */
  readonly plan: GroupPlan | undefined
}
