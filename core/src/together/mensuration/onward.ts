/** How far a token may lead from a place of the measure, and how likely each of these ways is. */
import { beginsCell, BREVE, type Measure } from "./measures.js"
import type { Future } from "./futures.js"
import type { Token } from "./tokens.js"
import { DOT, LENGTH } from "./weights.js"
import { isFrontPart } from "./welcome.js"

/** How a run of plain semibreves may count, in breves, with chances. */
export type GroupChances = (members: number, divisions: readonly number[], nearBreve: boolean) => readonly number[]

export type DotUse = "division" | "perfection" | "addition" | "nothing"

export abstract class Onward {
  /** Where the token begins. */
  protected place = 0

  constructor(
    protected readonly m: Measure,
    protected readonly groups: GroupChances | undefined,
  ) {}

  /** Is told of every way on. */
  protected abstract way(ticks: number, chance: number, use?: DotUse): void

  protected lengths(token: Token, future: Future): void {
    if (token.members > 0) return this.groupLengths(token, future)
    if (token.rest || future.fixed !== undefined) return this.way(future.fixed ?? future.full, 1)
    if (token.dot !== undefined) return this.dottedLengths(token, future)
    this.plainLengths(token.level, future)
  }

  private groupLengths(token: Token, future: Future): void {
    const chances = this.groups!(token.members, this.m.divisions, future.nearBreve)
    chances.forEach((chance, breves) => {
      if (chance > 0) this.way(Math.round(breves * this.m.full[BREVE]!), chance)
    })
  }

  private dottedLengths({ level, dotGiven }: Token, future: Future): void {
    const own = this.m.full[level]!
    const perfect = this.m.divisions[level] === 3
    let spoken = false
    if (dotGiven !== "div" && this.groups === undefined && (!perfect || dotGiven === "aug")) {
      const begins = level === 0 || beginsCell(this.m, level - 1, this.place)
      const worth = (begins ? DOT.addition : DOT.additionElsewhere) * (perfect ? DOT.againstTable : 1)
      this.way(own * 1.5, future.smallerFollows ? worth : worth / 3, "addition")
      spoken = true
    }
    if (dotGiven !== "aug") spoken = this.dividedLengths(level, perfect) || spoken
    if (!spoken) this.way(own, DOT.nothing, "nothing")
  }

  /** Where the dot can part perfections, or keep the note whole. */
  private dividedLengths(level: number, perfect: boolean): boolean {
    const own = this.m.full[level]!
    const over = perfect ? this.place % own : 0
    if (perfect && over === 0) {
      this.way(own, DOT.perfection, "perfection")
      return true
    }
    const isUnitLate = over === this.m.full[level + 1]
    if ((perfect && !isUnitLate) || !this.endsPerfection(level, own - over)) return false
    this.way(own - over, perfect ? DOT.division / 2 : DOT.division, "division")
    if (perfect) this.way(own, DOT.nothing, "nothing")
    return true
  }

  /** So many ticks from here a perfection larger than the level is full. */
  private endsPerfection(level: number, ticks: number): boolean {
    for (let k = level - 1; k >= 0; k--)
      if (this.m.divisions[k] === 3 && beginsCell(this.m, k, this.place + ticks)) return true
    return false
  }

  private plainLengths(level: number, future: Future): void {
    const { place } = this
    const { full, divisions } = this.m
    const own = full[level]!
    const over = place % own
    let left = 1
    if (future.doubled !== undefined && own === place % full[level - 1]!) {
      if (future.doubled > 0) this.way(2 * own, future.doubled)
      left = LENGTH.notAltered
    }
    if (divisions[level] === 3) {
      const unit = full[level + 1]!
      if (over === 0) {
        this.way(own - unit, left * future.short)
        left -= left * future.short
      } else if (over === unit) {
        this.way(own - unit, left * future.ante)
        left -= left * future.ante
      }
    }
    if (over !== 0 && divisions[level] !== 3) {
      const front = isFrontPart(this.m, level, over)
      if (front) {
        this.way(own - over, left * LENGTH.ante)
        left -= left * LENGTH.ante
      }
    }
    for (const [ticks, chance] of future.parts) {
      this.way(own - ticks, left * chance)
      left -= left * chance
    }
    if (left > 0) this.way(own, left)
  }
}
