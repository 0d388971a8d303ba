/** All voices turn at one time, from the same to the same: once, or twice one after the other. */
import { toNumber } from "../../base/index.js"
import type { Divisions } from "../../practices/index.js"
import { readVoice } from "../../reading/index.js"
import type { AssumedChange, ReadOptions } from "../../reading/settings.js"
import type { Plan, Planned, TurningVoice } from "./turns.js"
import type { Work } from "./weighing.js"
import { TURN } from "./weights.js"

/** Levels that all voices have in common, one after the other; the other levels of each stay. */
type Pattern = readonly Partial<Divisions>[]

/** All voices under a pattern that changes at these moments. */
export interface AtOnce {
  readonly pattern: Pattern
  readonly moments: readonly number[]
}

/** Some voices turning, and what their notes gain by it. */
export interface Case {
  readonly plans: readonly Plan[]
  readonly gain: number
  /** Turns of all voices at once count as one. */
  readonly turns: number
  readonly atOnce?: AtOnce
}

/** A plan as what a reading supposes. */
export function supposing(
  { tokens }: TurningVoice,
  [first, ...later]: Plan,
): Divisions & { readonly changes?: readonly AssumedChange[] } {
  if (later.length === 0) return first!.divisions
  const changes = later.map(({ at, divisions }) => ({ from: tokens[at]!.id, divisions, doubt: 0 }))
  return { ...first!.divisions, changes }
}

/** Voices of which all that turn do so at once. */
export class TurningTogether {
  private readonly onsets = new Map<string, readonly number[]>()

  constructor(
    private readonly works: readonly Work[],
    private readonly voices: readonly TurningVoice[],
    private readonly options: ReadOptions,
    private readonly most: { readonly places: number; readonly pairs: number; readonly moments: number },
  ) {}

  /** From what each voice says by itself; all have turned together so many times already. */
  cases(own: readonly (readonly Planned[])[], turns: number): Case[] {
    if (this.voices.length < 2) return []
    return patternsOf(own, this.most.pairs, turns).flatMap(pattern => {
      const moments = own.flatMap((all, v) =>
        all
          .filter(({ plan }) => sameKey(patternOf(plan), pattern))
          .slice(0, this.most.places)
          .map(({ plan }) => this.momentsOf(v, plan)),
      )
      const cases = distinct(moments).map(one => this.caseAt({ pattern, moments: one }))
      return cases.sort((a, b) => b.gain - a.gain).slice(0, this.most.moments)
    })
  }

  /** All turn in the modus alone, to the one or from it, after these shares of the voice that has most notes. */
  inModus(shares: readonly number[]): Case[] {
    if (this.voices.length < 2) return []
    return MODUS_ALONE.flatMap(pattern => {
      const onsets = this.liveliest(pattern[0]!)
      return onsets === undefined
        ? []
        : shares.map(share => this.caseAt({ pattern, moments: [onsets[Math.floor(share * onsets.length)]!] }))
    })
  }

  /** The same turn at so many notes before and after, in the voice that has most. */
  around({ atOnce }: Case, notes: number): Case[] {
    const { pattern, moments } = atOnce!
    const onsets = this.liveliest(pattern[0]!)!
    const at = onsets.findIndex(one => one >= moments[0]! - CLOSE)
    return [at - notes, at + notes]
      .filter(one => one > 0 && one < onsets.length)
      .map(one => this.caseAt({ pattern, moments: [onsets[one]!] }))
  }

  /** When the notes begin in the voice that has most, all of it read by such levels; undefined if a voice is not tried by them. */
  private liveliest(levels: Partial<Divisions>): readonly number[] | undefined {
    const plans = this.voices.map((voice): Plan => [{ at: 0, divisions: { ...voice.whole, ...levels } }])
    if (!this.voices.every((voice, v) => voice.knows(plans[v]![0]!.divisions))) return undefined
    const most = this.voices.reduce(
      (best, { tokens }, v) => (tokens.length > this.voices[best]!.tokens.length ? v : best),
      0,
    )
    return this.onsetsUnder(most, plans[most]!)
  }

  /** The same at other moments near by at which all voices have a note or rest, each turn by itself. */
  near({ plans, atOnce }: Case): Case[] {
    const { pattern, moments } = atOnce!
    return moments.flatMap((own, k) => {
      const onsets = plans.map((plan, v) => this.onsetsUnder(v, plan.slice(0, k + 1)))
      const longest = Math.max(...onsets.map(all => all.length))
      const lead = onsets.findIndex(all => all.length === longest)
      const at = plans[lead]![k + 1]?.at ?? 0
      const others = onsets[lead]!.slice(Math.max(0, at - TURN.around), at + TURN.around + 1).filter(
        moment =>
          Math.abs(moment - own) >= CLOSE && onsets.every(all => all.some(one => Math.abs(one - moment) < CLOSE)),
      )
      return others
        .map(moment => this.caseAt({ pattern, moments: moments.with(k, moment) }))
        .sort((a, b) => b.gain - a.gain)
        .slice(0, this.most.places)
    })
  }

  private momentsOf(v: number, plan: Plan): number[] {
    return plan.slice(1).map(({ at }, k) => this.onsetsUnder(v, plan.slice(0, k + 1))[at]!)
  }

  /** All voices turn where they are at these moments, or soonest after them. */
  private caseAt(atOnce: AtOnce): Case {
    const all = this.voices.map((voice, v) => this.planAt(voice, v, atOnce))
    const gain = all.reduce((sum, one) => sum + one.gain, 0)
    return { plans: all.map(one => one.plan), gain, turns: atOnce.moments.length, atOnce }
  }

  private planAt(voice: TurningVoice, v: number, { pattern, moments }: AtOnce): Planned {
    const [first, ...later] = pattern.map(levels => ({ ...voice.whole, ...levels }))
    const stays = { plan: [{ at: 0, divisions: voice.whole }], gain: 0 }
    if (voice.tokens.length === 0 || ![first!, ...later].every(one => voice.knows(one))) return stays
    let late = 0
    let plan: Plan = [{ at: 0, divisions: first! }]
    later.forEach((divisions, k) => {
      const onsets = this.onsetsUnder(v, plan)
      const at = onsets.findIndex(one => one >= moments[k]! - CLOSE)
      if (at <= plan.at(-1)!.at) return
      if (onsets[at]! > moments[k]! + CLOSE) late++
      plan = [...plan, { at, divisions }]
    })
    return plan.length === 1 ? stays : { plan, gain: voice.gainOf(plan) - late * TURN.notAtOnce }
  }

  /** When each token begins, the voice being read by itself under a plan. */
  private onsetsUnder(v: number, plan: Plan): readonly number[] {
    const key = `${v} ${JSON.stringify(plan)}`
    const known = this.onsets.get(key)
    if (known !== undefined) return known
    const { voice } = this.works[v]!
    const { tokens } = this.voices[v]!
    const divisions = { ...supposing(this.voices[v]!, plan), doubt: 0 }
    const assumed = new Map([[voice.id, { ...this.options.assumed?.get(voice.id), divisions }]])
    const { signs } = readVoice(voice, { ...this.options, assumed })
    const begins = new Map(signs.map(({ id, onset }) => [id, toNumber(onset)]))
    const onsets = tokens.map(({ id }) => begins.get(id) ?? Infinity)
    this.onsets.set(key, onsets)
    return onsets
  }
}

/** The patterns for which the voices speak most, together: so many of one turn, and of two. */
function patternsOf(own: readonly (readonly Planned[])[], most: number, known: number): Pattern[] {
  const heaps = new Map<string, { readonly pattern: Pattern; gain: number }>()
  for (const all of own) {
    const seen = new Set<string>()
    for (const { plan, gain } of all) {
      const pattern = patternOf(plan)
      const key = JSON.stringify(pattern)
      // likeliest first: of each voice its best place counts
      if (seen.has(key)) continue
      seen.add(key)
      const heap = heaps.get(key)
      if (heap === undefined) heaps.set(key, { pattern, gain })
      else heap.gain += gain
    }
  }
  const sorted = [...heaps.values()].sort((a, b) => b.gain - a.gain).map(one => one.pattern)
  return [1, 2].flatMap(turns => (turns <= known ? [] : sorted.filter(one => one.length === turns + 1).slice(0, most)))
}

/** What turns of a plan: tempus and prolation, or the modus alone. */
function patternOf(plan: Plan): Pattern {
  const isOfModus = plan.some(one => one.divisions.modusMinor !== plan[0]!.divisions.modusMinor)
  return plan.map(({ divisions: { modusMinor, tempus, prolatio } }) =>
    isOfModus ? { modusMinor } : { tempus, prolatio },
  )
}

const sameKey = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)

const distinct = <T>(all: readonly T[]): T[] => [...new Map(all.map(one => [JSON.stringify(one), one])).values()]

const MODUS_ALONE: readonly Pattern[] = [
  [{ modusMinor: 2 }, { modusMinor: 3 }],
  [{ modusMinor: 3 }, { modusMinor: 2 }],
]

/** Times of figures are this exact. */
const CLOSE = 1e-6
