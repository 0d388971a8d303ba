/** Where a voice may turn to other mensurations that no sign states, and how much better it is foretold so. */
import type { Divisions } from "../../practices/index.js"
import { measureFor, type Counting, type Trial } from "./candidates.js"
import { foretell, sharesOf } from "./forward.js"
import { sameDivisions } from "./measures.js"
import type { Token } from "./tokens.js"
import { CHANGE, TURN } from "./weights.js"

/** From a token on a voice goes by these divisions. */
export interface Span {
  readonly at: number
  readonly divisions: Divisions
}
/** The first begins with the voice; each ends where the next begins. */
export type Plan = readonly Span[]

/** A plan, and how much better it foretells the voice than its mensuration as a whole (natural logarithm of odds, not brought down). */
export interface Planned {
  readonly plan: Plan
  readonly gain: number
}

/** The tokens of a voice in which turns are looked for; undefined where its signs state anything. */
export function tokensOf({ sections, grouped, byTempus }: Counting): readonly Token[] | undefined {
  const [section, ...more] = sections
  if (section === undefined || more.length > 0 || section.stated.size > 0 || grouped || byTempus) return undefined
  return section.tokens
}

/** Mensurations between which one turns: tempus and prolation change, the modus staying, or the modus alone. */
export const mayTurn = (a: Divisions, b: Divisions): boolean =>
  a.modusMaior === b.modusMaior &&
  !sameDivisions(a, b) &&
  (a.modusMinor === b.modusMinor || (a.tempus === b.tempus && a.prolatio === b.prolatio))

/** A stretch counted from its first token on. */
interface Run {
  /** By token after its first: what all before it come to. */
  readonly sums: Float64Array
  /** The same: how well counting might begin anew there. */
  readonly openings: Float64Array
}

/** One voice in which turns are looked for. */
export class TurningVoice {
  private readonly shares: Float64Array
  /** Those that are tried; the modus maior stays. */
  private readonly rivals: readonly Trial[]
  private readonly sums: readonly Float64Array[]
  private readonly base: number
  private readonly runs = new Map<string, Run>()

  constructor(
    readonly tokens: readonly Token[],
    trials: readonly Trial[],
    readonly whole: Divisions,
  ) {
    this.shares = sharesOf(tokens)
    this.rivals = trials.filter(one => sameDivisions(one.divisions, whole) || mayTurn(one.divisions, whole))
    this.sums = this.rivals.map(one => sumsOf(one.foretold[0]!.steps))
    this.base = this.rivals[this.indexOf(whole)]?.foretold[0]!.total ?? 0
  }

  /** Whether a voice is tried under these divisions. */
  knows(divisions: Divisions): boolean {
    return this.indexOf(divisions) >= 0
  }

  gainOf(plan: Plan): number {
    let gain = -this.base
    plan.forEach((span, i) => {
      const to = plan[i + 1]?.at ?? this.tokens.length
      gain += this.valueOf(span, to)
      if (i > 0) gain += this.openingAt(plan[i - 1]!, span.at)
    })
    return gain
  }

  /**
   * Turns within one span of a plan, likeliest first: one turn at several places, and two turns where they gain so much more.
   * Of a voice without turns yet both mensurations are open; else the one of the span stays on one side of the turn.
   */
  turnsIn(plan: Plan, index: number): Planned[] {
    const from = plan[index]!.at
    const to = plan[index + 1]?.at ?? this.tokens.length
    if (to - from < 2 * CHANGE.leastTokens) return []
    const known = this.gainOf(plan)
    const glimpsed = this.glimpsesOf(plan, index, from, to)
    const found: Planned[] = []
    for (const { spans } of glimpsed) {
      const glance = [...plan.slice(0, index), ...spans, ...plan.slice(index + 1)]
      found.push(...this.placed(glance, index + 1, spans.length - 1))
    }
    return found.filter(one => one.gain - known >= TURN.least).sort((a, b) => b.gain - a.gain)
  }

  /** The same turns, one of them at other places near by, likeliest first. */
  near(plan: Plan, turn: number): Planned[] {
    const { at } = plan[turn]!
    const from = Math.max(plan[turn - 1]!.at + CHANGE.leastTokens, at - TURN.around)
    const to = Math.min((plan[turn + 1]?.at ?? this.tokens.length) - CHANGE.leastTokens, at + TURN.around)
    const found: Planned[] = []
    for (let place = from; place <= to; place++) {
      if (this.tokens[place]!.joined) continue
      const moved = plan.with(turn, { ...plan[turn]!, at: place })
      found.push({ plan: moved, gain: this.gainOf(moved) })
    }
    return found.sort((a, b) => b.gain - a.gain)
  }

  /** So many turns of a plan, from one on, put where the notes speak for them most; a single one at all places near by. */
  private placed(glance: Plan, first: number, turns: number): Planned[] {
    if (turns === 1) return this.near(glance, first)
    let plan = glance
    for (const turn of [first, first + 1, first]) plan = this.near(plan, turn)[0]?.plan ?? plan
    return [{ plan, gain: this.gainOf(plan) }]
  }

  /** What is gained, as far as one sees who counts on in all mensurations all the time. */
  private glimpsesOf(plan: Plan, index: number, from: number, to: number): Glimpse[] {
    const own = this.indexOf(plan[index]!.divisions)
    const isOpen = plan.length === 1
    const base = this.sums[own]![to]! - this.sums[own]![from]!
    const kept = (all: Glimpse[]): Glimpse[] => all.sort((a, b) => b.gain - a.gain)
    const once = kept(
      this.pairs()
        .filter(pair => isOpen || pair.includes(own))
        .map(pair => this.bestPlace(pair, from, to, base))
        .filter(one => one.gain >= TURN.glimpsed),
    )
    const least = (once[0]?.gain ?? 0) + TURN.glimpsedAgain
    const twice = kept(
      this.pairs()
        .flatMap(([a, b]) => this.after(b).map(c => [a, b, c] as const))
        .filter(([a, , c]) => isOpen || (a === own && c === own))
        .map(triple => this.bestPlaces(triple, from, to, base))
        .filter(one => one.gain >= least),
    )
    return [...once, ...twice.slice(0, TURN.mostTwice)]
  }

  private pairs(): (readonly [number, number])[] {
    return this.rivals.flatMap((_, a) => this.after(a).map(b => [a, b] as const))
  }

  /** Rivals to which one may turn from another. */
  private after(a: number): number[] {
    const { rivals } = this
    const counts = rivals[a]!.foretold[0]
    return rivals.flatMap(({ divisions, foretold }, b) =>
      mayTurn(rivals[a]!.divisions, divisions) && foretold[0] !== counts ? [b] : [],
    )
  }

  /** Where one who counts on in two mensurations all the time would rather change from the one to the other. */
  private bestPlace([a, b]: readonly [number, number], from: number, to: number, base: number): Glimpse {
    const [before, after] = [this.sums[a]!, this.sums[b]!]
    let [at, most] = [from + CHANGE.leastTokens, -Infinity]
    for (let i = at; i <= to - CHANGE.leastTokens; i++) {
      const gain = before[i]! - before[from]! + after[to]! - after[i]!
      if (gain > most) [at, most] = [i, gain]
    }
    return { spans: this.spans([a, from], [b, at]), gain: most - base }
  }

  /** The same with a second change. */
  private bestPlaces([a, b, c]: readonly [number, number, number], from: number, to: number, base: number): Glimpse {
    const [before, within, after] = [this.sums[a]!, this.sums[b]!, this.sums[c]!]
    const least = CHANGE.leastTokens
    let first = from + least
    let best = { first, second: first + least, gain: -Infinity }
    for (let j = from + 2 * least; j <= to - least; j++) {
      const i = j - least
      if (before[i]! - within[i]! > before[first]! - within[first]!) first = i
      const gain = before[first]! - before[from]! + within[j]! - within[first]! + after[to]! - after[j]!
      if (gain > best.gain) best = { first, second: j, gain }
    }
    return { spans: this.spans([a, from], [b, best.first], [c, best.second]), gain: best.gain - base }
  }

  private spans(...all: readonly (readonly [rival: number, at: number])[]): Plan {
    return all.map(([rival, at]) => ({ at, divisions: this.rivals[rival]!.divisions }))
  }

  private indexOf(divisions: Divisions): number {
    return this.rivals.findIndex(one => sameDivisions(one.divisions, divisions))
  }

  private valueOf({ at, divisions }: Span, to: number): number {
    const { sums } = this.runOf(at, divisions)
    if (to - at < sums.length) return sums[to - at]!
    // far enough behind a turn, all count alike again
    const whole = this.sums[this.indexOf(divisions)]!
    const near = at + sums.length - 1
    return sums.at(-1)! + whole[to]! - whole[near]!
  }

  private openingAt({ at, divisions }: Span, place: number): number {
    const { openings } = this.runOf(at, divisions)
    return openings[place - at] ?? this.runOf(0, divisions).openings[place]!
  }

  /** All of the voice from its beginning; from a later token on only as far as it matters where counting began. */
  private runOf(at: number, divisions: Divisions): Run {
    const key = `${at} ${this.indexOf(divisions)}`
    let run = this.runs.get(key)
    if (run === undefined) {
      const part = at === 0 ? this.tokens : this.tokens.slice(at, at + TURN.ahead)
      const asked = foretell(part, measureFor(this.tokens, divisions), this.shares, undefined, { openings: true })
      this.runs.set(key, (run = { sums: sumsOf(asked.steps), openings: asked.openings }))
    }
    return run
  }
}

/** The spans of one or two turns, roughly placed, and what they gain. */
interface Glimpse {
  readonly spans: Plan
  readonly gain: number
}

/** By token: what all before it come to; the last is the whole. */
function sumsOf(steps: Float64Array): Float64Array {
  const sums = new Float64Array(steps.length + 1)
  for (let t = 0; t < steps.length; t++) sums[t + 1] = sums[t]! + steps[t]!
  return sums
}
