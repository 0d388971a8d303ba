/**
 * The lattice: every way to lay the figures of one stretch into its perfections. A node is a place between two figures,
 * a state is how much of the largest perfection is filled there (which says it for all smaller ones), an edge is one
 * figure (or a group of semibreves) with the duration a rule proposed. Costs are logarithms of odds, so the cheapest
 * path is the likeliest reading, and sums over all paths give the chance of each duration.
 *
 * Work is done block by block: where only one state survives, what is left of it no longer depends on what is right of
 * it, and the block is settled and let go. That keeps time linear and lets an edit be read again alone.
 */
import { NOBODY, SEMIBREVIS, type Mensuration } from "../practices/index.js"
import { keptShift, nextPerfection } from "./displacement.js"
import type { DraftFigure } from "./draft-figure.js"
import { Edge, PARTS, stateAs, type Block, type LatticeInput, type Standing, type State } from "./lattice-parts.js"
import { Nodes } from "./nodes.js"
import { AS_BEFORE, BY_ITS_END, Proposal } from "./proposal.js"
import { FREE, Proposals } from "./proposals.js"
import type { KnownStarts } from "./reuse.js"
import { slackOf } from "./rule-table.js"
import { fitsMarks, refuses } from "./rulings.js"
import { RunWeights } from "./run-weights.js"
import { singleCost } from "./semibreve-costs.js"
import { groupEdges, groupMayBe } from "./semibreve-groups.js"
import type { GroupOffer, GroupPlan } from "./semibreve-plan.js"
import { isStruck } from "./weighing.js"

/** A block is settled at the latest after so many figures, whatever is open. */
const LONGEST_BLOCK = 2000
/** Where there was no choice at all, figures are settled so many at a time. */
const CHAIN = 64

/** A semibreve of fixed length that stands by itself although all others are read in groups. */
const DECIDED_ALONE = 4

/** Walks through the stretch; `settle` is called for each block in order. */
export class Lattice {
  private readonly figures: readonly DraftFigure[]
  private readonly m: Mensuration
  private readonly runs: RunWeights
  private readonly proposals: Proposals
  private readonly nodes: Nodes
  // all costs here are in 1024ths
  private readonly beam: number
  private readonly slack: number
  private readonly open: number
  private readonly carryOn: number
  /** Cheapest cost known at the node that single figures lead to. */
  private nextBest = Infinity
  // what is under expansion
  private state!: State
  private figure!: DraftFigure
  /** The run before the figure was counted in an unusual way. */
  private overruledRun = false
  /** An editor decided something in this stretch; where nothing is left of it, that is passed over. */
  private ruled: boolean

  constructor(
    private readonly input: LatticeInput,
    private readonly settle: (block: Block) => void,
  ) {
    const { weights } = input.practice
    this.figures = input.figures
    this.beam = input.beam * PARTS
    this.nodes = new Nodes(input.beam)
    this.m = input.mensuration
    this.slack = slackOf(input.settings) * PARTS
    this.open = weights.open * PARTS
    this.carryOn = weights.carryOn * PARTS
    this.ruled = input.figures.some(f => f.ruling !== undefined || f.fixedBy === "decision")
    this.runs = new RunWeights(input)
    this.proposals = new Proposals(input)
  }

  /**
   * Reads from `start` on. Returns the state at the end. With `known`, what follows some places is known already: a
   * block is closed at each where only one state is left, and where that is the state known there the walk ends.
   */
  run(start: State, known?: KnownStarts): State {
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
    return last === undefined ? 0 : this.runs.atEnd(state) + this.proposals.weighing.ending(state, last)
  }

  private emit(end: State): void {
    const nodes = this.nodes.upTo(end.node)
    this.settle({ start: nodes[0]![0]!, end, nodes, single: !this.nodes.branched })
  }

  private expandNode(i: number): void {
    const next = this.nodes.at(i + 1)
    this.figure = this.figures[i]!
    this.proposals.turnTo(i)
    this.nextBest = Infinity
    for (const state of next) if (state.parts < this.nextBest) this.nextBest = state.parts
    for (const state of this.nodes.at(i)) this.expand(i, state)
    if (next.length > 0 || this.nodes.reach !== i) return
    const { ruling, full } = this.figure
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
    const { plan } = this.input
    const closing = state.opening === NOBODY ? 0 : this.runs.closing(state, i)
    this.overruledRun = this.runs.overrules(closing)
    if (plan !== undefined) {
      for (const offer of groupEdges(this.input, i, state.position)) this.addGroup(i, offer, closing)
      if (!plan.early && this.figure.level >= SEMIBREVIS && this.figure.fixed === undefined) return
    }
    const single = plan === undefined ? 0 : this.aloneCost(plan, i)
    if (single < Infinity) this.expandSingle(state, (closing + single) * PARTS)
  }

  /** What it costs that the figure is not read in a group, where semibreves are. */
  private aloneCost(plan: GroupPlan, i: number): number {
    const usual = plan.early ? singleCost(plan, this.figures, i) : 0
    if (this.figures[i]!.fixedBy !== "decision" || plan.to[i]! <= i) return usual
    return plan.early ? Math.min(usual, DECIDED_ALONE) : DECIDED_ALONE
  }

  /** The figure by itself: in the perfections as they stand, in displaced ones, and after one that is left open. */
  private expandSingle(state: State, extra: number): void {
    const anchor = this.m.anchor[this.figure.level]!
    this.propose(state.position, 0, extra, false)
    if (state.shift > 0) this.proposeShifted(state, anchor > 0 ? extra + this.carryOn : extra)
    if (anchor === 0 || state.position % anchor === 0) return
    if (state.parts + extra + this.open <= this.nextBest + this.beam)
      this.propose(nextPerfection(state.position, anchor, this.m.cycle), 0, extra + this.open, true)
  }

  /** While a unit is carried, perfections are counted from where it displaced them. */
  private proposeShifted(state: State, extra: number): void {
    if (this.figure.fixed === undefined)
      this.propose((state.position - state.shift + this.m.cycle) % this.m.cycle, state.shift, extra, false)
  }

  /** Lays what the rules offer for the figure at this place of the count. */
  private propose(position: number, shift: number, extra: number, left: boolean): void {
    const { state } = this
    const cost = state.parts + extra
    const limit = this.nextBest + this.beam
    if (cost > limit + this.slack || (left && this.figure.fixed !== undefined)) return
    const dot = state.via?.proposal.offer.dot ?? "none"
    const proposals = this.proposals.at(position, shift > 0, state.shift > 0 && shift === 0, dot)
    for (let n = 0; n < proposals.length; n++) {
      const proposal = proposals[n]!
      if (this.ruled && !this.mayBe(proposal)) continue
      if (cost + proposal.asked <= this.nextBest + this.beam) this.add(proposal, position, shift, extra, left)
    }
  }

  /** Whether the editor's decisions on the figure and its dot allow the proposal. */
  private mayBe({ rule, ticks, offer }: Proposal): boolean {
    const { ruling, dot } = this.figure
    if (ruling === undefined) return true
    return !refuses(ruling, ticks) && fitsMarks(ruling, rule, offer.dot ?? "none", dot !== undefined)
  }

  private addGroup(i: number, offer: GroupOffer, closing: number): void {
    if (this.ruled && !groupMayBe(offer, this.figures, i)) return
    const last = this.figures[i + offer.size - 1]!
    const end = this.state.position + (offer.fills ? offer.ticks : 0)
    const { weighing } = this.proposals
    const price = weighing.groupPrice(last, end, offer.cost + closing)
    const proposal = groupProposal(offer, isStruck(last), weighing.leavesOpen(last, end))
    const run = this.runs.follow(proposal, this.figure, this.state)
    this.lay(proposal, Math.round((price + run) * PARTS), i + offer.size, this.inCycle(end), 0, false)
  }

  private inCycle(position: number): number {
    const { cycle } = this.m
    return position < cycle ? position : cycle > 0 ? position % cycle : 0
  }

  /** No rule speaks: the undiminished value, at a price, so that the reading goes on. */
  private addUnruled(i: number): void {
    const { figure } = this
    this.state = this.nodes.at(i)[0]!
    this.overruledRun = false
    this.nextBest = Infinity
    const proposal = new Proposal(figure.fixedBy ?? "as-written", figure.fixed ?? figure.full, FREE)
    proposal.counted = proposal.ticks
    this.add(proposal, this.state.position, 0, this.beam, true)
  }

  /** Lays the proposal for a single figure at so much of the perfection, as it is counted under a displacement by `shift`. */
  private add(proposal: Proposal, position: number, shift: number, extra: number, left: boolean): void {
    const { state, runs } = this
    const end = position + proposal.ticks
    const to = this.inCycle(end + shift)
    const run = runs.follow(proposal, this.figure, state)
    const parts = extra === 0 && run === 0 ? proposal.parts : Math.round(proposal.price + extra + run * PARTS)
    this.lay(proposal, parts, state.node + 1, to, this.shiftAfter(proposal, end, to, shift), left)
  }

  private shiftAfter(proposal: Proposal, end: number, to: number, before: number): number {
    if (proposal.shift === AS_BEFORE) return before === 0 ? 0 : keptShift(this.m, to, before)
    return keptShift(this.m, to, proposal.shift === BY_ITS_END ? end % this.m.cycle : proposal.shift)
  }

  /** Lays an edge to `node`, where so much is filled, unless it is too dear. */
  private lay(proposal: Proposal, parts: number, node: number, position: number, shift: number, left: boolean): void {
    const { state, runs } = this
    const total = state.parts + parts
    if (node === state.node + 1) {
      if (total > this.nextBest + this.beam) return
      if (total < this.nextBest) this.nextBest = total
    }
    const to = this.nodes.reachedBy(runs, node, position, shift)
    this.nodes.link(new Edge(state, to, proposal, parts, left, this.overruledRun || runs.overruled), total)
  }
}

/** The group as a proposal; kept beside the offer, since one offer is met at many places. */
function groupProposal(offer: GroupOffer, wall: boolean, openWall: boolean): Proposal {
  const kept = (offer.proposals ??= [])
  return (kept[(wall ? 1 : 0) + (openWall ? 2 : 0)] ??= proposalOf(offer, wall, openWall))
}

function proposalOf(offer: GroupOffer, wall: boolean, openWall: boolean): Proposal {
  const made = new Proposal(offer.rules[0]!, offer.ticks, FREE)
  made.group = offer
  made.counted = offer.counted
  made.wall = wall
  made.openWall = openWall
  return made
}

const isSame = (a: Standing, b: Standing): boolean =>
  a.position === b.position &&
  a.opening === b.opening &&
  a.counted === b.counted &&
  a.shift === b.shift &&
  (a.opening === NOBODY || a.opener === b.opener)
