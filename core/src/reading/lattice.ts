/**
 * The lattice: every way to lay the figures of one stretch into its perfections. A node is a place between two figures,
 * a state is how much of the largest perfection is filled there (which says it for all smaller ones), an edge is one
 * figure (or a group of semibreves) with the duration a rule proposed. Costs are logarithms of odds, so the cheapest
 * path is the likeliest reading, and sums over all paths give the chance of each duration.
 *
 * Work is done block by block: where only one state survives, what is left of it no longer depends on what is right of
 * it, and the block is settled and let go. That keeps time linear and lets an edit be read again alone.
 */
import {
  NOBODY,
  SEMIBREVIS,
  TEMPUS_LEVEL,
  type Mensuration,
  type Offer,
  type RuleId,
  type Settings,
  type Weights,
} from "../practices/index.js"
import { Edge, State, stateAs, type Block, type LatticeInput, type Standing } from "./lattice-parts.js"
import { RuleTable } from "./rule-table.js"
import { RunWeights } from "./run-weights.js"
import { singleCost } from "./semibreve-costs.js"
import { groupEdges } from "./semibreve-groups.js"
import type { GroupOffer } from "./semibreve-plan.js"
import { Place } from "./place.js"
import type { DraftFigure } from "./stretches.js"

/**
 * States dearer than the best of their node by this much are let go (odds of one to 1,150). No sum of weights is exactly
 * this, so that rounding decides nothing.
 */
export const BEAM = 7.0473
/** Never more than this many states at one node. */
const WIDTH = 12
/** A block is settled at the latest after so many figures, whatever is open. */
const LONGEST_BLOCK = 2000

/** Where there was no choice at all, figures are settled so many at a time. */
const CHAIN = 64

const PLAIN: Partial<Offer> = {}
const FREE: Partial<Offer> = { free: true }

/** Walks through the stretch; `settle` is called for each block in order. */
export class Lattice {
  private readonly figures: readonly DraftFigure[]
  private readonly m: Mensuration
  private readonly weights: Weights
  private readonly settings: Settings
  private readonly rules: RuleTable
  private readonly runs: RunWeights
  private readonly place: Place
  private nodes: State[][] = []
  private blockStart = 0
  private reach = 0
  /** Some options make an offer cheaper than nothing. */
  private readonly slack: number
  /** Some figure of the block had more than one way. */
  private branched = false
  /** Cheapest cost known at the node that single figures lead to. */
  private nextBest = Infinity
  // what is under expansion
  private state!: State
  private extra = 0
  private overruledRun = false
  private left = false
  private shift = 0
  private crosses = false

  constructor(
    private readonly input: LatticeInput,
    private readonly settle: (block: Block) => void,
  ) {
    this.figures = input.figures
    this.m = input.mensuration
    this.weights = input.practice.weights
    this.settings = input.settings
    this.rules = new RuleTable(input.practice)
    this.slack = Object.values(input.settings).some(
      v => v === "tractatus-c1275" || v === "stretch" || v === "whole-by-alteration",
    )
      ? 6
      : 0
    this.runs = new RunWeights(input)
    this.place = new Place(this.m, input.settings, this.weights, input.figures, this)
  }

  /**
   * Reads from `start` on. Returns the state at the end. With `known`, what follows some places is known already: a
   * block is closed at each where only one state is left, and where that is the state known there the walk ends.
   */
  run(start: State, known?: ReadonlyMap<number, Standing>): State {
    const count = this.figures.length
    this.begin(start)
    for (let i = start.node; i < count; i++) {
      const states = this.prune(i)
      const length = i - this.blockStart
      const there = known?.get(i)
      const alone =
        this.reach === i &&
        length > 0 &&
        (states.length === 1 ? this.branched || length >= CHAIN || there !== undefined : length >= LONGEST_BLOCK)
      if (alone) {
        const fresh = this.close(states[0]!)
        if (there !== undefined && isSame(fresh, there)) return fresh
      }
      this.expandNode(i)
    }
    const end = this.join(this.prune(count))
    if (count > this.blockStart) this.emit(end)
    return end
  }

  private begin(start: State): void {
    start.best = 0
    this.blockStart = this.reach = start.node
    this.branched = false
    this.nodes = [[start]]
  }

  private at(node: number): State[] {
    return (this.nodes[node - this.blockStart] ??= [])
  }

  private prune(node: number): State[] {
    const states = this.at(node)
    if (states.length < 2) return states
    states.sort((a, b) => a.best - b.best)
    const limit = states[0]!.best + BEAM
    let keep = 1
    while (keep < states.length && keep < WIDTH && states[keep]!.best <= limit) keep++
    states.length = keep
    return states
  }

  /** Settles the block up to `state` and begins the next one there. */
  private close(state: State): State {
    state.bestAfter = 0
    this.emit(state)
    const fresh = stateAs(state)
    this.begin(fresh)
    return fresh
  }

  /** At the end several states may be left; the cheapest goes on, but the chances of all count. */
  private join(states: readonly State[]): State {
    let cheapest = states[0]!
    for (const state of states) {
      state.bestAfter = this.endCost(state)
      if (state.best + state.bestAfter < cheapest.best + cheapest.bestAfter) cheapest = state
    }
    return cheapest
  }

  /** What it costs to stop here: a perfection left open, a run after a long that would have wanted its first unit. */
  private endCost(state: State): number {
    const last = this.figures.at(-1)
    if (last === undefined) return 0
    let cost = 0
    if (state.opening !== NOBODY)
      cost += this.runs.price(state.opening, state.opener, state.counted, false, this.figures.length)
    if (this.input.endsAtSign)
      return cost + (this.misses(this.m.perfect[0] ?? 0, state.position) ? this.weights.signOpen : 0)
    const cell = Math.max(this.m.anchor[last.level]!, this.m.fence[last.level]!)
    return cost + (cell > 0 && state.position % cell !== 0 ? this.weights.endOpen : 0)
  }

  private emit(end: State): void {
    const nodes =
      this.nodes.length === end.node - this.blockStart + 1
        ? this.nodes
        : this.nodes.slice(0, end.node - this.blockStart + 1)
    this.settle({ start: nodes[0]![0]!, end, nodes })
    // prices are worked out again if ever needed; kept for a long voice they would outweigh the reading itself
    for (let i = this.blockStart; i < end.node; i++) this.figures[i]!.prices = undefined
  }

  private expandNode(i: number): void {
    const next = this.at(i + 1)
    this.nextBest = Infinity
    for (const state of next) if (state.best < this.nextBest) this.nextBest = state.best
    for (const state of this.at(i)) this.expand(i, state)
    if (next.length === 0 && this.reach === i) {
      this.state = this.at(i)[0]!
      this.overruledRun = false
      this.addUnruled(i)
    }
  }

  private expand(i: number, state: State): void {
    this.state = state
    const figure = this.figures[i]!
    const closing = this.closeRun(i, state)
    const plan = this.input.plan
    if (plan !== undefined) {
      for (const offer of groupEdges(this.input, i, state.position)) this.addGroup(i, offer, closing)
      if (!plan.early && figure.level >= SEMIBREVIS && figure.fixed === undefined) return
    }
    const extra = closing + (plan?.early === true ? singleCost(plan, i) : 0)
    const anchor = this.m.anchor[figure.level]!
    const front = anchor > 0 ? state.position % anchor : 0
    this.propose(i, state.position, front, extra, false)
    if (state.shift > 0) this.proposeShifted(i, state, anchor, extra)
    if (front > 0 && state.best + extra + this.weights.open <= this.nextBest + BEAM)
      this.propose(i, ahead(state.position, anchor, this.m.cycle), 0, extra + this.weights.open, true)
  }

  /** While a unit is carried, perfections are counted from where it displaced them. */
  private proposeShifted(i: number, state: State, anchor: number, extra: number): void {
    const local = (state.position - state.shift + this.m.cycle) % this.m.cycle
    this.shift = state.shift
    this.propose(i, local, anchor > 0 ? local % anchor : 0, extra + (anchor > 0 ? this.weights.carryOn : 0), false)
    this.shift = 0
  }

  private propose(i: number, position: number, front: number, extra: number, left: boolean): void {
    if (this.state.best + extra > this.nextBest + BEAM + this.slack) return
    this.extra = extra
    this.left = left
    this.place.at(
      i,
      position,
      front,
      this.shift > 0,
      this.state.shift > 0 && this.shift === 0,
      this.state.via?.offer.dot ?? "none",
    )
    const figure = this.figures[i]!
    if (figure.fixed !== undefined) {
      if (!left && this.shift === 0) this.take(figure.fixedBy!, figure.fixed, 0, FREE)
      return
    }
    for (const rule of this.rules.for(figure, this.m)) rule.propose!(this.place)
  }

  /** The count at the modus ends before a long, its rest, or anything larger. */
  private closeRun(i: number, state: State): number {
    this.overruledRun = false
    if (state.opening === NOBODY || this.figures[i]!.level > 1) return 0
    const before = this.figures[i - 1]
    const alterable =
      before !== undefined &&
      before.level === TEMPUS_LEVEL &&
      !before.rest &&
      !before.coloured &&
      this.letsAlter(this.figures[i]!)
    const cost = this.runs.price(state.opening, state.opener, state.counted, alterable, i)
    this.overruledRun = cost > 0.9
    return cost
  }

  private letsAlter(larger: DraftFigure): boolean {
    if (larger.shortLongRest) return false
    return (
      larger.level === 1 ||
      this.input.practice.unit === "tempus" ||
      this.settings["alterBeforeRemoteLarger"] !== "false"
    )
  }

  /** An offer of a rule, weighed by where it would end. */
  take(rule: RuleId, ticks: number, offerCost: number, offer: Partial<Offer> = PLAIN): void {
    const { place, state } = this
    const figure = place.figure
    let cost = offerCost + this.extra
    if (state.best + cost > this.nextBest + BEAM) return
    const across = offer.free === true ? 0 : this.across(figure, ticks, offer, place.position)
    this.crosses = across > 0
    cost += across
    const end = place.position + ticks
    let openWall = false
    let wall = offer.dot === "perfection" && figure.level < TEMPUS_LEVEL
    let shift = offer.shift ?? this.shift
    if (
      figure.dot !== undefined &&
      this.rules.divides &&
      (offer.dot === undefined || offer.dot === "none" || offer.dot === "division")
    ) {
      wall = true
      openWall = this.misses(figure.level - 1, end)
      cost += this.divisionCost(figure, rule, offer)
      if (openWall) {
        cost += this.weights.transport
        if (offer.shift === undefined) shift = end % this.m.cycle
      }
    }
    if (figure.stroke !== undefined && figure.strokeGroup !== true) {
      wall = true
      if (this.misses(figure.level - 1, end)) {
        cost += this.weights.strokeOpen
        openWall = true
      }
    }
    if (figure.softWall === true && this.misses(1, end)) cost += this.weights.softOpen
    this.add(
      figure,
      1,
      rule,
      ticks,
      cost,
      offer,
      end + this.shift,
      wall && figure.level <= TEMPUS_LEVEL,
      openWall,
      undefined,
      shift,
    )
  }

  /** What it costs that the figure lies across the end of a perfection it does not fill. */
  private across(figure: DraftFigure, ticks: number, offer: Partial<Offer>, position: number): number {
    const anchor = this.m.anchor[figure.level]!
    if (figure.rest) {
      const cell = anchor > 0 ? anchor : this.m.fence[figure.level]!
      return cell > 0 && (position % cell) + ticks > Math.max(cell, ticks) ? this.weights.restAcross : 0
    }
    const fence = this.m.fence[figure.level]!
    if (fence === 0 || (position % fence) + ticks <= fence) return 0
    return offer.dot === "augmentation" ? this.weights.across * 0.3 : this.weights.across
  }

  private misses(level: number, end: number): boolean {
    const cell = this.m.anchor[level < 0 ? 0 : level]!
    return cell > 0 && end % cell !== 0
  }

  /** A dot as division, weighed by the table of dots. */
  private divisionCost(figure: DraftFigure, rule: RuleId, offer: Partial<Offer>): number {
    if (offer.dot === "division" || figure.rest || this.input.practice.unit === "tempus" || figure.dotGiven === "div")
      return 0
    const third = figure.level > 0 && figure.level <= 4 && this.m.divisions[figure.level - 1] === 3
    const perfect = this.m.divisions[figure.level] === 3 && figure.level < 4
    if (!third) return this.weights.dotAgainstTable + (perfect ? 0 : 1)
    if (perfect) return rule === "similis-ante-similem" || rule === "nothing-acts" ? 0.2 : 0
    return companion(this.place) ? 1.2 : 0
  }

  private add(
    figure: DraftFigure,
    length: number,
    rule: RuleId,
    ticks: number,
    price: number,
    offer: Partial<Offer>,
    end: number,
    wall: boolean,
    openWall: boolean,
    group: GroupOffer | undefined,
    shift: number,
  ): void {
    const state = this.state
    const i = figure.index
    let cost = price
    let overruledRun = this.overruledRun
    let opening = figure.level <= 1 ? NOBODY : state.opening
    let opener = state.opener
    let counted = state.counted
    const own = group?.counted ?? offer.counted ?? ticks
    if (wall) {
      if (opening !== NOBODY) {
        const alterable = figure.level === TEMPUS_LEVEL && !figure.rest && this.settings["alterBeforeWall"] === "true"
        const paid = this.runs.price(opening, opener, counted + own, alterable, i)
        cost += paid
        overruledRun ||= paid > 0.9
      }
      opening = NOBODY
    } else if (offer.opening !== undefined && offer.opening !== NOBODY) {
      opening = offer.opening
      opener = i
      counted = 0
    } else if (opening !== NOBODY) counted += own
    if (opening === NOBODY) {
      opener = -1
      counted = 0
    }
    // whole 1024ths add up without rounding, so that a block reads the same wherever its count of costs began
    cost = Math.round(cost * 1024) / 1024
    const total = state.best + cost
    if (length === 1) {
      if (total > this.nextBest + BEAM) return
      if (total < this.nextBest) this.nextBest = total
    }
    const position = this.m.cycle > 0 ? end % this.m.cycle : 0
    const to = this.stateAt(
      i + length,
      position,
      opening,
      opener,
      counted,
      shift === 0 ? 0 : this.kept(position, shift),
    )
    const edge = new Edge(
      state,
      to,
      cost,
      i,
      length,
      rule,
      ticks,
      offer,
      overruledRun,
      this.left,
      openWall,
      group,
      this.crosses,
    )
    state.out.push(edge)
    if (state.out.length > 1) this.branched = true
    if (total < to.best) {
      to.best = total
      to.via = edge
    }
  }

  private addGroup(i: number, offer: GroupOffer, closing: number): void {
    this.left = this.crosses = false
    const last = this.figures[i + offer.size - 1]!
    const end = this.state.position + (offer.fills ? offer.ticks : 0)
    const wall = last.stroke !== undefined && last.strokeGroup !== true
    const openWall = wall && this.misses(1, end)
    const soft = last.softWall === true && this.misses(1, end) ? this.weights.softOpen : 0
    const cost = offer.cost + closing + soft + (openWall ? this.weights.strokeOpen : 0)
    this.add(this.figures[i]!, offer.size, offer.rules[0]!, offer.ticks, cost, FREE, end, wall, openWall, offer, 0)
  }

  /** No rule speaks: the undiminished value, at a price, so that the reading goes on. */
  private addUnruled(i: number): void {
    const figure = this.figures[i]!
    this.left = true
    this.nextBest = Infinity
    this.add(
      figure,
      1,
      "as-written",
      figure.full,
      BEAM,
      FREE,
      this.state.position + figure.full,
      false,
      false,
      undefined,
      0,
    )
  }

  /** The displacement ends where the perfection that was displaced is complete again. */
  private kept(position: number, shift: number): number {
    const cell = this.displaced(shift)
    return cell > 0 && position % cell !== 0 ? shift % cell : 0
  }

  /** The smallest perfection that `shift` does not fill: the one that is displaced by it. */
  private displaced(shift: number): number {
    for (let n = this.m.perfect.length - 1; n >= 0; n--) {
      const cell = this.m.full[this.m.perfect[n]!]!
      if (shift % cell !== 0) return cell
    }
    return 0
  }

  private stateAt(
    node: number,
    position: number,
    opening: number,
    opener: number,
    counted: number,
    shift: number,
  ): State {
    if (node > this.reach) this.reach = node
    const states = this.at(node)
    for (const state of states)
      if (
        state.position === position &&
        state.opening === opening &&
        state.counted === counted &&
        state.opener === opener &&
        state.shift === shift
      )
        return state
    const fresh = new State(node, position, opening, opener, counted, shift)
    states.push(fresh)
    return fresh
  }
}

const isSame = (a: Standing, b: Standing): boolean =>
  a.position === b.position &&
  a.opening === b.opening &&
  a.counted === b.counted &&
  a.shift === b.shift &&
  (a.opening === NOBODY || a.opener === b.opener)

const ahead = (position: number, cell: number, cycle: number): number => (Math.ceil(position / cell) * cell) % cycle

function companion(s: Place): boolean {
  return (
    (s.next !== undefined && s.next.level > s.figure.level) ||
    (s.previous !== undefined && s.previous.level > s.figure.level)
  )
}
