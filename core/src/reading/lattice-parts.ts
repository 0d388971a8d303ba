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
  /** The edges that lead on, in a chain: most states have one or two, and a list for each would take more room. */
  first: Edge | undefined = undefined
  private last: Edge | undefined = undefined
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

  leadOn(edge: Edge): void {
    if (this.last === undefined) this.first = edge
    else this.last.beside = edge
    this.last = edge
  }
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

/** What an edge says yes or no to, as bits of one number: there are a dozen edges a note, and room costs time. */
const LEFT = 1
const OPEN_WALL = 2
const CROSSES = 4
const OVERRULED_RUN = 8

/** One figure, or a group of semibreves, with the duration a rule proposed. */
export class Edge {
  readonly cost: number
  readonly rule: RuleId
  readonly ticks: number
  readonly offer: Partial<Offer>
  readonly group: GroupOffer | undefined
  private readonly bits: number
  /** The next one from the same state. */
  beside: Edge | undefined = undefined

  constructor(
    readonly from: State,
    readonly to: State,
    step: Step,
  ) {
    this.cost = step.cost
    this.rule = step.rule
    this.ticks = step.ticks
    this.offer = step.offer
    this.group = step.group
    this.bits =
      (step.left ? LEFT : 0) |
      (step.openWall ? OPEN_WALL : 0) |
      (step.crosses ? CROSSES : 0) |
      (step.overruledRun ? OVERRULED_RUN : 0)
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
  /** The wall after it does not close a perfection. */
  get openWall(): boolean {
    return (this.bits & OPEN_WALL) !== 0
  }
  /** It lies across the end of a larger perfection. */
  get crosses(): boolean {
    return (this.bits & CROSSES) !== 0
  }
  /** The group count of the run that ends here was overruled. */
  get overruledRun(): boolean {
    return (this.bits & OVERRULED_RUN) !== 0
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
