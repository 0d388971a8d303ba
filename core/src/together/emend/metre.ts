/**
 * Where in the measure these very voices put what: breves that begin with a breve, dotted minims on the beat. A passage
 * that has lost or gained a minim is out of step with it until the slip is mended, whatever the rules allow.
 */
import type { DraftFigure } from "../../reading/draft-figure.js"
import { METRE_WEIGHT, METRE_SMOOTHING } from "./weights.js"

/** 2: a measure begins, 1: its first parts, 0 and -1: halves or thirds of those, and their halves; -2: elsewhere. */
export type Slot = 2 | 1 | 0 | -1 | -2
export const PARTS: readonly (readonly [Slot, number])[] = [
  [0, 2],
  [0, 3],
  [-1, 4],
  [-1, 6],
]

/** What counts as one kind of figure. */
export const shapeOf = ({ rest, level, dot, coloured }: DraftFigure): string =>
  `${rest ? "rest" : "note"} ${level}${dot ? "." : ""}${coloured ? "*" : ""}`

export class Metre {
  private readonly pairs = new Map<string, number>()
  private readonly shapes = new Map<string, number>()
  private readonly slots = new Map<Slot, number>()
  private readonly costs = new Map<string, Map<Slot, number>>()
  private all = 0

  add(shape: string, slot: Slot): void {
    this.all++
    this.shapes.set(shape, (this.shapes.get(shape) ?? 0) + 1)
    this.slots.set(slot, (this.slots.get(slot) ?? 0) + 1)
    const key = `${shape} ${slot}`
    this.pairs.set(key, (this.pairs.get(key) ?? 0) + 1)
  }

  /** How much rarer (+) or more usual (-) the shape is there than anywhere, as natural logarithm of odds. */
  cost(shape: string, slot: Slot): number {
    let known = this.costs.get(shape)
    if (known === undefined) this.costs.set(shape, (known = new Map()))
    let cost = known.get(slot)
    if (cost === undefined) known.set(slot, (cost = this.counted(shape, slot)))
    return cost
  }

  private counted(shape: string, slot: Slot): number {
    const usual = ((this.slots.get(slot) ?? 0) + 1) / (this.all + 5)
    const own = (this.pairs.get(`${shape} ${slot}`) ?? 0) + METRE_SMOOTHING * usual
    return -METRE_WEIGHT * Math.log(own / ((this.shapes.get(shape) ?? 0) + METRE_SMOOTHING) / usual)
  }
}
