/**
 * How these very voices sound: the shares of each kind of interval as a piece has them, against what the same notes laid
 * together at random would have. Weights made of them, with the practice's own as a start, are strict where the piece is
 * consonant and say little where it is full of discords.
 */
import { intervalOf, type Tone } from "./motion.js"
import {
  INTERVAL_KINDS,
  RANDOM_SHARES,
  TEMPER,
  type CostsByStrength,
  type CounterpointWeights,
  type IntervalCosts,
  type IntervalKind,
  type PairWeights,
  type Strength,
} from "./weights.js"

/** So many intervals of a piece weigh as much as what is usual of its practice (an estimate). */
export const OWN_SOUND_AFTER = 40

type Pair = "lowest" | "upper"

/** Intervals that were heard, counted by pair of voices, by how they begin, and where. */
export class Heard {
  private readonly counts = new Map<string, number>()

  add(pair: Pair, together: boolean, strength: Strength, kind: IntervalKind, times = 1): void {
    const key = `${pair} ${together} ${strength} ${kind}`
    this.counts.set(key, (this.counts.get(key) ?? 0) + times)
  }

  of(pair: Pair, together: boolean, strength: Strength, kind: IntervalKind): number {
    return this.counts.get(`${pair} ${together} ${strength} ${kind}`) ?? 0
  }
}

/** The weights of a practice made to fit what was heard; `voices`: all tones of each voice. */
export function adaptedTo(
  usual: CounterpointWeights,
  heard: Heard,
  voices: readonly (readonly Tone[])[],
): CounterpointWeights {
  const random = { together: randomShares(voices, true), against: randomShares(voices, false) }
  const costs = (pair: Pair, together: boolean): CostsByStrength => {
    const how = together ? "together" : "against"
    const at = (strength: Strength): IntervalCosts =>
      adapted(usual[pair][how][strength], kind => heard.of(pair, together, strength, kind), random[how])
    return [at(0), at(1), at(2)]
  }
  const weigh = (pair: Pair): PairWeights => ({
    together: costs(pair, true),
    against: costs(pair, false),
    concords: usual[pair].concords,
  })
  return { ...usual, lowest: weigh("lowest"), upper: weigh("upper") }
}

/**
 * The same weights with all concords alike. Voices go side by side in thirds or sixths for a while: which concord it is
 * says little more the second time, while every discord has to be accounted for.
 */
export function concordsAlike(weights: CounterpointWeights): CounterpointWeights {
  const alike = (costs: IntervalCosts, concords: readonly IntervalKind[]): IntervalCosts => {
    const random = total(concords.map(kind => RANDOM_SHARES[kind]))
    const own = total(concords.map(kind => RANDOM_SHARES[kind] * Math.exp(-costs[kind] / TEMPER)))
    const cost = TEMPER * Math.log(random / own)
    return { ...costs, ...Object.fromEntries(concords.map(kind => [kind, cost])) }
  }
  const each = (costs: CostsByStrength, concords: readonly IntervalKind[]): CostsByStrength => [
    alike(costs[0], concords),
    alike(costs[1], concords),
    alike(costs[2], concords),
  ]
  const pair = ({ together, against, concords }: PairWeights): PairWeights => ({
    together: each(together, concords),
    against: each(against, concords),
    concords,
  })
  return { ...weights, lowest: pair(weights.lowest), upper: pair(weights.upper) }
}

/** Weights that are trusted only so far. */
export function tempered(weights: CounterpointWeights, by: number): CounterpointWeights {
  const all = (costs: IntervalCosts): IntervalCosts =>
    Object.fromEntries(INTERVAL_KINDS.map(kind => [kind, by * costs[kind]])) as Record<IntervalKind, number>
  const each = ([a, b, c]: CostsByStrength): CostsByStrength => [all(a), all(b), all(c)]
  const pair = (one: PairWeights): PairWeights => ({ ...one, together: each(one.together), against: each(one.against) })
  return { ...weights, lowest: pair(weights.lowest), upper: pair(weights.upper) }
}

function adapted(usual: IntervalCosts, seen: (kind: IntervalKind) => number, random: IntervalCosts): IntervalCosts {
  const shares = INTERVAL_KINDS.map(kind => RANDOM_SHARES[kind] * Math.exp(-usual[kind] / TEMPER))
  const sum = total(shares)
  // what beginning together, or apart, says beside the interval stays as it is
  const coincidence = -TEMPER * Math.log(sum)
  const all = total(INTERVAL_KINDS.map(seen))
  const costs = INTERVAL_KINDS.map((kind, i) => {
    const share = (seen(kind) + (OWN_SOUND_AFTER * shares[i]!) / sum) / (all + OWN_SOUND_AFTER)
    return [kind, TEMPER * Math.log(random[kind] / share) + coincidence] as const
  })
  return Object.fromEntries(costs) as Record<IntervalKind, number>
}

const total = (list: readonly number[]): number => list.reduce((sum, one) => sum + one, 0)

/** Shares of the kinds among all pairs of notes of different voices, as if either began. */
function randomShares(voices: readonly (readonly Tone[])[], together: boolean): IntervalCosts {
  const counts = Object.fromEntries(INTERVAL_KINDS.map(kind => [kind, 1])) as Record<IntervalKind, number>
  const sorts = voices.map(sortsOf)
  for (const [v, one] of sorts.entries())
    for (const [u, other] of sorts.entries())
      if (u !== v)
        for (const a of one) for (const b of other) counts[intervalOf(a.tone, b.tone, together)] += a.count * b.count
  const sum = total(Object.values(counts))
  return Object.fromEntries(INTERVAL_KINDS.map(kind => [kind, counts[kind] / sum])) as Record<IntervalKind, number>
}

interface Sort {
  readonly tone: Tone
  count: number
}

/** Tones that are heard alike, octaves taken away, with their numbers. */
function sortsOf(tones: readonly Tone[]): Sort[] {
  const sorts = new Map<number, Sort>()
  for (const { step, byStep, falls } of tones) {
    if (Number.isNaN(step)) continue
    const place = ((step % 7) + 7) % 7
    const key = 4 * place + 2 * Number(byStep) + Number(falls)
    const known = sorts.get(key)
    if (known) known.count++
    else sorts.set(key, { tone: { step: place, byStep, falls }, count: 1 })
  }
  return [...sorts.values()]
}
