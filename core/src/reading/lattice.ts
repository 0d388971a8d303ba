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
  groupPreference, NOBODY, SEMIBREVIS, SHORTENED, TEMPUS_LEVEL, type DotMeaning, type GroupRule, type Mensuration, type Offer, type Practice, type Preference,
  type Rule, type RuleId, type Settings, type Situation, type Weights,
} from "../practices/index.js"
import { groupEdges, singleCost, type GroupOffer, type GroupPlan } from "./semibreve-groups.js"
import type { DraftFigure } from "./stretches.js"

/** States dearer than the best of their node by this much are let go (odds of one to 160,000). */
const BEAM = 12
/** Never more than this many states at one node. */
const WIDTH = 40
/** A block is settled at the latest after so many figures, whatever is open. */
const LONGEST_BLOCK = 2000

export interface State {
  readonly node: number
  readonly position: number
  /** How the modus run in progress was opened, by which figure, and ticks counted since. */
  readonly opening: number
  readonly opener: number
  readonly counted: number
  /** Ticks by which perfections are displaced while a unit is carried; 0 otherwise. */
  readonly shift: number
  /** Cheapest cost to get here, and all costs together (minus the logarithm of the sum of chances). */
  best: number
  mass: number
  via: Edge | undefined
  readonly out: Edge[]
  /** The same from here to the end of the block. */
  bestAfter: number
  massAfter: number
  next: Edge | undefined
}

export interface Edge {
  readonly from: State
  readonly to: State
  readonly cost: number
  readonly figure: number
  readonly length: number
  readonly rule: RuleId
  readonly ticks: number
  readonly front: number
  readonly back: number
  readonly dot: DotMeaning
  readonly overruled: boolean
  /** Figure whose group count was overruled when its run ended here; -1 for none. */
  readonly overruledOpener: number
  /** A perfection was left open before it. */
  readonly left: boolean
  /** The wall after it does not close a perfection. */
  readonly openWall: boolean
  readonly group: GroupOffer | undefined
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
  readonly startPosition: number
  /** A sign, a finis or a change of colour follows, where a perfection should be full. */
  readonly endsAtSign?: boolean
  /** How runs of semibreves may be cut; undefined where they are read singly. */
  readonly plan?: GroupPlan
  /** Begin at this figure (for reading again after an edit). */
  readonly from?: number
}

const logSum = (a: number, b: number): number => {
  if (a === Infinity) return b
  if (b === Infinity) return a
  return a < b ? a - Math.log1p(Math.exp(a - b)) : b - Math.log1p(Math.exp(b - a))
}

const newState = (node: number, position: number, opening: number, opener: number, counted: number, shift = 0): State => ({
  node, position, opening, opener, counted, shift, best: Infinity, mass: Infinity, via: undefined, out: [], bestAfter: Infinity, massAfter: Infinity, next: undefined,
})

/** Walks through the stretch; `settle` is called for each block in order. Returns the position at the end. */
export class Lattice {
  private readonly figures: readonly DraftFigure[]
  private readonly m: Mensuration
  private readonly rules: readonly Rule[]
  private readonly weights: Weights
  private readonly settings: Settings
  private readonly divides: boolean
  private readonly situation: MutableSituation
  private nodes: State[][] = []
  private blockStart = 0
  private reach = 0
  // the state and extra cost under expansion
  private state!: State
  private extra = 0
  private overruledOpener = -1
  private left = false
  private offered = 0
  private shift = 0

  constructor(private readonly input: LatticeInput, private readonly settle: (block: Block) => void) {
    this.figures = input.figures
    this.m = input.mensuration
    this.rules = input.practice.rules.filter(rule => rule.propose !== undefined)
    this.weights = input.practice.weights
    this.settings = input.settings
    this.divides = input.practice.rules.some(rule => rule.id === "punctus-divisionis")
    this.situation = new MutableSituation(this.m, input.settings, this.weights, this)
  }

  run(): number {
    const first = this.input.from ?? 0
    const count = this.figures.length
    let start = newState(first, this.input.startPosition, NOBODY, -1, 0)
    start.best = start.mass = 0
    this.blockStart = this.reach = first
    this.nodes = [[start]]
    for (let i = first; i < count; i++) {
      const states = this.prune(i)
      if (states.length === 1 && this.reach === i && i > this.blockStart) start = this.close(i, states[0]!)
      else if (i - this.blockStart >= LONGEST_BLOCK && this.reach === i) start = this.close(i, states[0]!)
      for (const state of this.at(i)) this.expand(i, state)
      if (this.at(i + 1).length === 0 && this.reach === i) this.fallback(i)
    }
    const last = this.prune(count)
    const end = this.join(last, count)
    if (count > this.blockStart) this.emit(end)
    return end.position
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

  /** Settles the block up to `node` and begins the next one there. */
  private close(node: number, state: State): State {
    this.emit(state)
    const fresh = newState(node, state.position, state.opening, state.opener, state.counted, state.shift)
    fresh.best = fresh.mass = 0
    this.nodes = [[fresh]]
    this.blockStart = this.reach = node
    return fresh
  }

  /** At the end several states may be left; the cheapest goes on, but the chances of all count. */
  private join(states: readonly State[], node: number): State {
    let cheapest: State | undefined
    for (const state of states) {
      state.bestAfter = state.massAfter = this.endCost(state)
      if (cheapest === undefined || state.best + state.bestAfter < cheapest.best + cheapest.bestAfter) cheapest = state
    }
    return cheapest ?? newState(node, 0, NOBODY, -1, 0)
  }

  /** What it costs to stop here: a perfection left open, a run after a long that would have wanted its first unit. */
  private endCost(state: State): number {
    const last = this.figures.at(-1)
    if (last === undefined) return 0
    let cost = 0
    if (state.opening !== NOBODY) {
      const preference = this.runPreference(state.opener, state.counted, false, this.figures.length)
      cost += state.opening === SHORTENED ? preference.short : preference.whole
    }
    if (this.input.endsAtSign) return cost + (this.misses(this.m.perfect[0] ?? 0, state.position) ? this.weights.signOpen : 0)
    const cell = Math.max(this.m.anchor[last.level]!, this.m.fence[last.level]!)
    return cost + (cell > 0 && state.position % cell !== 0 ? this.weights.endOpen : 0)
  }

  private emit(end: State): void {
    const nodes = this.nodes.slice(0, end.node - this.blockStart + 1)
    if (end.massAfter === Infinity) end.bestAfter = end.massAfter = 0
    for (let n = nodes.length - 1; n >= 0; n--) for (const state of nodes[n]!) lookAhead(state)
    this.settle({ start: nodes[0]![0]!, end, nodes })
  }

  private expand(i: number, state: State): void {
    this.state = state
    this.offered = 0
    const figure = this.figures[i]!
    const closing = this.closeRun(i, state)
    const anchor = this.m.anchor[figure.level]!
    const front = anchor > 0 ? state.position % anchor : 0
    this.propose(i, state.position, front, closing, false)
    if (state.shift > 0) this.proposeShifted(i, state, anchor, closing)
    if (front > 0) this.propose(i, ahead(state.position, anchor, this.m.cycle), 0, closing + this.weights.open, true)
    for (const offer of this.input.plan === undefined ? NO_GROUPS : groupEdges(this.input, i, state.position)) this.addGroup(i, offer, closing)
    if (this.offered === 0) this.addUnruled(i, closing)
  }

  /** While a unit is carried, perfections are counted from where it displaced them. */
  private proposeShifted(i: number, state: State, anchor: number, closing: number): void {
    const local = (state.position - state.shift + this.m.cycle) % this.m.cycle
    this.shift = state.shift
    this.propose(i, local, anchor > 0 ? local % anchor : 0, closing + (anchor > 0 ? this.weights.carryOn : 0), false)
    this.shift = 0
  }

  /** The count at the modus ends before a long, its rest, or anything larger. */
  private closeRun(i: number, state: State): number {
    this.overruledOpener = -1
    if (state.opening === NOBODY || this.figures[i]!.level > 1) return 0
    const before = this.figures[i - 1]
    const alterable = before !== undefined && before.level === TEMPUS_LEVEL && !before.rest && !before.coloured && this.letsAlter(this.figures[i]!)
    const preference = this.runPreference(state.opener, state.counted, alterable, i)
    const cost = state.opening === SHORTENED ? preference.short : preference.whole
    if (cost > 0.9) this.overruledOpener = state.opener
    return cost
  }

  private letsAlter(larger: DraftFigure): boolean {
    if (larger.shortLongRest) return false
    return larger.level === 1 || this.input.practice.unit === "tempus" || this.settings["alterBeforeRemoteLarger"] !== "false"
  }

  private runPreference(opener: number, counted: number, alterable: boolean, until: number): Preference {
    const units = counted / this.m.full[TEMPUS_LEVEL]!
    const startsWithRest = this.figures[opener]?.runs[1]?.startsWithRest ?? false
    const shortRest = this.figures[until]?.shortLongRest === true
    const preference = groupPreference(this.settings["groupRule.modus"] as GroupRule, 1, { units, alterable, startsWithRest, until })
    return shortRest && units === 1 ? this.beforeShortRest(until) : preference
  }

  /** One breve between a long and a two-breve rest joins whichever leaves nothing over: the rest, when no breve follows it. */
  private beforeShortRest(rest: number): Preference {
    const next = this.figures[rest + 1]
    return next !== undefined && next.level > 1 ? { whole: 1.2, short: 0 } : { whole: 0, short: 0.6 }
  }

  private propose(i: number, position: number, front: number, extra: number, left: boolean): void {
    const plan = this.input.plan
    if (plan !== undefined && !plan.early && this.figures[i]!.level >= SEMIBREVIS && this.figures[i]!.fixed === undefined) return
    this.extra = plan?.early === true ? extra + singleCost(plan, this.figures, this.m, i) : extra
    this.left = left
    const s = this.situation
    s.at(this.figures, i, position, front, this.shift > 0)
    const figure = this.figures[i]!
    if (figure.fixed !== undefined) {
      if (!left && this.shift === 0) s.offer(figure.fixedBy!, figure.fixed, 0, FREE)
      return
    }
    for (const rule of this.rules) rule.propose!(s)
  }

  /** Called by rules through the situation. */
  take(offer: Offer): void {
    const s = this.situation
    const figure = s.figure as DraftFigure
    const end = s.position + offer.ticks
    let cost = offer.cost + this.extra + this.across(offer, s.position)
    let openWall = false
    const divided = figure.dot !== undefined && this.divides && (offer.dot === "none" || offer.dot === "division")
    if (divided) {
      openWall = this.misses(figure.level - 1, end)
      cost += this.divisionCost(figure, offer) + (openWall ? this.weights.transport : 0)
    }
    const stroke = figure.stroke !== undefined && !figure.strokeGroup
    if (stroke && this.misses(figure.level - 1, end)) {
      cost += this.weights.strokeOpen
      openWall = true
    }
    const wall = stroke || divided || offer.dot === "perfection"
    const shift = offer.shift > 0 ? offer.shift : openWall && divided ? end % this.m.cycle : this.shift
    this.add(figure.index, 1, offer, cost, end + this.shift, wall && figure.level <= TEMPUS_LEVEL, openWall, undefined, shift)
  }

  /** What it costs that the figure lies across the end of a perfection it does not fill. */
  private across(offer: Offer, position: number): number {
    if (offer.free) return 0
    const figure = this.situation.figure
    const anchor = this.m.anchor[figure.level]!
    if (figure.rest) {
      const cell = anchor > 0 ? anchor : this.m.fence[figure.level]!
      return cell > 0 && (position % cell) + offer.ticks > Math.max(cell, offer.ticks) ? this.weights.restAcross : 0
    }
    const fence = this.m.fence[figure.level]!
    if (fence === 0 || (position % fence) + offer.ticks <= fence) return 0
    return offer.dot === "augmentation" ? this.weights.across * 0.3 : this.weights.across
  }

  private misses(level: number, end: number): boolean {
    const cell = this.m.anchor[Math.max(level, 0)]!
    return cell > 0 && end % cell !== 0
  }

  /** A dot as division, weighed by the table of dots. */
  private divisionCost(figure: DraftFigure, offer: Offer): number {
    if (offer.dot === "division" || figure.rest || this.input.practice.unit === "tempus") return 0
    if (figure.dotGiven === "div") return 0
    const third = figure.level > 0 && figure.level <= 4 && this.m.divisions[figure.level - 1] === 3
    const perfect = this.m.divisions[figure.level] === 3 && figure.level < 4
    if (!third) return this.weights.dotAgainstTable + (perfect ? 0 : 1)
    if (perfect) return offer.rule === "similis-ante-similem" || offer.rule === "nothing-acts" ? 0.2 : 0
    return companion(this.situation) ? 1.2 : 0
  }

  private add(i: number, length: number, offer: Offer, cost: number, end: number, wall: boolean, openWall: boolean, group: GroupOffer | undefined, shift = 0): void {
    const state = this.state
    const figure = this.figures[i]!
    let { opening, opener, counted } = state
    if (figure.level <= 1) opening = NOBODY
    let overruledOpener = this.overruledOpener
    if (wall && opening !== NOBODY) {
      const preference = this.runPreference(opener, counted + offer.counted, figure.level === TEMPUS_LEVEL && !figure.rest && this.settings["alterBeforeWall"] === "true", i)
      const price = opening === SHORTENED ? preference.short : preference.whole
      cost += price
      if (price > 0.9) overruledOpener = opener
    }
    if (wall) opening = NOBODY
    else if (offer.opening !== NOBODY) {
      opening = offer.opening
      opener = i
      counted = 0
    } else if (opening !== NOBODY) counted += offer.counted
    if (opening === NOBODY) {
      opener = -1
      counted = 0
    }
    const position = this.m.cycle > 0 ? end % this.m.cycle : 0
    const to = this.stateAt(i + length, position, opening, opener, counted, this.kept(figure.level, position, shift))
    const edge: Edge = {
      from: state, to, cost, figure: i, length, rule: offer.rule, ticks: offer.ticks, front: offer.front, back: offer.back, dot: offer.dot,
      overruled: offer.overruled, overruledOpener, left: this.left, openWall, group,
    }
    state.out.push(edge)
    this.offered++
    to.mass = logSum(to.mass, state.mass + cost)
    if (state.best + cost < to.best) {
      to.best = state.best + cost
      to.via = edge
    }
  }

  private addGroup(i: number, offer: GroupOffer, closing: number): void {
    this.left = false
    const last = this.figures[i + offer.size - 1]!
    const end = this.state.position + (offer.fills ? offer.ticks : 0)
    const wall = last.stroke !== undefined && !last.strokeGroup
    const openWall = wall && this.misses(1, end)
    const cost = offer.cost + closing + (openWall ? this.weights.strokeOpen : 0)
    this.add(i, offer.size, { ...FREE_OFFER, rule: offer.rules[0]!, ticks: offer.ticks, counted: offer.fills ? offer.counted : 0 }, cost, end, wall, openWall, offer)
  }

  /** No rule speaks: the undiminished value, at a price, so that the reading goes on. */
  private addUnruled(i: number, closing: number): void {
    const figure = this.figures[i]!
    if (this.input.practice.unit === "tempus" && figure.level >= SEMIBREVIS && this.reach > i) return
    this.left = true
    this.add(i, 1, { ...FREE_OFFER, rule: "as-written", ticks: figure.full, counted: figure.full }, closing + BEAM, this.state.position + figure.full, false, false, undefined)
  }

  private fallback(i: number): void {
    this.state = this.at(i)[0] ?? newState(i, 0, NOBODY, -1, 0)
    this.addUnruled(i, 0)
  }

  /** The displacement ends where a perfection of the level that was displaced is complete again. */
  private kept(level: number, position: number, shift: number): number {
    if (shift === 0) return 0
    const cell = this.displaced(shift)
    void level
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

  private stateAt(node: number, position: number, opening: number, opener: number, counted: number, shift: number): State {
    if (node > this.reach) this.reach = node
    const states = this.at(node)
    for (const state of states)
      if (state.position === position && state.opening === opening && state.counted === counted && state.opener === opener && state.shift === shift) return state
    const fresh = newState(node, position, opening, opener, counted, shift)
    states.push(fresh)
    return fresh
  }
}

function lookAhead(state: State): void {
  for (const edge of state.out) {
    state.massAfter = logSum(state.massAfter, edge.cost + edge.to.massAfter)
    if (edge.cost + edge.to.bestAfter < state.bestAfter) {
      state.bestAfter = edge.cost + edge.to.bestAfter
      state.next = edge
    }
  }
}

const ahead = (position: number, cell: number, cycle: number): number => (Math.ceil(position / cell) * cell) % cycle

function companion(s: Situation): boolean {
  return (s.next !== undefined && s.next.level > s.figure.level) || (s.previous !== undefined && s.previous.level > s.figure.level)
}

const NO_GROUPS: readonly GroupOffer[] = []
const FREE_OFFER: Offer = { rule: "", ticks: 0, cost: 0, front: 0, back: 0, counted: 0, opening: NOBODY, dot: "none", overruled: false, shift: 0, free: true }
const FREE: Partial<Offer> = { free: true, dot: "none" }

class MutableSituation implements Situation {
  figure!: DraftFigure
  next: DraftFigure | undefined
  previous: DraftFigure | undefined
  position = 0
  front = 0
  shifted = false
  private figures!: readonly DraftFigure[]
  constructor(readonly mensuration: Mensuration, readonly settings: Settings, readonly weights: Weights, private readonly lattice: Lattice) {}

  ahead(distance: number): DraftFigure | undefined {
    return this.figures[this.figure.index + distance]
  }

  at(figures: readonly DraftFigure[], i: number, position: number, front: number, shifted: boolean): void {
    this.figures = figures
    this.shifted = shifted
    this.figure = figures[i]!
    this.next = figures[i + 1]
    this.previous = figures[i - 1]
    this.position = position
    this.front = front
  }

  offer(rule: RuleId, ticks: number, cost: number, more?: Partial<Offer>): void {
    this.lattice.take({
      rule, ticks, cost, front: more?.front ?? 0, back: more?.back ?? 0, counted: more?.counted ?? ticks, opening: more?.opening ?? NOBODY,
      dot: more?.dot ?? "none", overruled: more?.overruled ?? false, shift: more?.shift ?? 0, free: more?.free ?? false,
    })
  }
}
