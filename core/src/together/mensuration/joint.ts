/**
 * The voices together. The piece has a common measure, of which any voice may depart in a level, and a length, which a
 * voice under its right mensuration is likely to have. Neither is known: the chances are summed over both.
 */
import type { Divisions } from "../../practices/index.js"
import { agreement, customary } from "./custom.js"
import { ALL_DIVISIONS } from "./measures.js"
import type { Trial } from "./candidates.js"
import { CHANCE_LENGTHS, LENGTH_NOT_KNOWN, NEAR_LENGTH, RIGHT_LENGTH, TEMPER, type Custom } from "./weights.js"

export interface VoiceTrials {
  readonly trials: readonly Trial[]
  readonly custom: Custom
  /** Its unit is the tempus. */
  readonly byTempus: boolean
  /** By trial, how long the voice is under it; undefined where that was not looked at. */
  readonly lengths?: readonly (string | undefined)[]
  /** By trial, how long it is if colour in it means something else than it usually does. */
  readonly coloured?: readonly (readonly string[])[]
  /** How much rarer all voices sound with a trial in a piece of that common measure (natural logarithm of odds). */
  readonly departs?: (trial: number, common: Divisions) => number
}

/** What the voices together say. */
export interface Joint {
  /** By voice and trial. */
  readonly chances: number[][]
  /** Measures that the piece may have in common; none where every voice stands by itself. */
  readonly commons: readonly Common[]
}

export interface Common {
  readonly divisions: Divisions
  readonly chance: number
  /** The likeliest trial of each voice in such a piece; undefined for one that has none or stands by itself. */
  readonly trials: readonly (number | undefined)[]
  /** By voice and trial, its share of the chance; of a voice that stands by itself, none. */
  readonly rows: readonly (readonly number[])[]
}

/** How much rarer a piece in this common measure sounds so (natural logarithm of odds). */
export type Sounds = (common: Divisions) => number

/** Chance of each trial of each voice. Before the Ars nova custom says nearly all, and every voice stands by itself. */
export function chancesOf(voices: readonly VoiceTrials[], sounds: Sounds = () => 0): Joint {
  const [apart, linked] = [voices.filter(one => one.byTempus), voices.filter(one => !one.byTempus)]
  const chances = new Map<VoiceTrials, number[]>()
  for (const voice of linked.length === 1 ? voices : apart) chances.set(voice, alone(voice, likelihoods(voice)))
  if (linked.length < 2) return { chances: voices.map(voice => chances.get(voice)!), commons: [] }
  const joint = linkedChances(linked, sounds)
  joint.chances.forEach((row, v) => chances.set(linked[v]!, row))
  const at = voices.map(voice => linked.indexOf(voice))
  const commons = joint.commons.map(one => ({
    ...one,
    trials: at.map(v => (v < 0 ? undefined : one.trials[v])),
    rows: at.map(v => (v < 0 ? [] : one.rows[v]!)),
  }))
  return { chances: voices.map(voice => chances.get(voice)!), commons }
}

function linkedChances(voices: readonly VoiceTrials[], sounds: Sounds): Joint {
  const likely = voices.map(voice => likelihoods(voice))
  const all = voices.flatMap(({ lengths = [], coloured = [] }) => [...lengths, ...coloured.flat()])
  const lengths = new Set(all.filter(length => length !== undefined))
  const commons: Common[] = []
  for (const common of ALL_DIVISIONS) {
    const known = customs(voices, common) * Math.exp(-sounds(common))
    let [all, most] = [0, 0]
    let trials: readonly (number | undefined)[] = []
    const rows = voices.map(({ trials }) => trials.map(() => 0))
    const chances = voices.map(({ trials, custom, departs }, v) =>
      trials.map((trial, c) => {
        const own = likely[v]![c]! * agreement(custom, trial.divisions, common)
        return departs === undefined ? own : own * Math.exp(-departs(c, common))
      }),
    )
    for (const length of lengths.size > 0 ? lengths : [undefined]) {
      const own = chances.map((row, v) => row.map((chance, c) => chance * byLength(voices[v]!, c, length)))
      const weight = addWays(own, known, rows)
      all += weight
      if (weight <= most) continue
      most = weight
      trials = own.map(row => (row.length === 0 ? undefined : row.indexOf(Math.max(...row))))
    }
    commons.push({ divisions: common, chance: all, trials, rows })
  }
  const shares = normal(commons.map(one => one.chance))
  const sums = voices.map(({ trials }, v) =>
    trials.map((_, c) => commons.reduce((sum, one) => sum + one.rows[v]![c]!, 0)),
  )
  return { chances: sums.map(normal), commons: commons.map((one, i) => ({ ...one, chance: shares[i]! })) }
}

const customs = (voices: readonly VoiceTrials[], common: (typeof ALL_DIVISIONS)[number]): number =>
  voices.reduce((sum, { custom }) => sum + customary(custom, common), 0) / voices.length

/** Adds the chances of all trials, of one common measure and length, to the sums; gives what all come to. */
function addWays(own: readonly (readonly number[])[], known: number, sums: number[][]): number {
  // a voice without notes says nothing
  const totals = own.map(row => (row.length === 0 ? 1 : row.reduce((sum, one) => sum + one, 0)))
  const all = totals.reduce((product, one) => product * one, known)
  if (!(all > 0)) return 0
  own.forEach((row, v) => row.forEach((one, c) => (sums[v]![c]! += (all * one) / totals[v]!)))
  return all
}

/** Chance of the trial's length if the piece has this one. */
function byLength({ lengths, coloured }: VoiceTrials, trial: number, length: string | undefined): number {
  if (length === undefined) return 1
  const own = lengths?.[trial]
  if (own === undefined) return LENGTH_NOT_KNOWN
  const ways = [own, ...(coloured?.[trial] ?? [])]
  return ways.reduce((sum, way) => sum + (way === length ? RIGHT_LENGTH : wrongLength(way, length)), 0) / ways.length
}

/** Chance that a voice has the one length in a piece of the other. */
function wrongLength(own: string, wanted: string): number {
  const wrong = 1 - RIGHT_LENGTH
  const { oneIn, share, lengths } = NEAR_LENGTH
  return isNear(own, wanted, oneIn) ? (wrong * share) / lengths : (wrong * (1 - share)) / CHANCE_LENGTHS
}

/** Lengths are told with their unit. */
function isNear(one: string, other: string, oneIn: number): boolean {
  const [unit, time] = one.split(" ")
  const [otherUnit, otherTime] = other.split(" ")
  if (unit !== otherUnit) return false
  const [a, b] = [asNumber(time), asNumber(otherTime)]
  return Math.abs(a - b) * oneIn <= Math.max(a, b)
}

function asNumber(time = ""): number {
  const [over, under = "1"] = time.split("/")
  return Number(over) / Number(under)
}

/** Tempered, and relative to the best. */
function likelihoods({ trials }: VoiceTrials): number[] {
  const best = Math.max(...trials.map(trial => trial.fit))
  return trials.map(trial => Math.exp(TEMPER * (trial.fit - best)))
}

function alone({ trials, custom }: VoiceTrials, likely: readonly number[]): number[] {
  return normal(trials.map((trial, c) => likely[c]! * customary(custom, trial.divisions)))
}

function normal(weights: readonly number[]): number[] {
  const all = weights.reduce((sum, one) => sum + one, 0)
  return weights.map(one => (all > 0 ? one / all : 1 / weights.length))
}
