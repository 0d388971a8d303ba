/**
 * What the rules offer for a figure at a place of the count, weighed by where it ends. The same is met again and again,
 * so it is kept by all that rules can look at (the types `Seen`, `SeenNext` ... in `practices/figures.ts` let them look at
 * nothing else), and they are asked only where something new is met.
 */
import { NOBODY, type DotMeaning, type Mensuration, type Offer, type RuleId } from "../practices/index.js"
import { keptShift } from "./displacement.js"
import type { DraftFigure } from "./draft-figure.js"
import { PARTS, type LatticeInput } from "./lattice-parts.js"
import { Place } from "./place.js"
import { Proposal } from "./proposal.js"
import { keptFor, type Kept, type Surroundings } from "./kept-proposals.js"
import { RuleTable } from "./rule-table.js"
import { MEANINGS } from "./rulings.js"
import { Weighing } from "./weighing.js"

export const FREE: Partial<Offer> = { free: true }
const PLAIN: Partial<Offer> = {}
const NONE: readonly Proposal[] = []

export class Proposals {
  readonly weighing: Weighing
  private readonly rules: RuleTable
  private readonly place: Place
  private readonly m: Mensuration
  private readonly kept: Kept
  private i = -1
  /** Undefined for figures of which each is another: they are asked about anew. */
  private surroundings: Surroundings | undefined
  private shift = 0
  private found: Proposal[] = []

  constructor(private readonly input: LatticeInput) {
    const { practice, settings, mensuration, figures } = input
    this.m = mensuration
    this.rules = new RuleTable(practice)
    this.weighing = new Weighing(input, this.rules.divides)
    this.place = new Place(mensuration, settings, practice.weights, figures, this)
    this.kept = keptFor(practice, settings, mensuration)
  }

  /** Turns to another figure. */
  turnTo(i: number): void {
    this.i = i
    const { fixed, colouredTicks, localShape } = this.input.figures[i]!
    const own = fixed !== undefined || colouredTicks !== undefined || localShape
    this.surroundings = own ? undefined : this.kept.surroundingsOf(this.input.figures, i)
  }

  /**
   * What may be of the figure where so much of the largest perfection is filled. `shift`: perfections are counted from
   * where they were displaced; `carrying`: they are not, although a unit is carried; `dot`: what the dot before it was.
   */
  at(position: number, shift: number, carrying: boolean, dot: DotMeaning): readonly Proposal[] {
    const { surroundings, kept } = this
    if (surroundings === undefined) return this.ask(position, shift, carrying, dot)
    const seen = surroundings.dotBefore ? dot : "none"
    const known = kept.find(surroundings, position, shift, carrying, seen)
    if (known !== undefined) return known
    return kept.keep(surroundings, position, shift, carrying, seen, this.ask(position, shift, carrying, seen))
  }

  private ask(position: number, shift: number, carrying: boolean, dot: DotMeaning): readonly Proposal[] {
    const figure = this.input.figures[this.i]!
    const anchor = this.m.anchor[figure.level]!
    const front = anchor > 0 ? position % anchor : 0
    this.found = []
    this.shift = shift
    this.place.at(this.i, position, front, shift > 0, carrying, dot)
    if (figure.fixed !== undefined) this.proposeFixed(figure)
    else for (const rule of this.rules.for(figure, this.m, front > 0)) rule.propose!(this.place)
    return this.found.length === 0 ? NONE : this.found
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
  take(rule: RuleId, ticks: number, cost: number, offer: Partial<Offer> = PLAIN): void {
    const { place, m } = this
    const made = new Proposal(rule, ticks, offer)
    made.counted = offer.counted ?? ticks
    made.opening = offer.opening ?? NOBODY
    made.shift = offer.shift ?? this.shift
    made.end = place.position + ticks
    made.price = cost
    this.weighing.weigh(made, place)
    made.asked = cost * PARTS
    made.price *= PARTS
    const end = made.end + this.shift
    made.end = m.cycle > 0 ? end % m.cycle : 0
    made.shift = keptShift(m, made.end, made.shift)
    this.found.push(made)
  }
}
