/** The situation a rule is shown: one figure at one place of the count. One object for a whole stretch, moved along. */
import type { DotMeaning, Mensuration, Offer, RuleId, Settings, Situation, Weights } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { closesPair } from "./kept-proposals.js"

interface Taker {
  take(rule: RuleId, ticks: number, cost: number, offer?: Partial<Offer>): void
}

export class Place implements Situation {
  figure!: DraftFigure
  next: DraftFigure | undefined
  previous: DraftFigure | undefined
  position = 0
  front = 0
  shifted = false
  carrying = false
  previousDot: DotMeaning = "none"

  constructor(
    readonly mensuration: Mensuration,
    readonly settings: Settings,
    readonly weights: Weights,
    private readonly figures: readonly DraftFigure[],
    private readonly taker: Taker,
  ) {}

  at(i: number, position: number, front: number, shifted: boolean, carrying: boolean, previousDot: DotMeaning): void {
    this.figure = this.figures[i]!
    this.next = this.figures[i + 1]
    this.previous = this.figures[i - 1]
    this.position = position
    this.front = front
    this.shifted = shifted
    this.carrying = carrying
    this.previousDot = previousDot
  }

  get second(): DraftFigure | undefined {
    return this.figures[this.figure.index + 2]
  }
  get closesPair(): boolean {
    return closesPair(this.figures, this.figure.index)
  }
  get atOpening(): boolean {
    return this.figure.index <= 1
  }

  offer(rule: RuleId, ticks: number, cost: number, more?: Partial<Offer>): void {
    this.taker.take(rule, ticks, cost, more)
  }
}
