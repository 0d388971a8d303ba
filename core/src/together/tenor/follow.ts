/**
 * A series followed through a voice, statement after statement, slips allowed: the cheapest way to tell the voice as
 * "the same again", found by going through all ways at once that stay near the best one.
 */
import { Kinds } from "./kinds.js"
import { PRICES, priceOf } from "./prices.js"
import type { Mismatch, Token, View } from "./views.js"

/** When the statements have cost so much more than the plain signs, nothing good comes of going on. */
const HOPELESS = 40

export interface Template {
  readonly tokens: readonly Token[]
  /** What it costs to tell the series once. */
  readonly bits: number
  /** It is the first statement, sign by sign: there is but one good way through that. */
  readonly isFirst?: boolean
}

/** One step of the way: a sign at its place, a sign too many before a place (`extra`), or a place without a sign. */
export interface Step {
  /** Token of the view, or -1 where one is missing. */
  readonly token: number
  /** Place counted on through all statements: statement number times length, plus place. */
  readonly at: number
  readonly extra: boolean
  readonly shift: number
}

export interface Way {
  /** Bits for the statements together with what is left over behind them. */
  readonly bits: number
  /** Token behind the last one that belongs to a statement. */
  readonly end: number
  readonly steps: readonly Step[]
}

/** Signs missing or too many, one against the other, that are followed at once. */
const REACH = 4
const WIDTH = 2 * REACH + 1
const [MATCH, EXTRA, MISSING, SHIFTED] = [1, 2, 3, 4]

/** Follows the series from token `from`, at most to `to`. Time: tokens times a small constant times the shifts. */
export function follow(
  view: View,
  template: Template,
  literal: Float64Array,
  [from, to]: readonly [number, number],
  shifts: readonly number[],
): Way {
  return new Follower(view, template, literal, [from, to], shifts).way()
}

/**
 * Row r: r tokens are told. A state of a row is its drift (places passed less tokens told) and the shift in force.
 * Only drifts near that of the row's best state are kept: `centre` is the middle one.
 */
class Follower {
  private rows: number
  private readonly period: number
  private readonly stride: number
  private readonly cost: Float64Array
  private readonly back: Uint8Array
  private readonly centre: Int32Array
  /** The cheapest cell of each row. */
  private readonly best: Int32Array
  private readonly kinds: Kinds
  /** What the token being told costs, by how far it is from what is wanted. */
  private readonly prices = [0, 0, 0, 0]

  constructor(
    view: View,
    private readonly template: Template,
    private readonly literal: Float64Array,
    private readonly range: readonly [number, number],
    private readonly shifts: readonly number[],
  ) {
    this.rows = range[1] - range[0]
    this.period = template.tokens.length
    this.stride = WIDTH * shifts.length
    this.cost = new Float64Array((this.rows + 1) * this.stride).fill(Infinity)
    this.back = new Uint8Array((this.rows + 1) * this.stride)
    this.centre = new Int32Array(this.rows + 1)
    this.best = new Int32Array(this.rows + 1)
    this.kinds = new Kinds(view, template, shifts)
  }

  way(): Way {
    const first = this.template.isFirst === true ? this.period : 0
    for (let row = 0; row <= first; row++) this.tellFirst(row)
    this.withinRow(first)
    let plain = HOPELESS - this.template.bits
    for (let row = 0; row < first; row++) plain += this.literal[this.range[0] + row]!
    for (let row = first; row < this.rows; row++) {
      this.nextRow(row)
      this.withinRow(row + 1)
      plain += this.literal[this.range[0] + row]!
      if (row >= this.period && this.cost[this.best[row + 1]!]! > plain) this.rows = row + 1
    }
    const { row, bits } = this.bestEnd()
    return { bits, end: this.range[0] + row, steps: this.stepsTo(row) }
  }

  /** So many tokens told as they stand. */
  private tellFirst(row: number): void {
    const cell = this.cell(row, 0, 0)
    this.best[row] = cell
    this.cost[cell] = row === 0 ? 0 : this.cost[this.best[row - 1]!]! + PRICES.same
    this.back[cell] = row === 0 ? 0 : MATCH
  }

  private cell(row: number, drift: number, shift: number): number {
    return row * this.stride + (drift - this.centre[row]! + REACH) * this.shifts.length + shift
  }

  /** Tells one token more: at its place, or as one too many. */
  private nextRow(row: number): void {
    const { centre, prices, range, literal } = this
    centre[row + 1] = this.bestDrift(row)
    const own = literal[range[0] + row]!
    for (let apart = 0; apart < prices.length; apart++) prices[apart] = priceOf(apart as Mismatch, own)
    this.tellInPlace(row)
    this.tellAsExtra(row, PRICES.extra + own)
  }

  /** From the cells of each drift, one for each shift, to those of the same drift in the next row. */
  private tellInPlace(row: number): void {
    const { cost, back, kinds, period, prices, stride } = this
    const { length } = this.shifts
    const token = kinds.tokens[this.range[0] + row]!
    const here = this.centre[row]!
    const moved = here - this.centre[row + 1]!
    for (let at = Math.max(0, -moved, REACH - row - here); at < WIDTH && at + moved < WIDTH; at++) {
      const from = row * stride + at * length
      const to = from + stride + moved * length
      const wanted = kinds.wanted[(row + here - REACH + at) % period]!
      for (let shift = 0; shift < length; shift++) {
        const before = cost[from + shift]!
        if (before === Infinity) continue
        cost[to + shift] = before + prices[kinds.apart(wanted, token, shift)]!
        back[to + shift] = MATCH
      }
    }
  }

  /** The same to those of the drift before. */
  private tellAsExtra(row: number, price: number): void {
    const { stride } = this
    const { length } = this.shifts
    const here = this.centre[row]!
    const moved = here - this.centre[row + 1]! - 1
    for (let at = Math.max(0, -moved, REACH - row - here); at < WIDTH && at + moved < WIDTH; at++) {
      const from = row * stride + at * length
      const to = from + stride + moved * length
      for (let shift = 0; shift < length; shift++) this.offer(to + shift, this.cost[from + shift]! + price, EXTRA)
    }
  }

  /** Leaves out places; at the beginning of a statement, changes the shift. */
  private withinRow(row: number): void {
    const { cost, period } = this
    const { length } = this.shifts
    const first = row * this.stride
    let [best, least] = [first, cost[first]!]
    let place = row + this.centre[row]! - REACH
    for (let at = 0; at < WIDTH; at++, place++) {
      if (place < 0) continue
      const from = first + at * length
      if (place % period === 0) this.changeShift(from)
      for (let cell = from; cell < from + length; cell++) {
        const before = cost[cell]!
        if (before === Infinity) continue
        // nothing further on in the row makes it cheaper
        if (before < least) [best, least] = [cell, before]
        if (at + 1 < WIDTH) this.offer(cell + length, before + PRICES.missing, MISSING)
      }
    }
    this.best[row] = best
  }

  /** From the cheapest of the cells from `from` on, one for each shift, to the others. */
  private changeShift(from: number): void {
    const { cost } = this
    const { length } = this.shifts
    let best = 0
    for (let shift = 1; shift < length; shift++) if (cost[from + shift]! < cost[from + best]!) best = shift
    const price = cost[from + best]! + PRICES.shift
    for (let shift = 0; shift < length; shift++) if (shift !== best) this.offer(from + shift, price, SHIFTED + best)
  }

  private offer(cell: number, cost: number, how: number): void {
    if (cost >= this.cost[cell]!) return
    this.cost[cell] = cost
    this.back[cell] = how
  }

  private bestDrift(row: number): number {
    return Math.floor((this.best[row]! - row * this.stride) / this.shifts.length) - REACH + this.centre[row]!
  }

  private bestIn(row: number): { drift: number; shift: number; cost: number } {
    const best = this.best[row]!
    const at = best - row * this.stride
    return { drift: this.bestDrift(row), shift: at % this.shifts.length, cost: this.cost[best]! }
  }

  /** Where it is cheaper to tell the rest sign by sign. */
  private bestEnd(): { row: number; bits: number } {
    const whole = this.range[1] - this.range[0]
    let [row, bits, rest] = [0, Infinity, 0]
    for (let at = whole; at >= 0; at--) {
      if (at <= this.rows) {
        const { drift, cost } = this.bestIn(at)
        const inside = at + drift === 0 || (at + drift) % this.period !== 0
        const total = cost + rest + (inside ? (at === whole ? PRICES.endsInside : PRICES.leftInside) : 0)
        if (total < bits) [row, bits] = [at, total]
      }
      if (at > 0) rest += this.literal[this.range[0] + at - 1]!
    }
    return { row, bits }
  }

  private stepsTo(end: number): Step[] {
    const steps: Step[] = []
    let row = end
    let { drift, shift } = this.bestIn(end)
    while (row > 0 || drift !== 0) {
      const how = this.back[this.cell(row, drift, shift)]!
      if (how >= SHIFTED) {
        shift = how - SHIFTED
        continue
      }
      if (how === 0) break
      if (how !== MISSING) row--
      if (how === EXTRA) drift++
      if (how === MISSING) drift--
      const token = how === MISSING ? -1 : this.range[0] + row
      steps.push({ token, at: row + drift, extra: how === EXTRA, shift: this.shifts[shift]! })
    }
    return steps.reverse()
  }
}
