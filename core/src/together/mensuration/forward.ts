/**
 * How well a mensuration foretells a voice. At each place of the measure some notes are at home (those whose own cell
 * begins there), some may come by shortening, others only by syncopation; and a note's length there is settled by the
 * rules as far as its neighbours settle it. Summed over all ways to count, this is the chance of the written signs; set
 * against the chance without any measure it can be compared between perfect and imperfect divisions.
 */
import { DOT, LENGTH, PLACE, SECTION_OPEN, SLIP, SMOOTHING, WALL_OPEN } from "./weights.js"
import { futuresOf, type Future } from "./futures.js"
import type { Measure } from "./measures.js"
import { BREVE, MINIM } from "./measures.js"
import type { Token } from "./tokens.js"

/** Lays down one way on. */
type Way = (ticks: number, chance: number, use?: DotUse) => void

/** How a run of plain semibreves may count, in breves, with chances. */
export type GroupChances = (members: number, divisions: readonly number[], nearBreve: boolean) => readonly number[]

export type DotUse = "division" | "perfection" | "addition" | "nothing"

export interface Foretold {
  /** Natural logarithm of odds against no measure, in all. */
  readonly total: number
  /** The same, token by token. */
  readonly steps: Float64Array
  /** Share of the ways to count in which the token begins its own cell or is shortened from the front. */
  readonly home: Float64Array
  /** Share of the ways in which it is doubled. */
  readonly doubled: Float64Array
  /** What the dot after it is, in most ways. */
  readonly dots: readonly (DotUse | undefined)[]
  /** Ticks of the likeliest way, up to the onset of the last token. */
  readonly length: number
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
): Foretold {
  return new Forward(tokens, measure, shares, groups).run()
}

class Forward {
  /** Where the ways to count stand now, how heavy they are, and how many ticks they have gone. */
  private places: number[] = [0]
  private weights: number[] = [1]
  private gone: number[] = [0]
  private readonly slots: Int32Array
  private nextPlaces: number[] = []
  private nextWeights: number[] = []
  private nextGone: number[] = []
  private nextBest: number[] = []
  /** By place: how welcome each level is, all together one. */
  private readonly welcome = new Map<number, Float64Array>()
  private readonly futures: readonly Future[]
  private now = 0
  /** Weights of the ways in which the dot of the present token is used. */
  private uses: Record<DotUse, number> = { division: 0, perfection: 0, addition: 0, nothing: 0 }

  constructor(
    private readonly tokens: readonly Token[],
    private readonly m: Measure,
    private readonly shares: Float64Array,
    private readonly groups: GroupChances | undefined,
  ) {
    this.slots = new Int32Array(m.cycle).fill(-1)
    this.futures = futuresOf(tokens, m)
  }

  run(): Foretold {
    const { length } = this.tokens
    const steps = new Float64Array(length)
    const home = new Float64Array(length)
    const doubled = new Float64Array(length)
    const dots: (DotUse | undefined)[] = []
    let total = 0
    let last = 0
    for (let t = 0; t < length; t++) {
      const token = this.tokens[t]!
      this.now = t
      if (token.opens && t > 0) this.openSection()
      this.slip()
      let heaviest = 0
      this.weights.forEach((weight, i) => {
        if (weight > heaviest) {
          heaviest = weight
          last = this.gone[i]!
        }
      })
      home[t] = this.shareAtHome(token.level)
      doubled[t] = this.shareDoubled(token)
      this.uses = { division: 0, perfection: 0, addition: 0, nothing: 0 }
      const sum = this.step(token)
      dots.push(token.dot === undefined ? undefined : mostUsed(this.uses))
      steps[t] = Math.log(sum) - Math.log(this.shares[token.level]!)
      total += steps[t]!
      this.take(sum)
    }
    return { total, steps, home, doubled, dots, length: last }
  }

  /** Everything begins again; what had not come to the end of a breve and a long pays for it. */
  private openSection(): void {
    let weight = 0
    let gone = 0
    let heaviest = 0
    this.places.forEach((place, i) => {
      const open = place % this.m.full[1]! === 0 ? 1 : place % this.m.full[BREVE]! === 0 ? 0.6 : SECTION_OPEN
      weight += this.weights[i]! * open
      if (this.weights[i]! * open > heaviest) {
        heaviest = this.weights[i]! * open
        gone = this.gone[i]!
      }
    })
    this.places = [0]
    this.weights = [weight]
    this.gone = [gone]
  }

  private slip(): void {
    const { full, cycle } = this.m
    const count = this.places.length
    for (let i = 0; i < count; i++) {
      const place = this.places[i]!
      const part = (this.weights[i]! * SLIP) / 2
      this.weights[i]! -= 2 * part
      for (const cell of [full[BREVE]!, Math.min(full[1]!, cycle)]) {
        const to = (Math.ceil(place / cell) * cell) % cycle
        this.put(to, part, this.gone[i]! + ((to - place + cycle) % cycle))
      }
    }
    for (let i = 0; i < count; i++) this.put(this.places[i]!, this.weights[i]!, this.gone[i]!)
    this.take(1)
  }

  /** Takes up the states that were put down, the lightest left out. */
  private take(sum: number): void {
    for (const place of this.nextPlaces) this.slots[place] = -1
    const most = Math.max(...this.nextWeights)
    let order = this.nextWeights.map((_, i) => i).filter(i => this.nextWeights[i]! > most * LIGHTEST)
    if (order.length > MOST_STATES)
      order = order.sort((a, b) => this.nextWeights[b]! - this.nextWeights[a]!).slice(0, MOST_STATES)
    this.places = order.map(i => this.nextPlaces[i]!)
    this.weights = order.map(i => this.nextWeights[i]! / sum)
    this.gone = order.map(i => this.nextGone[i]!)
    this.nextPlaces = []
    this.nextWeights = []
    this.nextGone = []
    this.nextBest = []
  }

  private put(place: number, weight: number, gone: number): void {
    const slot = this.slots[place]!
    if (slot < 0) {
      this.slots[place] = this.nextPlaces.length
      this.nextPlaces.push(place)
      this.nextWeights.push(weight)
      this.nextGone.push(gone)
      this.nextBest.push(weight)
      return
    }
    this.nextWeights[slot]! += weight
    if (weight > this.nextBest[slot]!) {
      this.nextBest[slot] = weight
      this.nextGone[slot] = gone
    }
  }

  private shareAtHome(level: number): number {
    let share = 0
    this.places.forEach((place, i) => {
      if (this.fit(level, place) > PLACE.off[Math.min(level, MINIM)]!) share += this.weights[i]!
    })
    return share
  }

  private shareDoubled(token: Token): number {
    if (!this.futures[this.now]!.doubled) return 0
    const larger = this.m.full[token.level - 1]!
    let share = 0
    this.places.forEach((place, i) => {
      if (place % larger === this.m.full[token.level]!) share += this.weights[i]!
    })
    return share
  }

  /** How welcome a note of the level is at this place. */
  private fit(level: number, place: number): number {
    const { full, divisions } = this.m
    const over = place % full[level]!
    if (over === 0) return 1
    if (divisions[level] === 3 && over === full[level + 1]) return PLACE.ante
    for (let k = level + 1; k < MINIM; k++)
      if (divisions[k] === 3 && (over === full[k + 1] || over === 2 * full[k + 1]!)) return PLACE.antePart
    return PLACE.off[Math.min(level, MINIM)]!
  }

  private welcomeAt(place: number): Float64Array {
    let known = this.welcome.get(place)
    if (known === undefined) {
      known = this.shares.map((share, level) => (share > 0 ? share * this.fit(level, place) : 0))
      let all = 0
      for (const one of known) all += one
      for (let level = 0; level < known.length; level++) known[level]! /= all
      this.welcome.set(place, known)
    }
    return known
  }

  /** Lays down every way on; gives the sum of their chances. */
  private step(token: Token): number {
    let sum = 0
    const future = this.futures[this.now]!
    for (let i = 0; i < this.places.length; i++) {
      const place = this.places[i]!
      const here = this.weights[i]! * this.welcomeAt(place)[token.level]!
      const gone = this.gone[i]!
      this.lengths(token, future, place, (ticks, chance, use) => {
        const weight = here * chance * this.wallAt(token, place + ticks)
        sum += weight
        if (use !== undefined) this.uses[use] += weight
        this.put((place + ticks) % this.m.cycle, weight, gone + ticks)
      })
    }
    return sum
  }

  private wallAt(token: Token, place: number): number {
    if (token.wall === undefined) return 1
    return place % this.m.full[1]! === 0 ? 1.5 : WALL_OPEN
  }

  private lengths(token: Token, future: Future, place: number, way: Way): void {
    if (token.members > 0) return this.groupLengths(token, future, way)
    if (token.rest || future.fixed !== undefined) return way(future.fixed ?? future.full, 1)
    if (token.dot !== undefined) return this.dottedLengths(token, future, place, way)
    this.plainLengths(token.level, future, place, way)
  }

  private groupLengths(token: Token, future: Future, way: Way): void {
    const chances = this.groups!(token.members, this.m.divisions, future.nearBreve)
    chances.forEach((chance, breves) => {
      if (chance > 0) way(Math.round(breves * this.m.full[BREVE]!), chance)
    })
  }

  private dottedLengths({ level }: Token, future: Future, place: number, way: Way): void {
    const { full, divisions } = this.m
    const own = full[level]!
    const ends = (ticks: number): boolean => {
      for (let k = level - 1; k >= 0; k--) if (divisions[k] === 3 && (place + ticks) % full[k]! === 0) return true
      return false
    }
    if (divisions[level] === 3) {
      const over = place % own
      if (over === 0) way(own, DOT.perfection, "perfection")
      else way(own, DOT.nothing, "nothing")
      if (over === full[level + 1] && ends(own - over)) way(own - over, DOT.division / 2, "division")
      return
    }
    let spoken = 0
    if (this.groups === undefined) {
      const begins = level === 0 || place % full[level - 1]! === 0
      const worth = begins ? DOT.addition : DOT.additionElsewhere
      spoken++
      way(own * 1.5, future.smallerFollows ? worth : worth / 3, "addition")
    }
    if (ends(own)) {
      spoken++
      way(own, DOT.division, "division")
    }
    if (spoken === 0) way(own, DOT.nothing, "nothing")
  }

  private plainLengths(level: number, future: Future, place: number, way: Way): void {
    const { full, divisions } = this.m
    const own = full[level]!
    const over = place % own
    let left = 1
    if (future.doubled !== undefined && place % full[level - 1]! === own) {
      if (future.doubled > 0) way(2 * own, future.doubled)
      left = LENGTH.notAltered
    }
    if (divisions[level] === 3) {
      const unit = full[level + 1]!
      if (over === 0) {
        way(own - unit, left * future.short)
        left -= left * future.short
      } else if (over === unit) {
        way(own - unit, left * future.ante)
        left -= left * future.ante
      }
    }
    if (over !== 0 && divisions[level] !== 3) {
      const front = this.frontPart(level, over)
      if (front) {
        way(own - over, left * LENGTH.ante)
        left -= left * LENGTH.ante
      }
    }
    for (const [ticks, chance] of future.parts) {
      way(own - ticks, left * chance)
      left -= left * chance
    }
    if (left > 0) way(own, left)
  }

  private frontPart(level: number, over: number): boolean {
    const { full, divisions } = this.m
    for (let k = level + 1; k < MINIM; k++)
      if (divisions[k] === 3 && (over === full[k + 1] || over === 2 * full[k + 1]!)) return true
    return false
  }
}

function mostUsed(uses: Readonly<Record<DotUse, number>>): DotUse {
  const names = Object.keys(uses) as DotUse[]
  return names.reduce((best, name) => (uses[name] > uses[best] ? name : best), "nothing")
}
