/**
 * How well a mensuration foretells a voice. At each place of the measure some notes are at home (those whose own cell
 * begins there), some may come by shortening, others only by syncopation; and a note's length there is settled by the
 * rules as far as its neighbours settle it. Summed over all ways to count, this is the chance of the written signs; set
 * against the chance without any measure it can be compared between perfect and imperfect divisions.
 */
import { futuresOf, type Future } from "./futures.js"
import type { Measure } from "./measures.js"
import { beginsCell, BREVE } from "./measures.js"
import type { Token } from "./tokens.js"
import { Ways } from "./ways.js"
import { Onward, type DotUse, type GroupChances } from "./onward.js"
import { SECTION_AT_BREVE, SECTION_OPEN, SLIP, SMOOTHING, TURN, WALL_FULL, WALL_OPEN } from "./weights.js"
import { Welcome } from "./welcome.js"

export interface Foretold {
  /** Natural logarithm of odds against no measure, in all. */
  readonly total: number
  /** The same, token by token. */
  readonly steps: Float64Array
  // the rest only where it was asked for
  /** Share of the ways to count in which the token begins its own cell or is shortened from the front. */
  readonly home: Float64Array
  /** Share of the ways in which it is doubled. */
  readonly doubled: Float64Array
  /** What the dot after it is, in most ways. */
  readonly dots: readonly (DotUse | undefined)[]
  /** How well counting might begin anew before the token (natural logarithm of a chance). */
  readonly openings: Float64Array
}

/** What is kept beside the steps. */
export interface Asked {
  /** What the notes do, for telling. */
  readonly told?: boolean
  readonly openings?: boolean
}

/** States lighter than this, beside the heaviest, are dropped. */
const LIGHTEST = 1e-5
const MOST_STATES = 48

/** Shares of the levels in a voice, evened out a little. */
export function sharesOf(tokens: readonly Token[]): Float64Array {
  const shares = new Float64Array(8).fill(0)
  for (const token of tokens) shares[token.level]!++
  const used = shares.reduce((count, share) => count + (share > 0 ? 1 : 0), 0)
  const all = tokens.length + used * SMOOTHING
  return shares.map(share => (share > 0 ? (share + SMOOTHING) / all : 0))
}

export function foretell(
  tokens: readonly Token[],
  measure: Measure,
  shares: Float64Array,
  groups: GroupChances | undefined,
  asked: Asked = {},
): Foretold {
  return new Forward(tokens, measure, shares, groups, asked).run()
}

class Forward extends Onward {
  /** Where the ways to count stand now, and how heavy they are. */
  private now = new Ways()
  private next = new Ways()
  /** By place: where in `next` it stands, -1 where it does not. */
  private readonly slots: Int32Array
  /** By place: where the next breve and the next long begin; -1 until it is asked for. */
  private readonly breves: Int32Array
  private readonly longs: Int32Array
  private readonly welcome: Welcome
  private readonly futures: readonly Future[]
  private readonly told: boolean
  private readonly asksOpenings: boolean
  /** Weights of the ways in which the dot of the present token is used. */
  private uses: Record<DotUse, number> = { division: 0, perfection: 0, addition: 0, nothing: 0 }
  // the way being laid down: its token and weight before, and what all ways of the token come to
  private token!: Token
  private here = 0
  private sum = 0

  constructor(
    private readonly tokens: readonly Token[],
    m: Measure,
    private readonly shares: Float64Array,
    groups: GroupChances | undefined,
    { told = false, openings = false }: Asked,
  ) {
    super(m, groups)
    this.told = told
    this.asksOpenings = openings
    this.slots = new Int32Array(m.cycle).fill(-1)
    this.breves = new Int32Array(m.cycle).fill(-1)
    this.longs = new Int32Array(m.cycle).fill(-1)
    this.welcome = new Welcome(m, shares)
    this.futures = futuresOf(tokens, m)
  }

  run(): Foretold {
    const { length } = this.tokens
    const steps = new Float64Array(length)
    const home = new Float64Array(this.told ? length : 0)
    const doubled = new Float64Array(this.told ? length : 0)
    const dots: (DotUse | undefined)[] = []
    const openings = new Float64Array(this.asksOpenings ? length : 0)
    let total = 0
    this.now.add(0, 1)
    for (let t = 0; t < length; t++) {
      const token = this.tokens[t]!
      if (token.final) break
      if (this.asksOpenings) openings[t] = Math.log(this.shareOpened(TURN.open, TURN.atBreve))
      if (token.opens && t > 0) this.openSection()
      this.slip()
      if (this.told) {
        home[t] = this.shareAtHome(token.level)
        doubled[t] = this.shareDoubled(token, this.futures[t]!)
        this.uses = { division: 0, perfection: 0, addition: 0, nothing: 0 }
      }
      this.step(token, this.futures[t]!)
      if (this.told) dots.push(token.dot === undefined ? undefined : mostUsed(this.uses))
      steps[t] = Math.log(this.sum) - Math.log(this.shares[token.level]!)
      total += steps[t]!
      this.take(this.sum)
    }
    return { total, steps, home, doubled, dots, openings }
  }

  /** Everything begins again; what had not come to the end of a breve and a long pays for it. */
  private openSection(): void {
    const weight = this.shareOpened(SECTION_OPEN, SECTION_AT_BREVE)
    this.now.clear()
    this.now.add(0, weight)
  }

  /** The ways to count, those within a breve or within a long being so much lighter. */
  private shareOpened(open: number, atBreve: number): number {
    const { count, places, weights } = this.now
    let share = 0
    for (let i = 0; i < count; i++) {
      const place = places[i]!
      share += weights[i]! * (beginsCell(this.m, 1, place) ? 1 : beginsCell(this.m, BREVE, place) ? atBreve : open)
    }
    return share
  }

  private slip(): void {
    const { count, places, weights } = this.now
    const { breves, longs } = this
    for (let i = 0; i < count; i++) {
      const place = places[i]!
      const part = (weights[i]! * SLIP) / 2
      this.put(place, weights[i]! - 2 * part)
      if (breves[place]! < 0) this.findNext(place)
      this.put(breves[place]!, part)
      this.put(longs[place]!, part)
    }
    this.take(1)
  }

  private findNext(place: number): void {
    const { full, cycle } = this.m
    const breve = full[BREVE]!
    const long = Math.min(full[1]!, cycle)
    this.breves[place] = (Math.ceil(place / breve) * breve) % cycle
    this.longs[place] = (Math.ceil(place / long) * long) % cycle
  }

  /** Takes up the states that were put down, the lightest left out. */
  private take(sum: number): void {
    const { next, now, slots } = this
    let least = next.most() * LIGHTEST
    if (next.count > MOST_STATES) least = Math.max(least, next.weightAt(MOST_STATES))
    now.clear()
    for (let i = 0; i < next.count; i++) {
      slots[next.places[i]!] = -1
      if (next.weights[i]! > least) now.add(next.places[i]!, next.weights[i]! / sum)
    }
    next.clear()
  }

  private put(place: number, weight: number): void {
    const { next, slots } = this
    const slot = slots[place]!
    if (slot < 0) {
      slots[place] = next.count
      next.add(place, weight)
    } else next.weights[slot]! += weight
  }

  private shareAtHome(level: number): number {
    const { count, places, weights } = this.now
    let share = 0
    for (let i = 0; i < count; i++) if (this.welcome.isHome(level, places[i]!)) share += weights[i]!
    return share
  }

  private shareDoubled(token: Token, { doubled }: Future): number {
    if (!doubled) return 0
    const { count, places, weights } = this.now
    const larger = this.m.full[token.level - 1]!
    let share = 0
    for (let i = 0; i < count; i++) if (places[i]! % larger === this.m.full[token.level]!) share += weights[i]!
    return share
  }

  /** Lays down every way on; `sum` is then what their chances come to. */
  private step(token: Token, future: Future): void {
    const { count, places, weights } = this.now
    this.sum = 0
    this.token = token
    for (let i = 0; i < count; i++) {
      this.place = places[i]!
      this.here = weights[i]! * this.welcome.at(this.place)[token.level]!
      this.lengths(token, future)
    }
  }

  /** Lays down one way on. */
  protected way(ticks: number, chance: number, use?: DotUse): void {
    const to = this.place + ticks
    const weight = this.here * chance * this.wallAt(this.token, to)
    this.sum += weight
    if (use !== undefined) this.uses[use] += weight
    this.put(to % this.m.cycle, weight)
  }

  private wallAt(token: Token, place: number): number {
    if (token.wall === undefined) return 1
    return beginsCell(this.m, 1, place) ? WALL_FULL : WALL_OPEN
  }
}

function mostUsed(uses: Readonly<Record<DotUse, number>>): DotUse {
  const names = Object.keys(uses) as DotUse[]
  return names.reduce((best, name) => (uses[name] > uses[best] ? name : best), "nothing")
}
