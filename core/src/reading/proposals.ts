/**
 * What the rules offer for a figure at a place of the count, weighed by where it ends. The same is met again and again,
 * so it is kept by all that rules can look at (the types `Seen`, `SeenNext` ... in `practices/figures.ts` let them look at
 * nothing else), and they are asked only where something new is met.
 */
import { NOBODY, type DotMeaning, type Mensuration, type Offer, type RuleId } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { keptFor, type Kept, type Kind } from "./kept-proposals.js"
import { PARTS, type LatticeInput } from "./lattice-parts.js"
import { Place } from "./place.js"
import { AS_BEFORE, Proposal } from "./proposal.js"
import { RuleTable } from "./rule-table.js"
import { MEANINGS } from "./rulings.js"
import { aroundOf, DOT_BEFORE, ownOf, runsOf } from "./surroundings.js"
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
  private kind: Kind | undefined
  private around = 0
  private runs = 0
  private period = 0
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
    const { figures } = this.input
    const figure = figures[i]!
    this.i = i
    this.period = this.periodOf(figure)
    this.runs = runsOf(figure)
    this.around = aroundOf(figures, i)
    this.kind = isUnique(figure) || this.runs < 0 ? undefined : this.kept.kindOf(ownOf(figure), figure.full)
  }

  /** Within so many ticks all places of the figure are different for the rules; further on they come again. */
  private periodOf({ level, softWall }: DraftFigure): number {
    if (softWall === true) return this.m.cycle
    return this.m.fence[level]! || this.m.anchor[level]!
  }

  /**
   * What may be of the figure where so much of the largest perfection is filled. `shifted`: perfections are counted from
   * where they were displaced; `carrying`: they are not, although a unit is carried; `dot`: what the dot before it was.
   */
  at(position: number, shifted: boolean, carrying: boolean, dot: DotMeaning): readonly Proposal[] {
    const { kind, kept, around, runs, period } = this
    const local = period > 0 ? position % period : 0
    const seen = (around & DOT_BEFORE) !== 0 ? dot : "none"
    if (kind === undefined) return this.ask(local, shifted, carrying, seen)
    const cell = kept.cellOf(kind, local, shifted, carrying, seen)
    const known = kept.find(cell, around, runs)
    if (known !== undefined) return known
    return kept.keep(cell, around, runs, this.place, this.ask(local, shifted, carrying, seen))
  }

  private ask(position: number, shifted: boolean, carrying: boolean, dot: DotMeaning): readonly Proposal[] {
    const figure = this.input.figures[this.i]!
    const anchor = this.m.anchor[figure.level]!
    const front = anchor > 0 ? position % anchor : 0
    this.found = []
    this.place.at(this.i, position, front, shifted, carrying, dot)
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
    const made = new Proposal(rule, ticks, offer)
    made.counted = offer.counted ?? ticks
    made.opening = offer.opening ?? NOBODY
    made.shift = offer.shift ?? AS_BEFORE
    made.price = cost
    this.weighing.weigh(made, this.place)
    made.asked = cost * PARTS
    made.price *= PARTS
    made.parts = Math.round(made.price)
    this.found.push(made)
  }
}

/** Fixed, coloured and of a shape of its own: figures of which hardly two are alike. */
const isUnique = ({ fixed, colouredTicks, localShape }: DraftFigure): boolean =>
  fixed !== undefined || colouredTicks !== undefined || localShape
