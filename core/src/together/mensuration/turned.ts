/**
 * Voices that turn to other mensurations though no sign says so: what their notes say of it, and how all voices fit each other
 * then. One voice may turn while the others keep theirs, or all turn at once; what was found stays, and from there one looks
 * again.
 */
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import type { ReadOptions } from "../../reading/settings.js"
import { supposing, TurningTogether, type Case } from "./at-once.js"
import { costsOf, costsWithoutEach, strainUnder, type Supposition, type WorkedBefore } from "./ear.js"
import { tokensOf, TurningVoice, type Planned } from "./turns.js"
import type { Work } from "./weighing.js"
import { TEMPER, TURN } from "./weights.js"

/** A voice that turns. */
export interface Turned extends Planned {
  readonly voice: TurningVoice
}

export interface FoundTurns {
  /** By voice; undefined where it does not turn. */
  readonly turned: readonly (Turned | undefined)[]
  /** Twice the chance that it is not so. */
  readonly doubt: number
}

/** A case that was heard. */
interface Heard extends Case {
  /** Natural logarithm of the odds for it against no turn, and against what was known before. */
  readonly odds: number
  readonly gained: number
  /** The same by its notes alone, beside its price; and what all voices cost less. */
  readonly notes: number
  readonly better: number
}

/** Undefined where nothing leaves so little doubt that it would be read. `whole`: the mensurations found of each voice as a whole. */
export function turnsFound(
  page: Page,
  works: readonly Work[],
  whole: readonly Divisions[],
  options: ReadOptions,
): FoundTurns | undefined {
  const voices = works.map(({ counting, trials }, v) => {
    const isTried = trials.some(one => one.divisions === whole[v])
    return new TurningVoice((isTried && tokensOf(counting)) || [], trials, whole[v]!)
  })
  const all = voices.reduce((sum, { tokens }) => sum + tokens.length, 0)
  const most = all * works.length >= TURN.long ? TURN.mostOfLong : TURN.most
  const given: Given = { page, works, voices, options, most, known: new WeakMap() }
  const none = { plans: voices.map(one => [{ at: 0, divisions: one.whole }]), gain: 0, turns: 0, ...NOTHING }
  const found = steps(given, none).findLast(one => doubtOf(one) < TURN.read)
  if (found === undefined) return undefined
  const turned = found.plans.map((plan, v) => {
    const voice = voices[v]!
    return plan.length > 1 ? { voice, plan, gain: voice.gainOf(plan) } : undefined
  })
  return { turned, doubt: doubtOf(found) }
}

const NOTHING = { odds: 0, gained: 0, notes: 0, better: 0 }

interface Given {
  readonly page: Page
  readonly works: readonly Work[]
  readonly voices: readonly TurningVoice[]
  readonly options: ReadOptions
  readonly most: typeof TURN.most | typeof TURN.mostOfLong
  readonly known: WorkedBefore
}

/** A turn that was added last has to be as sure as all together. */
const doubtOf = ({ odds, gained }: Heard): number => Math.min(1, 2 / (1 + Math.exp(Math.min(odds, gained))))

/** One turn after the other, or two of a voice at a time. The first may be hardly likely as long as a second is not heard with it. */
function steps(given: Given, none: Heard): Heard[] {
  const found: Heard[] = []
  for (let before = none; found.length < given.most.rounds;) {
    const next = nextAfter(given, before)
    if (next === undefined) break
    found.push(next)
    if (found.length > 1 ? doubtOf(next) >= TURN.read : next.odds < TURN.likely) break
    before = next
  }
  return found
}

function nextAfter(given: Given, before: Heard): Heard | undefined {
  const { works, voices, options, most } = given
  const own = voices.map((voice, v) => {
    const plan = before.plans[v]!
    return voice.tokens.length === 0 ? [] : plan.flatMap((_, i) => voice.turnsIn(plan, i))
  })
  const together = new TurningTogether(works, voices, options, most)
  const told = heardBest(given, before, [
    ...ofOne(given, before, own),
    ...(before.turns === 0 || before.atOnce ? together.cases(own, before.turns) : []),
  ])
  const isOpen = before.turns === 0 && (told === undefined || doubtOf(told) >= TURN.read)
  const first = isOpen ? likelier(told, heardInModus(given, before, together)) : told
  if (first === undefined) return undefined
  const near = first.atOnce ? together.near(first) : besides(given, before, first)
  const best = heardBest(given, before, [first, ...near]) ?? first
  return best.atOnce ? withoutEach(given, before, best) : best
}

/**
 * All voices turn in the modus alone: longs are few, and the notes of one voice may say little of where. Heard at a few places, and
 * around the best of them ever nearer; undefined where the voices fit each other no better at any. Where they meet without bending
 * their rules no note would last otherwise, and nothing is heard.
 */
function heardInModus(given: Given, before: Heard, together: TurningTogether): Heard | undefined {
  if (given.voices.length < 2 || given.most !== TURN.most) return undefined
  // before the Ars nova the modus is perfect, by custom; to hear whether the voices are strained takes as long as to read them
  if (given.works.some(one => one.counting.byTempus) || !isStrained(given, before)) return undefined
  let best = heardBest(given, before, together.inModus(TURN.modus.shares))
  if (best === undefined || best.better <= 0) return undefined
  const notes = Math.max(...given.voices.map(({ tokens }) => tokens.length))
  for (let step = notes / TURN.modus.parts; step >= TURN.modus.nearest; step /= 2)
    best = heardBest(given, before, [best, ...together.around(best, Math.floor(step))]) ?? best
  return best
}

function isStrained(given: Given, { plans }: Case): boolean {
  const { page, options, known } = given
  return strainUnder(page, { divisions: supposed(given, plans), options }, known) >= TURN.modus.strain
}

const likelier = (a: Heard | undefined, b: Heard | undefined): Heard | undefined =>
  a === undefined || (b !== undefined && likelihood(b) > likelihood(a)) ? b : a

/** How much better the voices fit each other, not bounded: for comparing turns with each other. */
const likelihood = ({ notes, better }: Heard): number => notes + better

/** A slip of the pen is in one voice: what all gain whichever is left out, no single slip explains, and it counts in full. */
function withoutEach(given: Given, before: Heard, one: Heard): Heard {
  if (one.better <= TURN.mostTogether || doubtOf(one) < TURN.read) return one
  const { page, options, known } = given
  const costs = costsWithoutEach(
    page,
    [before, one].map(({ plans }) => ({ divisions: supposed(given, plans), options })),
    known,
  )
  const least = Math.max(0, Math.min(...costs.map(([without, within]) => without! - within!)))
  const gained = one.notes + least + boundedly(one.better - least)
  return { ...one, gained, odds: before.odds + gained }
}

/** One voice turns, the others are as they were. */
function ofOne({ voices, most }: Given, before: Case, own: readonly (readonly Planned[])[]): Case[] {
  return own
    .flatMap((all, v) => all.slice(0, most.places).map(one => turning(before, v, one, voices[v]!)))
    .sort((a, b) => b.gain - a.gain)
    .slice(0, most.ofOne)
}

function turning(before: Case, v: number, { plan, gain }: Planned, voice: TurningVoice): Case {
  const known = before.plans[v]!
  return {
    plans: before.plans.with(v, plan),
    gain: before.gain + gain - voice.gainOf(known),
    turns: before.turns + plan.length - known.length,
  }
}

/** The same turns of one voice at other places near by, where the notes speak for them most. */
function besides({ voices, most }: Given, before: Case, { plans }: Case): Case[] {
  const v = plans.findIndex((plan, i) => plan !== before.plans[i])
  const plan = plans[v]!
  const isNew = (k: number): boolean => !before.plans[v]!.some(one => one.at === plan[k]!.at)
  return plan
    .flatMap((_, k) => (k > 0 && isNew(k) ? voices[v]!.near(plan, k).slice(0, 2 * most.places) : []))
    .filter(one => one.plan.some((span, k) => span.at !== plan[k]!.at))
    .map(one => turning(before, v, one, voices[v]!))
}

/** Of several cases the likeliest, by what their notes say and how all voices fit each other. */
function heardBest(given: Given, before: Heard, cases: readonly Case[]): Heard | undefined {
  const costs = given.voices.length < 2 ? cases.map(() => 0) : costsBeside(given, before, cases)
  const heard = cases.map((one, i) => {
    const price = TURN.again * (one.turns - before.turns) + (before.turns === 0 ? TURN.before - TURN.again : 0)
    const notes = TEMPER * (one.gain - before.gain) - price
    const better = -costs[i]!
    const gained = notes + boundedly(better)
    return { ...one, notes, better, gained, odds: before.odds + gained }
  })
  return heard.toSorted((a, b) => likelihood(b) - likelihood(a))[0]
}

function boundedly(better: number): number {
  const beyond = Math.max(0, better - TURN.mostTogether)
  return Math.min(TURN.mostTogether, better) + Math.min(TURN.mostBeyond, TURN.beyond * beyond)
}

/** What each case costs more than what was known before. */
function costsBeside(given: Given, before: Case, cases: readonly Case[]): number[] {
  if (cases.length === 0) return []
  const { page, options, known } = given
  const all = [before, ...cases].map(({ plans }) => ({ divisions: supposed(given, plans), options }))
  const [own, ...others] = costsOf(page, all, known)
  return others.map(one => one - own!)
}

const supposed = ({ voices }: Given, plans: Case["plans"]): Supposition =>
  plans.map((plan, v) => supposing(voices[v]!, plan))
