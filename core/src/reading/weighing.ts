/** What an offer costs by the place where it ends: across a perfection's end, at a dot or stroke, at the end of a stretch. */
import { LONGA, MINIMA, TEMPUS_LEVEL, type Mensuration, type Weights } from "../practices/index.js"
import type { LatticeInput, State, Step } from "./lattice-parts.js"
import type { Place } from "./place.js"
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

  /** Adds to the step what its end costs; says what walls stand there, and whether it displaces what follows. */
  weigh(step: Step, place: Place): void {
    const { figure, offer } = step
    const end = place.position + step.ticks
    const across = offer.free === true ? 0 : this.across(step, place.position)
    step.crosses = across > 0
    step.cost += across
    step.end = end
    step.wall = offer.dot === "perfection" && figure.level < TEMPUS_LEVEL
    if (figure.dot !== undefined && this.divides && isDivision(step)) this.weighDivision(step, place)
    if (figure.stroke !== undefined && figure.strokeGroup !== true) this.weighStroke(step, figure.level - 1)
    this.weighSoftWall(step, figure)
    step.wall = step.wall && figure.level <= TEMPUS_LEVEL
  }

  /** The same for a group of semibreves that ends with the figure `last`. */
  weighGroup(step: Step, last: DraftFigure): void {
    this.weighSoftWall(step, last)
    if (last.stroke !== undefined && last.strokeGroup !== true) this.weighStroke(step, LONGA)
  }

  /** What it costs to end in the middle of a perfection, at a sign or at the end of the voice. */
  ending(state: State, last: DraftFigure): number {
    if (this.input.endsAtSign) return this.misses(this.m.perfect[0] ?? 0, state.position) ? this.weights.signOpen : 0
    const cell = Math.max(this.m.anchor[last.level]!, this.m.fence[last.level]!)
    return cell > 0 && state.position % cell !== 0 ? this.weights.endOpen : 0
  }

  /** What it costs that the figure lies across the end of a perfection it does not fill. */
  private across({ figure, ticks, offer }: Step, position: number): number {
    const fence = this.m.fence[figure.level]!
    if (figure.rest) {
      const cell = this.m.anchor[figure.level]! || fence
      return cell > 0 && (position % cell) + ticks > Math.max(cell, ticks) ? this.weights.restAcross : 0
    }
    if (fence === 0 || (position % fence) + ticks <= fence) return 0
    return offer.dot === "augmentation" ? this.weights.across * DOTTED_ACROSS : this.weights.across
  }

  /** A dot read as division: where no perfection of its level is full, it displaces those that follow. */
  private weighDivision(step: Step, place: Place): void {
    step.wall = true
    step.openWall = this.misses(step.figure.level - 1, step.end)
    step.cost += this.divisionCost(step, place)
    if (!step.openWall) return
    step.cost += this.weights.transport
    if (step.offer.shift === undefined) step.shift = step.end % this.m.cycle
  }

  private weighStroke(step: Step, level: number): void {
    step.wall = true
    if (!this.misses(level, step.end)) return
    step.cost += this.weights.strokeOpen
    step.openWall = true
  }

  private weighSoftWall(step: Step, figure: DraftFigure): void {
    if (figure.softWall === true && this.misses(LONGA, step.end)) step.cost += this.weights.softOpen
  }

  /** No perfection of this level (or the largest part of it) is full at `end`. */
  private misses(level: number, end: number): boolean {
    const cell = this.m.anchor[level < 0 ? 0 : level]!
    return cell > 0 && end % cell !== 0
  }

  /** A dot as division, weighed by the table of dots. */
  private divisionCost({ figure, rule, offer }: Step, place: Place): number {
    if (!this.byTable || offer.dot === "division" || figure.rest || figure.dotGiven === "div") return 0
    const third = figure.level > 0 && figure.level <= MINIMA && this.m.divisions[figure.level - 1] === 3
    const perfect = this.m.divisions[figure.level] === 3 && figure.level < MINIMA
    if (!third) return this.weights.dotAgainstTable + (perfect ? 0 : NOT_EVEN_PERFECT)
    if (perfect) return WHOLE_ANYHOW.has(rule) ? AFTER_WHOLE : 0
    return hasCompanion(place) ? WITH_COMPANION : 0
  }
}

const isDivision = ({ offer }: Step): boolean =>
  offer.dot === undefined || offer.dot === "none" || offer.dot === "division"

/** A smaller figure stands beside it, to be counted with its dot. */
const hasCompanion = ({ figure, next, previous }: Place): boolean =>
  (next !== undefined && next.level > figure.level) || (previous !== undefined && previous.level > figure.level)
