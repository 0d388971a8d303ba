/** What an offer costs by the place where it ends: across a perfection's end, at a dot or stroke, at the end of a stretch. */
import { LONGA, MINIMA, TEMPUS_LEVEL, type Mensuration, type Weights } from "../practices/index.js"
import type { LatticeInput, State } from "./lattice-parts.js"
import type { Place } from "./place.js"
import { BY_ITS_END, type Proposal } from "./proposal.js"
import type { DraftFigure } from "./draft-figure.js"

/** A dotted note over a perfection's end is far less rare than a plain one: of the price of the latter so much is asked. */
const DOTTED_ACROSS = 0.3
/** By the table of dots: a division after a note that is no third and not perfect either, 2.7 times rarer still. */
const NOT_EVEN_PERFECT = 1
/** A division after a perfect note that is whole anyhow: the dot might rather be one of perfection, six to five. */
const AFTER_WHOLE = 0.2
/** A division where a smaller note stands by to be counted with the dot: addition is three times likelier. */
const WITH_COMPANION = 1.2
/** Rules by which a perfect note is whole without its dot. */
const WHOLE_ANYHOW = new Set(["similis-ante-similem", "nothing-acts"])

export class Weighing {
  private readonly m: Mensuration
  private readonly weights: Weights
  /** The dot after a figure is weighed by the table of dots: not before the Ars nova, where it only divides. */
  private readonly byTable: boolean

  constructor(
    private readonly input: LatticeInput,
    /** The practice has the rule `punctus-divisionis`. */
    private readonly divides: boolean,
  ) {
    this.m = input.mensuration
    this.weights = input.practice.weights
    this.byTable = input.practice.unit !== "tempus"
  }

  /** Adds to the proposal what its end costs; says what walls stand there, and whether it displaces what follows. */
  weigh(made: Proposal, place: Place): void {
    const { figure } = place
    const { offer } = made
    const end = place.position + made.ticks
    const across = offer.free === true ? 0 : this.across(made, place)
    made.crosses = across > 0
    made.price += across
    made.wall = offer.dot === "perfection" && figure.level < TEMPUS_LEVEL
    if (figure.dot !== undefined && this.divides && isDivision(made)) this.weighDivision(made, place, end)
    if (isStruck(figure)) {
      made.wall = true
      made.price += this.strokeCost(figure, figure.level - 1, end)
      if (this.misses(figure.level - 1, end)) made.openWall = true
    }
    made.price += this.softCost(figure, end)
    made.wall = made.wall && figure.level <= TEMPUS_LEVEL
  }

  /** The price of a group of semibreves that ends so, with the figure `last`. */
  groupPrice(last: DraftFigure, end: number, price: number): number {
    return price + this.softCost(last, end) + this.strokeCost(last, LONGA, end)
  }

  /** Whether a stroke after a group of semibreves that ends so closes no perfection. */
  leavesOpen(last: DraftFigure, end: number): boolean {
    return isStruck(last) && this.misses(LONGA, end)
  }

  /** What it costs to end in the middle of a perfection, at a sign or at the end of the voice. */
  ending(state: State, last: DraftFigure): number {
    if (this.input.endsAtSign) return this.misses(this.m.perfect[0] ?? 0, state.position) ? this.weights.signOpen : 0
    const cell = Math.max(this.m.anchor[last.level]!, this.m.fence[last.level]!)
    return cell > 0 && state.position % cell !== 0 ? this.weights.endOpen : 0
  }

  /** What it costs that the figure lies across the end of a perfection it does not fill. */
  private across({ ticks, offer }: Proposal, { figure, position }: Place): number {
    const fence = this.m.fence[figure.level]!
    if (figure.rest) {
      const cell = this.m.anchor[figure.level]! || fence
      return cell > 0 && (position % cell) + ticks > Math.max(cell, ticks) ? this.weights.restAcross : 0
    }
    if (fence === 0 || (position % fence) + ticks <= fence) return 0
    return offer.dot === "augmentation" ? this.weights.across * DOTTED_ACROSS : this.weights.across
  }

  /** A dot read as division: where no perfection of its level is full, it displaces those that follow. */
  private weighDivision(made: Proposal, place: Place, end: number): void {
    made.wall = true
    made.openWall = this.misses(place.figure.level - 1, end)
    made.price += this.divisionCost(made, place)
    if (!made.openWall) return
    made.price += this.weights.transport
    if (made.offer.shift === undefined) made.shift = BY_ITS_END
  }

  private strokeCost(figure: DraftFigure, level: number, end: number): number {
    return isStruck(figure) && this.misses(level, end) ? this.weights.strokeOpen : 0
  }

  private softCost(figure: DraftFigure, end: number): number {
    return figure.softWall === true && this.misses(LONGA, end) ? this.weights.softOpen : 0
  }

  /** No perfection of this level (or the largest part of it) is full at `end`. */
  private misses(level: number, end: number): boolean {
    const cell = this.m.anchor[level < 0 ? 0 : level]!
    return cell > 0 && end % cell !== 0
  }

  /** A dot as division, weighed by the table of dots. */
  private divisionCost({ rule, offer }: Proposal, place: Place): number {
    const { figure } = place
    if (!this.byTable || offer.dot === "division" || figure.rest || figure.dotGiven === "div") return 0
    const third = figure.level > 0 && figure.level <= MINIMA && this.m.divisions[figure.level - 1] === 3
    const perfect = this.m.divisions[figure.level] === 3 && figure.level < MINIMA
    if (!third) return this.weights.dotAgainstTable + (perfect ? 0 : NOT_EVEN_PERFECT)
    if (perfect) return WHOLE_ANYHOW.has(rule) ? AFTER_WHOLE : 0
    return hasCompanion(place) ? WITH_COMPANION : 0
  }
}

/** A stroke stands after it that parts perfections. */
export const isStruck = (figure: DraftFigure): boolean => figure.stroke !== undefined && figure.strokeGroup !== true

const isDivision = ({ offer }: Proposal): boolean =>
  offer.dot === undefined || offer.dot === "none" || offer.dot === "division"

/** A smaller figure stands beside it, to be counted with its dot. */
const hasCompanion = ({ figure, next, previous }: Place): boolean =>
  (next !== undefined && next.level > figure.level) || (previous !== undefined && previous.level > figure.level)
