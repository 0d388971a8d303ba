/** How the voices of a piece move: what each size of step costs, as these very voices take it. */
import type { Voice } from "../../page/index.js"
import { stepNumber } from "../../reading/pitches.js"

/** Larger leaps are one kind. */
const LARGEST = 14
/** A repeated note is supposed to have been seen so often, larger steps ever less. */
const SUPPOSED = 2

export class Melody {
  private readonly counts = Array.from({ length: LARGEST + 1 }, (_, size) => SUPPOSED / (1 + size))
  private readonly all: number
  /** What a step costs on the average. */
  readonly mean: number

  constructor(voices: readonly Voice[]) {
    for (const voice of voices) this.count(voice)
    this.all = this.counts.reduce((sum, one) => sum + one, 0)
    this.mean = this.counts.reduce((sum, one, size) => sum + (one / this.all) * this.cost(0, size), 0)
  }

  private count(voice: Voice): void {
    let before = Number.NaN
    for (const sign of voice.signs)
      for (const note of sign.kind === "ligature" ? sign.members : [sign]) {
        if (note.kind !== "note" || note.pitch === undefined) continue
        const step = stepNumber(note.pitch)
        if (!Number.isNaN(before)) this.counts[Math.min(LARGEST, Math.abs(step - before))]!++
        before = step
      }
  }

  /** From one staff step to another: natural logarithm of odds; nothing where one of them is not known. */
  cost(a: number, b: number): number {
    if (Number.isNaN(a) || Number.isNaN(b)) return 0
    return -Math.log(this.counts[Math.min(LARGEST, Math.abs(b - a))]! / this.all)
  }

  /** The same for this very step, up or down: a step of a size may go either way. */
  towards(a: number, b: number): number {
    return this.cost(a, b) + (Math.abs(b - a) > 0 ? Math.LN2 : 0)
  }

  /**
   * By how much the way from one step to the other is likelier (negative) or not with one note between them than without: all pitches
   * that it may have together.
   */
  filling(a: number, b: number): number {
    if (Number.isNaN(a) || Number.isNaN(b)) return 0
    let chance = 0
    for (let step = Math.min(a, b) - LARGEST; step <= Math.max(a, b) + LARGEST; step++)
      chance += Math.exp(-this.towards(a, step) - this.towards(step, b))
    return -Math.log(chance) - this.towards(a, b)
  }
}
