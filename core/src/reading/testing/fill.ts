/**
 * Fills perfections with figures, from the largest down: whole, shortened from behind or from the front, in three, or
 * one and an altered one; now and then a remote part, a dot that adds half, three coloured for two, a carried unit.
 */
import { BREVIS, draft, LONGA, lost, MINIMA, type Draft, type Measure } from "./drafts.js"
import type { Random } from "./random.js"

export type Pattern = "whole" | "post" | "ante" | "units" | "altered"

/** How often a kind of voice does what; chances from 0 to 1, weights of any size. */
export interface Habits {
  readonly patterns: Readonly<Record<Pattern, number>>
  readonly rest: number
  readonly part: number
  readonly dot: number
  readonly colour: number
  /** Of the colour in imperfect time, the share of pairs that stand for dotted ones: a habit of white notation. */
  readonly colourPairs: number
  readonly carry: number
  readonly longer: number
  readonly shortRest: number
  /** A level is not divided further with this chance, rising towards the small notes. */
  readonly small: number
  /** Share of breves that are not divided into a group of semibreves (0.55). */
  readonly single?: number
}

export class Filler {
  readonly drafts: Draft[] = []
  /** Level at which the next figure has to stand, since an altered note stands before it. */
  private needs: number | undefined
  private failed = false

  constructor(
    private readonly m: Measure,
    private readonly habits: Habits,
    private readonly random: Random,
  ) {}

  /** A phrase of so many perfections of the level, begun by a figure of that level; undefined when its end is not lawful. */
  phrase(level: number, count: number): Draft[] | undefined {
    this.needs = level
    this.spans(level, count)
    return !this.failed && (this.needs === undefined || this.needs === level) ? this.drafts : undefined
  }

  private put(one: Draft): Draft {
    if (this.needs !== undefined && one.level !== this.needs) this.failed = true
    this.needs = undefined
    this.drafts.push(one)
    return one
  }

  private full(level: number): number {
    return this.m.full[level]!
  }

  private mayBegin(level: number): boolean {
    return this.needs === undefined || this.needs === level
  }

  /** Coloured groups do not meet; the phrase before may have ended with one. */
  private afterColour(): boolean {
    return this.drafts.findLast(one => !one.rest)?.coloured !== false
  }

  /** Consecutive spans of one level; two or three may be filled together. */
  private spans(level: number, count: number): void {
    for (let done = 0; done < count;) done += this.several(level, count - done) || this.one(level)
  }

  private one(level: number): 1 {
    this.span(level)
    return 1
  }

  /** Fills two or three spans by one figure or device; the number filled, 0 when it did not come to it. */
  private several(level: number, room: number): number {
    if (room < 2 || !this.mayBegin(level)) return 0
    const { random, habits } = this
    if (this.m.divisions[level] === 3) {
      if (random.chance(habits.colour) && !this.afterColour()) return this.threeForTwo(level)
      if (level > LONGA && random.chance(habits.carry)) return this.carry(level, room)
    } else if (level < MINIMA + 1 && this.isSingle(level) && random.chance(habits.dot)) return this.dotted(level)
    return this.needs === undefined && level <= BREVIS && random.chance(habits.longer) ? this.longer(level) : 0
  }

  private isSingle(level: number): boolean {
    return this.m.groups === undefined || level < BREVIS
  }

  private threeForTwo(level: number): number {
    for (let i = 0; i < 3; i++) this.put(draft(level, (this.full(level) * 2) / 3, { coloured: true }))
    return 2
  }

  /** A unit, one or two whole notes that it is carried past, and the two units it is counted with. */
  private carry(level: number, room: number): number {
    if (this.needs !== undefined) return 0
    const passed = Math.min(room - 1, 1 + this.random.below(2))
    const unit = this.full(level + 1)
    this.put(draft(level + 1, unit, { carried: true }))
    for (let i = 0; i < passed; i++)
      this.put(draft(level, this.full(level), { mark: i === passed - 1 ? "perfection" : "none" }))
    for (let i = 0; i < 2; i++) this.put(draft(level + 1, unit))
    return passed + 1
  }

  private dotted(level: number): number {
    const long = draft(level, this.full(level) * 1.5, { dotted: true })
    const before = this.needs === undefined && this.random.chance(0.15)
    if (before) this.span(level + 1)
    this.put(long)
    if (!before) this.span(level + 1)
    return 2
  }

  /** One figure of the next larger level, which is imperfect, or a double long. */
  private longer(level: number): number {
    if (this.m.divisions[level - 1] === 2) this.whole(level - 1)
    else return 0
    return 2
  }

  private span(level: number): void {
    if (level > MINIMA) return void this.put(draft(level, this.full(level)))
    if (level === BREVIS && this.m.groups !== undefined) return this.breve()
    const pattern = this.pattern(level)
    if (this.m.divisions[level] === 3) this.ternary(level, pattern)
    else if (pattern === "whole") this.whole(level)
    else this.binary(level)
  }

  private pattern(level: number): Pattern {
    const { patterns, small } = this.habits
    if (this.needs !== undefined && this.needs > level) return this.random.of(["units", "units", "ante"] as const)
    const single = level === MINIMA ? 12 * small : level > BREVIS ? 2 * small : 1
    const weights = { ...patterns, whole: patterns.whole * single }
    if (this.needs === level) return this.random.weighted({ ...weights, ante: 0, units: 0, altered: 0 })
    return this.random.weighted(weights)
  }

  private ternary(level: number, pattern: Pattern): void {
    if (pattern === "whole") this.whole(level)
    else if (pattern === "units") this.spans(level + 1, 3)
    else if (pattern === "post") this.post(this.shortened(level, { post: lost(level) }), level)
    else if (pattern === "ante") this.ante(this.shortened(level, { ante: lost(level) }), level)
    else this.second(level)
  }

  private shortened(level: number, more: Partial<Draft>): Draft {
    const short = level === LONGA && this.needs === undefined && this.random.chance(this.habits.shortRest)
    return draft(level, 2 * this.full(level + 1), { ...more, ...(short ? { rest: true, short: true } : {}) })
  }

  /** One and an altered one. */
  private second(level: number): void {
    this.span(level + 1)
    this.put(draft(level + 1, 2 * this.full(level + 1), { altered: true }))
    this.needs = level
  }

  /** The larger figure, then the unit of level `k` that shortens it. */
  private post(larger: Draft, k: number): void {
    this.put(larger)
    this.pay(larger, k)
  }

  private ante(larger: Draft, k: number): void {
    this.pay(larger, k)
    this.put(larger)
  }

  private pay(larger: Draft, k: number): void {
    const from = this.drafts.length
    this.span(k + 1)
    for (let i = from; i < this.drafts.length; i++) this.drafts[i]!.owner ??= larger
  }

  private binary(level: number): void {
    // under a perfect tempus a semibreve keeps its value in colour (Libellus cantus mensurabilis, c. 1340, 6)
    if (
      level < MINIMA &&
      !this.m.perfect.some(k => k >= Math.min(level, BREVIS)) &&
      !this.afterColour() &&
      this.needs === undefined
    )
      if (this.random.chance(this.habits.colour)) return this.colouredBinary(level)
    this.spans(level + 1, 2)
  }

  /** In imperfect time: three for two, or a coloured pair that stands for a dotted one. */
  private colouredBinary(level: number): void {
    const pair = this.random.chance(this.habits.colourPairs)
    if (!pair && level + 1 >= MINIMA) return this.spans(level + 1, 2)
    if (!pair) {
      for (let i = 0; i < 3; i++) this.put(draft(level + 1, (this.full(level + 1) * 2) / 3, { coloured: true }))
      return
    }
    this.put(draft(level, (this.full(level) * 3) / 4, { coloured: true }))
    this.put(draft(level + 1, this.full(level) / 4, { coloured: true }))
  }

  /** A note or rest of the level that fills its span, or one that loses a remote part to a neighbour. */
  private whole(level: number): void {
    const remote = this.m.perfect.filter(k => k > level)
    if (remote.length > 0 && !this.m.doubleLong && this.random.chance(this.habits.part))
      return this.part(level, this.random.of(remote))
    const duplex = level < LONGA && this.m.doubleLong
    const rest = level >= LONGA && level <= MINIMA && this.random.chance(this.habits.rest)
    this.put(draft(level, this.full(level), { rest, duplex }))
  }

  private part(level: number, k: number): void {
    const left = this.full(level) - this.full(k + 1)
    const behind = this.needs !== undefined || this.random.chance(0.7)
    if (behind) this.post(draft(level, left, { post: lost(k) }), k)
    else this.ante(draft(level, left, { ante: lost(k) }), k)
  }

  private breve(): void {
    const { groups } = this.m
    const single = this.needs === BREVIS || this.random.chance(this.habits.single ?? 0.55)
    if (single) return void this.put(draft(BREVIS, this.full(BREVIS), { rest: this.random.chance(this.habits.rest) }))
    const members = groups!.shares(Number(this.random.weighted(groups!.weights)))
    this.put(draft(BREVIS, this.full(BREVIS), { members }))
  }
}
