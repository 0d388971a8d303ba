/**
 * Voices that turn to another tempus or prolation though no sign says so: what their notes say of it, and how all voices fit
 * each other then. One voice may turn while the others keep theirs, or all turn at once.
 */
import { toNumber } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Divisions } from "../../practices/index.js"
import { readVoice } from "../../reading/index.js"
import type { AssumedChange, ReadOptions } from "../../reading/settings.js"
import { costsOf, type Supposition, type WorkedBefore } from "./ear.js"
import { tokensOf, turnAt, turnsOf, type Pair, type Turn } from "./turns.js"
import type { Work } from "./weighing.js"
import { TEMPER, TURN } from "./weights.js"

/** By voice: its turn; undefined where it has none. */
type Turned = readonly (Turn | undefined)[]

export interface FoundTurns {
  readonly turned: Turned
  /** Twice the chance that it is not so. */
  readonly doubt: number
}

/** Some voices turning, and what their notes gain by it. */
interface Case {
  readonly turned: Turned
  readonly gain: number
}

/** Undefined where nothing speaks for a turn. `whole`: the mensurations found of each voice as a whole. */
export function turnsFound(
  page: Page,
  works: readonly Work[],
  whole: readonly Divisions[],
  options: ReadOptions,
): FoundTurns | undefined {
  const turns = works.map(({ counting, trials }, v) => turnsOf(counting, trials, whole[v]!))
  if (turns.every(all => all.length === 0)) return undefined
  const given = { works, turns, whole, options, most: mostOf(works), known: new WeakMap() }
  const first = heardBest(page, given, [...ofOne(given), ...ofAll(given)])
  const best = first && (heardBest(page, given, [first, ...besides(given, first)]) ?? first)
  return best && { turned: best.turned, doubt: Math.min(1, 2 / (1 + Math.exp(oddsFor(best)))) }
}

/** A case that was heard: so much more all voices cost than as wholes. */
interface HeardCase extends Case {
  readonly cost: number
}

function oddsFor({ gain, cost }: HeardCase): number {
  const beyond = Math.max(0, -cost - TURN.mostTogether)
  const together = Math.min(TURN.mostTogether, -cost) + Math.min(TURN.mostBeyond, TURN.beyond * beyond)
  return TEMPER * gain - TURN.before + together
}

/** How much is heard: of a long piece less, since each search takes long. */
function mostOf(works: readonly Work[]): Most {
  const figures = works.reduce((sum, { counting }) => sum + (tokensOf(counting)?.length ?? 0), 0)
  return figures * works.length >= TURN.long ? TURN.mostOfLong : TURN.most
}

/** Of several cases the likeliest, by what their notes say and how all voices fit each other. */
function heardBest(page: Page, given: Given, cases: readonly Case[]): HeardCase | undefined {
  const costs = given.works.length < 2 ? cases.map(() => 0) : costsBeside(page, given, cases)
  const heard = cases.map((one, i) => ({ ...one, cost: costs[i]! }))
  const likely = ({ gain, cost }: HeardCase): number => TEMPER * gain - cost
  return heard.toSorted((a, b) => likely(b) - likely(a))[0]
}

/** The same turn at other places near by, where the notes speak for it most. */
function besides(given: Given, { turned }: Case): Case[] {
  const { works, turns, options, whole, most } = given
  const [first, ...others] = turned.filter(one => one !== undefined)
  if (first === undefined) return []
  const isNear = (one: Turn, other: Turn): boolean =>
    samePair(one, other) && one.at !== other.at && Math.abs(one.at - other.at) <= TURN.around
  if (others.length === 0) {
    const v = turned.indexOf(first)
    return turns[v]!.filter(one => isNear(one, first))
      .slice(most.places, 2 * most.places)
      .map(one => ({ turned: turned.map(other => other && one), gain: one.gain }))
  }
  const onsets = works.map((one, v) => onsetsUnder(one, { ...whole[v]!, ...levelsIn(first.before) }, options))
  const longest = Math.max(...onsets.map(all => all.length))
  const lead = onsets.findIndex(all => all.length === longest)
  const at = turned[lead]?.at ?? 0
  const moments = onsets[lead]!.slice(Math.max(0, at - TURN.around), at + TURN.around + 1).filter(
    moment => onsets.every(all => all.some(one => Math.abs(one - moment) < CLOSE)) && moment !== onsets[lead]![at],
  )
  return moments
    .map(moment => caseAt(given, first, onsets, moment))
    .sort((a, b) => b.gain - a.gain)
    .slice(0, most.places)
}

/** What each case costs more than the voices as wholes do. */
function costsBeside(page: Page, { whole, options, known }: Given, cases: readonly Case[]): number[] {
  const supposed = ({ turned }: Case): Supposition =>
    whole.map((divisions, v) => (turned[v] === undefined ? divisions : supposing(turned[v])))
  const all = [{ turned: [], gain: 0 }, ...cases].map(one => ({ divisions: supposed(one), options }))
  const [own, ...others] = costsOf(page, all, known)
  return others.map(one => one - own!)
}

/** The turn as what a reading supposes. */
export const supposing = (
  { before, after, from }: Turn,
  doubt = 0,
): Divisions & { readonly changes: readonly AssumedChange[] } => ({
  ...before,
  changes: [{ from, divisions: after, doubt }],
})

/** One voice turns, the others keep theirs. */
function ofOne({ turns, most }: Given): Case[] {
  return turns
    .flatMap((own, v) =>
      own
        .slice(0, most.places)
        .map(turn => ({ turned: turns.map((_, i) => (i === v ? turn : undefined)), gain: turn.gain })),
    )
    .sort((a, b) => b.gain - a.gain)
    .slice(0, most.ofOne)
}

interface Given {
  readonly works: readonly Work[]
  readonly turns: readonly (readonly Turn[])[]
  readonly whole: readonly Divisions[]
  readonly options: ReadOptions
  readonly most: Most
  readonly known: WorkedBefore
}

type Most = typeof TURN.most | typeof TURN.mostOfLong

/** All voices turn at one time, from the same to the same. */
function ofAll(given: Given): Case[] {
  const { works, turns, whole, options, most } = given
  if (works.length < 2) return []
  return pairsOf(turns, most).flatMap(pair => {
    const onsets = works.map((one, v) => onsetsUnder(one, { ...whole[v]!, ...pair.before }, options))
    const moments = turns.flatMap((all, v) =>
      all
        .filter(one => samePair(one, pair))
        .slice(0, most.places)
        .map(({ at }) => onsets[v]![at]!),
    )
    return [...new Set(moments)]
      .map(moment => caseAt(given, pair, onsets, moment))
      .sort((a, b) => b.gain - a.gain)
      .slice(0, most.moments)
  })
}

/** The pairs for which the voices speak most, together. */
function pairsOf(turns: readonly (readonly Turn[])[], most: Most): Pair[] {
  const heaps: { readonly pair: Pair; gain: number }[] = []
  for (const all of turns)
    for (const pair of all) {
      if (all.find(one => samePair(one, pair)) !== pair) continue
      const heap = heaps.find(one => samePair(one.pair, pair))
      if (heap !== undefined) heap.gain += pair.gain
      else heaps.push({ pair: { before: levelsIn(pair.before), after: levelsIn(pair.after) }, gain: pair.gain })
    }
  heaps.sort((a, b) => b.gain - a.gain)
  return heaps.slice(0, most.pairs).map(one => one.pair)
}

const levelsIn = ({ tempus, prolatio }: Pair["before"]): Pair["before"] => ({ tempus, prolatio })
const sameLevels = (a: Pair["before"], b: Pair["before"]): boolean => a.tempus === b.tempus && a.prolatio === b.prolatio
const samePair = (a: Pair, b: Pair): boolean => sameLevels(a.before, b.before) && sameLevels(a.after, b.after)

/** When each token begins, the voice being read by itself under one mensuration. */
function onsetsUnder({ voice, counting }: Work, divisions: Divisions, options: ReadOptions): number[] {
  const tokens = tokensOf(counting) ?? []
  const before = options.assumed?.get(voice.id)
  const assumed = new Map([[voice.id, { ...before, divisions: { ...divisions, doubt: 0 } }]])
  const { signs } = readVoice(voice, { ...options, assumed })
  const known = new Map(signs.map(({ id, onset }) => [id, toNumber(onset)]))
  return tokens.map(({ id }) => known.get(id) ?? Infinity)
}

/** All voices turn where they are at this moment, or soonest after it. */
function caseAt({ works, whole }: Given, pair: Pair, onsets: readonly (readonly number[])[], moment: number): Case {
  let gain = 0
  const turned = works.map(({ counting, trials }, v) => {
    const at = onsets[v]!.findIndex(one => one >= moment - CLOSE)
    const turn = at < 1 ? undefined : turnAt(counting, trials, whole[v]!, pair, at)
    const late = turn !== undefined && onsets[v]![at]! > moment + CLOSE
    gain += (turn?.gain ?? 0) - (late ? TURN.notAtOnce : 0)
    return turn
  })
  return { turned, gain }
}

/** Times of figures are this exact. */
const CLOSE = 1e-6
