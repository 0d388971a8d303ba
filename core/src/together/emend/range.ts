/** How far a passage goes beyond what the rest of its voice sings, high or low: singers keep to the compass of their part. */

/** Fewer notes beside the passage say nothing of a compass. */
const FEWEST = 12

export class Range {
  /** By place: the lowest and highest step before it, and from it on; how many notes stand before it. */
  private readonly before: readonly Span[]
  private readonly after: readonly Span[]
  private readonly notes: readonly number[]

  /** Steps of the notes of the voice, NaN for rests. */
  constructor(private readonly steps: readonly number[]) {
    const before = [NONE]
    const notes = [0]
    for (const step of steps) {
      before.push(including(before.at(-1)!, step))
      notes.push(notes.at(-1)! + Number(!Number.isNaN(step)))
    }
    const after = [NONE]
    for (const step of steps.toReversed()) after.push(including(after.at(-1)!, step))
    this.before = before
    this.notes = notes
    this.after = after.toReversed()
  }

  /**
   * By how many steps less the passage from here to some later place lies beyond the others' compass when it is moved. To
   * be asked place after place.
   */
  from(from: number, shift: number): (to: number) => number {
    let own = NONE
    let seen = from
    return to => {
      for (; seen < to; seen++) own = including(own, this.steps[seen]!)
      if (this.notes.at(-1)! - this.notes[to]! + this.notes[from]! < FEWEST || own === NONE) return 0
      const rest = joined(this.before[from]!, this.after[to]!)
      return beyond(own, rest) - beyond({ low: own.low + shift, high: own.high + shift }, rest)
    }
  }
}

interface Span {
  readonly low: number
  readonly high: number
}
const NONE: Span = { low: Infinity, high: -Infinity }

const including = (span: Span, step: number): Span =>
  Number.isNaN(step) ? span : { low: Math.min(span.low, step), high: Math.max(span.high, step) }
const joined = (a: Span, b: Span): Span => ({ low: Math.min(a.low, b.low), high: Math.max(a.high, b.high) })
const beyond = (own: Span, rest: Span): number => Math.max(0, rest.low - own.low) + Math.max(0, own.high - rest.high)
