/**
 * The situation a rule is shown: one figure at one place of the count. One object for a whole stretch, moved along. It
 * remembers what of the surroundings was looked at: where that is the same, the same is offered.
 */
import type {
  Counted,
  DotMeaning,
  Mensuration,
  Offer,
  Prices,
  RuleId,
  Settings,
  Situation,
  Weights,
} from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { AROUND, closesPair, countedAs, RUN_BITS } from "./surroundings.js"

interface Taker {
  take(rule: RuleId, ticks: number, cost: number, offer?: Partial<Offer>): void
}

export class Place implements Situation {
  figure!: DraftFigure
  position = 0
  front = 0
  shifted = false
  carrying = false
  previousDot: DotMeaning = "none"
  prices: Prices | undefined
  /** What was looked at since the place was moved, as masks over the figure's surroundings. */
  lookedAround = 0
  lookedAtRuns = 0

  constructor(
    readonly mensuration: Mensuration,
    readonly settings: Settings,
    readonly weights: Weights,
    private readonly figures: readonly DraftFigure[],
    private readonly taker: Taker,
  ) {}

  at(i: number, position: number, front: number, shifted: boolean, carrying: boolean, previousDot: DotMeaning): void {
    this.figure = this.figures[i]!
    this.position = position
    this.front = front
    this.shifted = shifted
    this.carrying = carrying
    this.previousDot = previousDot
    this.prices = undefined
    this.lookedAround = 0
    this.lookedAtRuns = 0
  }

  get next(): DraftFigure | undefined {
    this.lookedAround |= AROUND.next
    return this.figures[this.figure.index + 1]
  }
  get second(): DraftFigure | undefined {
    this.lookedAround |= AROUND.second
    return this.figures[this.figure.index + 2]
  }
  get previous(): DraftFigure | undefined {
    this.lookedAround |= AROUND.previous
    return this.figures[this.figure.index - 1]
  }
  get closesPair(): boolean {
    this.lookedAround |= AROUND.closesPair
    return closesPair(this.figures, this.figure.index)
  }
  get atOpening(): boolean {
    this.lookedAround |= AROUND.atOpening
    return this.figure.index <= 1
  }
  run(level: number): Counted | undefined {
    this.lookedAtRuns |= RUN_BITS << (6 * level)
    return countedAs(this.figure.runs[level])
  }

  offer(rule: RuleId, ticks: number, cost: number, more?: Partial<Offer>): void {
    this.taker.take(rule, ticks, cost, more)
  }
}
