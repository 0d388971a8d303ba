/**
 * The lattice: every way to lay the figures of one stretch into its perfections. A node is a place between two figures,
 * a state is how much of the largest perfection is filled there (which says it for all smaller ones), an edge is one
 * figure (or a group of semibreves) with the duration a rule proposed. Costs are logarithms of odds, so the cheapest
 * path is the likeliest reading, and sums over all paths give the chance of each duration.
 *
 * Work is done block by block: where only one state survives, what is left of it no longer depends on what is right of
 * it, and the block is settled and let go. That keeps time linear and lets an edit be read again alone.
 */
import { NOBODY, SEMIBREVIS, type Mensuration, type Offer, type RuleId, type Weights } from "../practices/index.js"
import { keptShift, nextPerfection } from "./displacement.js"
import { Edge, stateAs, Step, type Block, type LatticeInput, type Standing, type State } from "./lattice-parts.js"
import { Nodes } from "./nodes.js"
import { Place } from "./place.js"
import { RuleTable, slackOf } from "./rule-table.js"
import { fitsMarks, MEANINGS, refuses } from "./rulings.js"
import { RunWeights } from "./run-weights.js"
import { singleCost } from "./semibreve-costs.js"
import { groupEdges, groupMayBe } from "./semibreve-groups.js"
import type { GroupOffer, GroupPlan } from "./semibreve-plan.js"
import type { DraftFigure } from "./draft-figure.js"
import { Weighing } from "./weighing.js"

/** A block is settled at the latest after so many figures, whatever is open. */
const LONGEST_BLOCK = 2000
/** Where there was no choice at all, figures are settled so many at a time. */
const CHAIN = 64

const PLAIN: Partial<Offer> = {}
const FREE: Partial<Offer> = { free: true }
/** A semibreve of fixed length that stands by itself although all others are read in groups. */
const DECIDED_ALONE = 4

/** Walks through the stretch; `settle` is called for each block in order. */
export class Lattice {
  private readonly figures: readonly DraftFigure[]
  private readonly m: Mensuration
  private readonly weights: Weights
  private readonly rules: RuleTable
  private readonly runs: RunWeights
  private readonly weighing: Weighing
  private readonly place: Place
  private readonly nodes: Nodes
  private readonly beam: number
  private readonly step = new Step()
  private readonly slack: number
  /** Cheapest cost known at the node that single figures lead to. */
  private nextBest = Infinity
  // what is under expansion
  private state!: State
  /** The run before the figure was counted in an unusual way. */
  private overruledRun = false
  /** What is paid for the place, beside the offer. */
  private extra = 0
  private left = false
  private shift = 0
  /** An editor decided something in this stretch; where nothing is left of it, that is passed over. */
  private ruled: boolean

  constructor(
    private readonly input: LatticeInput,
    private readonly settle: (block: Block) => void,
  ) {
    this.figures = input.figures
    this.beam = input.beam
    this.nodes = new Nodes(input.beam)
    this.m = input.mensuration
    this.weights = input.practice.weights
    this.rules = new RuleTable(input.practice)
    this.slack = slackOf(input.settings)
    this.ruled = input.figures.some(f => f.ruling !== undefined || f.fixedBy === "decision")
    this.runs = new RunWeights(input)
    this.weighing = new Weighing(input, this.rules.divides)
    this.place = new Place(this.m, input.settings, this.weights, input.figures, this)
  }

  /**
   * Reads from `start` on. Returns the state at the end. With `known`, what follows some places is known already: a
   * block is closed at each where only one state is left, and where that is the state known there the walk ends.
   */
  run(start: State, known?: ReadonlyMap<number, Standing>): State {
    const count = this.figures.length
    this.nodes.begin(start)
    for (let i = start.node; i < count; i++) {
      const states = this.nodes.prune(i)
      const there = known?.get(i)
      if (this.endsBlock(i, states, there !== undefined)) {
        const fresh = this.close(states[0]!)
        if (there !== undefined && isSame(fresh, there)) return fresh
      }
      this.expandNode(i)
    }
    const end = this.join(this.nodes.prune(count))
    if (count > this.nodes.start) this.emit(end)
    return end
  }

  /** Whether the block may end here: no edge goes past the node, and one state is left or the block is too long. */
  private endsBlock(i: number, states: readonly State[], known: boolean): boolean {
    const length = i - this.nodes.start
    if (this.nodes.reach !== i || length === 0) return false
    return states.length === 1 ? this.nodes.branched || length >= CHAIN || known : length >= LONGEST_BLOCK
  }

  /** Settles the block up to `state` and begins the next one there. */
  private close(state: State): State {
    state.bestAfter = 0
    this.emit(state)
    const fresh = stateAs(state)
    this.nodes.begin(fresh)
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

  /** What it costs to stop here: a run after a long that would have wanted its first unit, a perfection left open. */
  private endCost(state: State): number {
    const last = this.figures.at(-1)
    return last === undefined ? 0 : this.runs.atEnd(state) + this.weighing.ending(state, last)
  }

  private emit(end: State): void {
    const nodes = this.nodes.upTo(end.node)
    this.settle({ start: nodes[0]![0]!, end, nodes })
    // prices are worked out again if ever needed; kept for a long voice they would outweigh the reading itself
    for (let i = this.nodes.start; i < end.node; i++) this.figures[i]!.prices = undefined
  }

  private expandNode(i: number): void {
    const next = this.nodes.at(i + 1)
    this.nextBest = Infinity
    for (const state of next) if (state.best < this.nextBest) this.nextBest = state.best
    for (const state of this.nodes.at(i)) this.expand(i, state)
    if (next.length > 0 || this.nodes.reach !== i) return
    const { ruling, full } = this.figures[i]!
    if (ruling !== undefined && (ruling.not === undefined || refuses(ruling, full))) this.expandFreely(i)
    if (next.length === 0 && this.nodes.reach === i) this.addUnruled(i)
  }

  /** As if nothing had been decided here. */
  private expandFreely(i: number): void {
    this.ruled = false
    for (const state of this.nodes.at(i)) this.expand(i, state)
    this.ruled = true
  }

  private expand(i: number, state: State): void {
    this.state = state
    const figure = this.figures[i]!
    const { plan } = this.input
    const closing = this.runs.closing(state, i)
    this.overruledRun = this.runs.overrules(closing)
    if (plan !== undefined) {
      for (const offer of groupEdges(this.input, i, state.position)) this.addGroup(i, offer, closing)
      if (!plan.early && figure.level >= SEMIBREVIS && figure.fixed === undefined) return
    }
    const single = plan === undefined ? 0 : this.aloneCost(plan, i)
    if (single < Infinity) this.expandSingle(i, state, closing + single)
  }

  /** What it costs that the figure is not read in a group, where semibreves are. */
  private aloneCost(plan: GroupPlan, i: number): number {
    const usual = plan.early ? singleCost(plan, this.figures, i) : 0
    if (this.figures[i]!.fixedBy !== "decision" || plan.to[i]! <= i) return usual
    return plan.early ? Math.min(usual, DECIDED_ALONE) : DECIDED_ALONE
  }

  /** The figure by itself: in the perfections as they stand, in displaced ones, and after one that is left open. */
  private expandSingle(i: number, state: State, extra: number): void {
    const anchor = this.m.anchor[this.figures[i]!.level]!
    const front = anchor > 0 ? state.position % anchor : 0
    this.propose(i, state.position, front, extra, false)
    if (state.shift > 0) this.proposeShifted(i, state, anchor, extra)
    if (front > 0 && state.best + extra + this.weights.open <= this.nextBest + this.beam)
      this.propose(i, nextPerfection(state.position, anchor, this.m.cycle), 0, extra + this.weights.open, true)
  }

  /** While a unit is carried, perfections are counted from where it displaced them. */
  private proposeShifted(i: number, state: State, anchor: number, extra: number): void {
    const local = (state.position - state.shift + this.m.cycle) % this.m.cycle
    this.shift = state.shift
    this.propose(i, local, anchor > 0 ? local % anchor : 0, extra + (anchor > 0 ? this.weights.carryOn : 0), false)
    this.shift = 0
  }

  /** Asks the rules about the figure at this place of the count; their offers come back to `take`. */
  private propose(i: number, position: number, front: number, extra: number, left: boolean): void {
    const { state, shift } = this
    if (state.best + extra > this.nextBest + this.beam + this.slack) return
    this.extra = extra
    this.left = left
    this.place.at(i, position, front, shift > 0, state.shift > 0 && shift === 0, state.via?.offer.dot ?? "none")
    const figure = this.figures[i]!
    if (figure.fixed !== undefined) {
      if (!left && shift === 0) this.proposeFixed(figure)
      return
    }
    for (const rule of this.rules.for(figure, this.m, front > 0)) rule.propose!(this.place)
  }

  /** A fixed duration, with whatever its dot may be then. */
  private proposeFixed(figure: DraftFigure): void {
    const { fixedBy, dot, ruling, level, full } = figure
    const fixed = figure.fixed!
    if (dot === undefined || fixedBy === "given") return this.take(fixedBy!, fixed, 0, FREE)
    if (ruling?.dot !== undefined) return this.take(fixedBy!, fixed, 0, { free: true, dot: MEANINGS[ruling.dot] })
    const perfect = this.m.divisions[level] === 3
    if (perfect && fixed === full) this.take(fixedBy!, fixed, 0, { free: true, dot: "perfection" })
    const lengthened = !perfect && fixed === 1.5 * (figure.colouredTicks ?? full)
    this.take(fixedBy!, fixed, 0, lengthened ? { free: true, dot: "augmentation" } : FREE)
  }

  /** An offer of a rule, weighed by where it would end. */
  take(rule: RuleId, ticks: number, offerCost: number, offer: Partial<Offer> = PLAIN): void {
    const cost = offerCost + this.extra
    if (this.ruled && !this.mayBe(rule, ticks, offer)) return
    if (this.state.best + cost > this.nextBest + this.beam) return
    const step = this.step.begin(this.place.figure, rule, ticks, cost, offer)
    step.left = this.left
    step.shift = offer.shift ?? this.shift
    this.weighing.weigh(step, this.place)
    step.end += this.shift
    this.add(step)
  }

  /** Whether the editor's decisions on the figure and its dot allow the offer. */
  private mayBe(rule: RuleId, ticks: number, offer: Partial<Offer>): boolean {
    const { figure } = this.place
    const { ruling } = figure
    if (ruling === undefined) return true
    return !refuses(ruling, ticks) && fitsMarks(ruling, rule, offer.dot ?? "none", figure.dot !== undefined)
  }

  private addGroup(i: number, offer: GroupOffer, closing: number): void {
    if (this.ruled && !groupMayBe(offer, this.figures, i)) return
    const step = this.step.begin(this.figures[i]!, offer.rules[0]!, offer.ticks, offer.cost + closing, FREE)
    step.length = offer.size
    step.group = offer
    step.end = this.state.position + (offer.fills ? offer.ticks : 0)
    this.weighing.weighGroup(step, this.figures[i + offer.size - 1]!)
    this.add(step)
  }

  /** No rule speaks: the undiminished value, at a price, so that the reading goes on. */
  private addUnruled(i: number): void {
    const figure = this.figures[i]!
    this.state = this.nodes.at(i)[0]!
    this.overruledRun = false
    this.nextBest = Infinity
    const step = this.step.begin(figure, figure.fixedBy ?? "as-written", figure.fixed ?? figure.full, this.beam, FREE)
    step.left = true
    step.end = this.state.position + step.ticks
    this.add(step)
  }

  /** Lays the step as an edge, unless it is too dear. */
  private add(step: Step): void {
    const { state } = this
    step.overruledRun = this.overruledRun
    this.runs.follow(step, state)
    // whole 1024ths add up without rounding, so that a block reads the same wherever its count of costs began
    step.cost = Math.round(step.cost * 1024) / 1024
    const total = state.best + step.cost
    if (step.length === 1) {
      if (total > this.nextBest + this.beam) return
      if (total < this.nextBest) this.nextBest = total
    }
    const position = this.m.cycle > 0 ? step.end % this.m.cycle : 0
    step.shift = keptShift(this.m, position, step.shift)
    const to = this.nodes.reachedBy(step, step.figure.index + step.length, position)
    this.nodes.link(new Edge(state, to, step), total)
  }
}

const isSame = (a: Standing, b: Standing): boolean =>
  a.position === b.position &&
  a.opening === b.opening &&
  a.counted === b.counted &&
  a.shift === b.shift &&
  (a.opening === NOBODY || a.opener === b.opener)
