/**
 * The scribe's part: writes a dot or a stroke where the rules of counting would give the perfections otherwise. It
 * knows the table of the treatises (units between two larger notes) as plain rules and nothing of the reader's costs.
 */
import { LONGA, type Draft, type Measure } from "./drafts.js"
import type { Random } from "./random.js"

/** What a stretch between two larger notes does to them: units taken, an altered last note, a unit carried on. */
interface Outcome {
  readonly post: number
  readonly ante: number
  readonly altered: boolean
  readonly carried: number
}
const NONE: Outcome = { post: 0, ante: 0, altered: false, carried: 0 }

export interface Scribe {
  readonly measure: Measure
  /** More than three units between two longs always begin by shortening the first. */
  readonly firstImperfect: readonly number[]
  /** A note before its like keeps its parts too. */
  readonly likeProtectsParts: boolean
  /** Strokes stand for divisions, so they may stand beside small notes. */
  readonly strokes: boolean
  readonly random: Random
}

/** Lays marks into the phrase, but for the level excepted; false when no marks make it readable. What follows the phrase is taken for a rest of `closing` level. */
export function writeMarks(phrase: readonly Draft[], scribe: Scribe, except?: number): boolean {
  const levels = scribe.measure.groups ? scribe.measure.perfect.filter(k => k < 2) : scribe.measure.perfect
  return levels.toReversed().every(level => level === except || new LevelMarks(phrase, level, scribe).write())
}

interface Place {
  /** The larger figure on either side; undefined at a wall. */
  readonly before: Draft | undefined
  readonly after: Draft | undefined
  readonly afterNext: Draft | undefined
  readonly pending: number
}

class LevelMarks {
  private readonly unit: number
  private pending = 0

  constructor(
    private readonly phrase: readonly Draft[],
    private readonly level: number,
    private readonly scribe: Scribe,
  ) {
    this.unit = scribe.measure.full[level + 1]!
  }

  write(): boolean {
    let before: Draft | undefined
    let run: number[] = []
    for (let i = 0; i < this.phrase.length; i++) {
      const one = this.phrase[i]!
      if (one.level <= this.level) {
        if (!this.settle(before, run, i)) return false
        before = one
        run = []
      } else if (!this.isOwned(one)) run.push(i)
      if (one.mark === "division" && one.level <= this.level + 1) {
        if (!this.settle(before, run, undefined)) return false
        before = undefined
        run = []
      }
    }
    return this.settle(before, run, this.phrase.length)
  }

  /** Counted already with a note of this level or larger, to shorten a smaller part of it. */
  private isOwned(one: Draft): boolean {
    for (let { owner } = one; owner !== undefined; owner = owner.owner)
      if (owner.level <= this.level && lossLevel(owner) > this.level) return true
    return false
  }

  /** Finds marks with which the run reads as it is meant. */
  private settle(before: Draft | undefined, run: readonly number[], after: number | undefined): boolean {
    const next = after === undefined ? undefined : (this.phrase[after] ?? this.closing())
    const place: Place = {
      before,
      after: next,
      afterNext: after === undefined ? undefined : this.phrase[after + 1],
      pending: this.pending,
    }
    const meant = this.meant(place, run)
    const ways = this.ways(before, run)
    for (const walls of ways) {
      const found = this.read(place, run, walls)
      if (found === undefined || !isSame(found, meant)) continue
      for (const at of walls) this.phrase[at]!.mark = this.phrase[at] === before ? "perfection" : "division"
      this.pending = found.carried
      return true
    }
    return false
  }

  private closing(): Draft {
    return { ...this.phrase[0]!, level: this.level, rest: true, short: false, duplex: false }
  }

  private meant(place: Place, run: readonly number[]): Outcome {
    const carried = run.some(i => this.phrase[i]!.carried && this.phrase[i]!.level === this.level + 1) ? 1 : 0
    const last = this.phrase[run.at(-1) ?? -1]
    const ante = place.after === undefined || this.phrase.indexOf(place.after) < 0 ? 0 : place.after.ante[this.level]!
    const altered = last !== undefined && last.altered && last.level === this.level + 1
    return {
      post: place.before?.post[this.level] ?? 0,
      ante,
      altered,
      carried: carried || (run.length === 0 ? place.pending : 0),
    }
  }

  /** Sets of places for marks, the ones to try first first: none, one in the run, one after the larger note, two in the run. */
  private ways(before: Draft | undefined, run: readonly number[]): readonly (readonly number[])[] {
    const inside = run.slice(0, -1).filter(i => this.mayDivide(i))
    const ways: number[][] = inside.map(i => [i])
    // Now and then a division is written that nobody needs.
    if (inside.length > 0 && this.scribe.random.chance(0.08)) ways.push([])
    else ways.unshift([])
    if (before !== undefined && run.length > 0 && this.mayBePerfect(before)) ways.push([this.phrase.indexOf(before)])
    for (const [n, i] of inside.entries()) for (const j of inside.slice(n + 1)) ways.push([i, j])
    return ways
  }

  /** A dot of division stands after a figure of the next smaller level that no smaller one could be counted with. */
  private mayDivide(i: number): boolean {
    const one = this.phrase[i]!
    if (one.level !== this.level + 1 || one.dotted || one.coloured || one.mark !== "none") return false
    const [previous, next] = [this.phrase[i - 1], this.phrase[i + 1]]
    if (next?.members && one.members) return false
    if (this.scribe.strokes || one.rest) return true
    return !one.members && !isSmaller(previous, one) && !isSmaller(next, one)
  }

  private mayBePerfect(one: Draft): boolean {
    return one.level === this.level && this.isFree(one) && one.mark === "none" && !one.short
  }

  private isFree(one: Draft): boolean {
    return !one.rest && !one.coloured && !one.dotted && !one.duplex && one.mark !== "perfection"
  }

  private read(place: Place, run: readonly number[], walls: readonly number[]): Outcome | undefined {
    const { before, after } = place
    const onLarger = before !== undefined && walls.some(at => this.phrase[at] === before)
    let left = onLarger ? undefined : before
    if (onLarger && lossLevel(before) >= 0) return undefined
    let pending = place.pending
    let post = 0
    let from = 0
    for (const wall of walls) {
      const at = run.indexOf(wall)
      if (at < 0) continue
      const found = this.count(
        { before: left, after: undefined, afterNext: undefined, pending },
        run.slice(from, at + 1),
      )
      if (found === undefined || found.carried > 0) return undefined
      post += found.post
      pending = 0
      left = undefined
      from = at + 1
    }
    const found = this.count({ before: left, after, afterNext: place.afterNext, pending }, run.slice(from))
    return found && { ...found, post: post + found.post }
  }

  /** The table: what so many units between two larger figures do. */
  private count(place: Place, run: readonly number[]): Outcome | undefined {
    const worth = run.reduce((total, i) => total + this.worth(i), 0) / this.unit
    if (!Number.isInteger(worth)) return undefined
    if (place.pending > 0) return this.countPending(place, worth)
    const { before } = place
    const mayPost =
      before !== undefined && this.mayLose(before) && before.ante[this.level] === 0 && this.hasBoundary(run, this.unit)
    if (before?.short && before.ante[this.level] === 0)
      return mayPost && worth > 0 ? this.afterPost(place, run, worth - 1) : undefined
    if (worth >= 4 && mayPost && this.scribe.firstImperfect.includes(this.level) && before.level === this.level)
      return this.afterPost(place, run, worth - 1)
    const rest = worth % 3
    if (worth === 3 && mayPost && this.restFirst(place, run)) return this.afterPost(place, run, 2)
    if (rest === 0) return NONE
    if (rest === 1) return this.one(mayPost, place, run)
    return this.two(mayPost, place, run)
  }

  /** At the modus a rest right after a long closes the long's perfection. */
  private restFirst(place: Place, run: readonly number[]): boolean {
    return (
      place.before!.level === this.level &&
      this.scribe.firstImperfect.includes(this.level) &&
      this.phrase[run[0]!]!.rest
    )
  }

  /** An altered note counts once. */
  private worth(i: number): number {
    const one = this.phrase[i]!
    return one.altered && one.level === this.level + 1 ? this.unit : one.ticks
  }

  private countPending(place: Place, worth: number): Outcome | undefined {
    if (worth === 0)
      return place.after !== undefined && this.mayGiveFront(place) ? undefined : { ...NONE, carried: place.pending }
    return (place.pending + worth) % 3 === 0 ? NONE : undefined
  }

  private afterPost(place: Place, run: readonly number[], left: number): Outcome | undefined {
    if (left % 3 === 0) return { ...NONE, post: 1 }
    const second = left % 3 === 1 ? this.one(false, place, run) : this.two(false, place, run)
    return second && { ...second, post: 1 }
  }

  private one(mayPost: boolean, place: Place, run: readonly number[]): Outcome | undefined {
    // One breve between a long and a two-breve rest may belong to either.
    if (mayPost) return place.after?.short ? undefined : { ...NONE, post: 1 }
    if (place.after === undefined) return undefined
    if (this.mayGiveFront(place) && this.hasBoundary(run.toReversed(), this.unit)) return { ...NONE, ante: 1 }
    return { ...NONE, carried: 1 }
  }

  private two(mayPost: boolean, place: Place, run: readonly number[]): Outcome | undefined {
    const { before, after } = place
    const last = this.phrase[run.at(-1)!]!
    const exact = after !== undefined && (after.level === this.level || after.duplex) && !after.short
    if (exact && this.mayBeAltered(last)) return { ...NONE, altered: true }
    if (mayPost && before!.level < this.level && (after === undefined || after.level < this.level))
      return { ...NONE, post: 2 }
    if (mayPost && after !== undefined && this.mayGiveFront(place) && this.hasBoundary(run.toReversed(), this.unit))
      return { ...NONE, post: 1, ante: 1 }
    return undefined
  }

  private mayBeAltered(last: Draft): boolean {
    return (
      last.level === this.level + 1 &&
      !last.rest &&
      !last.coloured &&
      !last.dotted &&
      last.members === undefined &&
      last.post.every(units => units === 0)
    )
  }

  /** Whether the figure can give up a unit of this level at all. A two-breve rest takes the third breve to itself. */
  private mayLose(one: Draft): boolean {
    return (
      one.short || (this.isFree(one) && (one.level === this.level || this.scribe.measure.divisions[this.level] === 3))
    )
  }

  private mayGiveFront({ after, afterNext }: Place): boolean {
    if (after === undefined || !this.mayLose(after)) return false
    if (after.short) return true
    const like =
      afterNext === undefined || afterNext.level === after.level || (after.level === LONGA && afterNext.duplex)
    return !like || (after.level < this.level && !this.scribe.likeProtectsParts)
  }

  /** Whether the figures, from the first on, come to exactly one unit; between a note and its dot it may be parted. */
  private hasBoundary(run: readonly number[], unit: number): boolean {
    let sum = 0
    for (const i of run) {
      const worth = this.worth(i)
      if (this.phrase[i]!.dotted && sum + (worth * 2) / 3 === unit) return true
      sum += worth
      if (sum >= unit) return sum === unit
    }
    return false
  }
}

/** Level of the units that the figure lost; -1 for none. */
const lossLevel = (one: Draft): number =>
  Math.max(
    one.post.findLastIndex(units => units > 0),
    one.ante.findLastIndex(units => units > 0),
  )

const isSmaller = (other: Draft | undefined, one: Draft): boolean =>
  other !== undefined && (other.level > one.level || other.members !== undefined)

function isSame(a: Outcome, b: Outcome): boolean {
  return a.post === b.post && a.ante === b.ante && a.altered === b.altered && a.carried === b.carried
}
