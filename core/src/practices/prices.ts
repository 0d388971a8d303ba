/** What the runs after a note make it cost to leave the note whole or to shorten it. */
import type { Counted, Prices } from "./figures.js"
import { groupPreference, type GroupRule } from "./group-preference.js"
import { MODUS_LEVEL } from "./levels.js"
import { isPerfectAt, runAfter, smallerFollows, unitOf } from "./situation.js"
import type { Cost, Situation } from "./types.js"

/** By level: the option that says how its units are counted. */
const GROUP_OPTION = ["groupRule.modus", "groupRule.modus", "groupRule.tempus", "groupRule.prolatio"]

/** A price above this (five to two) says that the usual way of counting was overruled. */
const OVERRULING = 0.9
export const isOverruled = (price: Cost): boolean => price > OVERRULING

/** Only one of two remote units is taken, where both usually go together (1 : 5). */
const ONE_OF_TWO = 1.6
/** A part beside the whole third is lost a little more rarely than the third alone (1 : 1.5). */
const BESIDE_WHOLE = 0.4
/** Two remote units go to one note although the option parts them (1 : 20); although the second could be altered (1 : 9). */
const AGAINST_SPLIT = 3
const AGAINST_ALTERING = 2.2
/** The option wants them taken even before an alteration. */
const BEFORE_ALTERING = -3
/** What `level` of a loss behind says where it is none of one level: nothing is lost; the whole third and a part. */
const NO_LOSS = -1
const WHOLE_AND_PART = -2

/** The count at the modus is weighed at the end of the run, when it is known; elsewhere at once. */
const weighedLater = (level: number): boolean => level === MODUS_LEVEL

/** Prices of the figure by the runs after it. */
export const pricesOf = (s: Situation): Prices => (s.prices ??= workOutPrices(s))

function workOutPrices(s: Situation): Prices {
  const whole = [0, 0, 0, 0]
  const short = [0, 0, 0, 0]
  for (const level of s.mensuration.perfect) {
    if (level < s.figure.level || (weighedLater(level) && level === s.figure.level)) continue
    const preference = groupPreference(groupRuleFor(s, level), level, runAfter(s, level))
    whole[level] = preference.whole
    short[level] = preference.short
  }
  return { whole, short, backs: possibleBacks(s, short) }
}

/** The older counting is stated for a note of just this level; a remote larger one counts by the remainder. */
function groupRuleFor(s: Situation, level: number): GroupRule {
  const rule = s.settings[GROUP_OPTION[level]!] as GroupRule
  return rule === "first-imperfect" && s.figure.level < level ? "by-threes" : rule
}

/**
 * What it costs to leave the note whole at all its perfect levels except `besides`.
 * At each the units that follow would rather have found a note to shorten, or not.
 */
export function costOfWhole(s: Situation, besides = -1): number {
  const { whole } = pricesOf(s)
  let cost = 0
  for (let level = s.figure.level; level < 4; level++) if (level !== besides) cost += whole[level]!
  return cost
}

/** The same for its parts alone, when the whole has already given. */
export function costOfParts(s: Situation, besides = -1): number {
  const { whole } = pricesOf(s)
  let cost = 0
  for (let level = s.figure.level + 1; level < 4; level++) if (level !== besides) cost += whole[level]!
  return cost
}

/** What it costs to shorten the note at this level. */
export const costOfShort = (s: Situation, level: number): number => pricesOf(s).short[level]!

/** Amounts that can be lost behind, with what they cost: nothing, the whole third, one or two parts at each level, whole and part. */
function possibleBacks(s: Situation, short: readonly number[]): Prices["backs"] {
  const nothing = { amount: 0, cost: 0, level: NO_LOSS }
  if (!smallerFollows(s)) return [nothing]
  const { level } = s.figure
  const parts = s.mensuration.perfect.flatMap(k => (k > level ? partsBehind(s, k, short[k]!) : []))
  if (!isPerfectAt(s, level)) return [nothing, ...parts]
  const own = { amount: unitOf(s, level), cost: short[level]!, level }
  const both = parts.map(({ amount }) => ({
    amount: amount + own.amount,
    cost: own.cost + BESIDE_WHOLE,
    level: WHOLE_AND_PART,
  }))
  return [nothing, ...parts, ...both, own]
}

/** One or two parts of level `k`, by the run of its units that follows. */
function partsBehind(s: Situation, k: number, short: number): Prices["backs"] {
  const run = runAfter(s, k)
  if (run.units === 0) return []
  const unit = unitOf(s, k)
  const two = Math.abs(run.units - 2) < 1e-9
  const one = { amount: unit, cost: short + (two && s.settings["remoteTwo"] !== "split" ? ONE_OF_TWO : 0), level: k }
  const both = run.units >= 2 - 1e-9 && run.units < 3
  return both ? [one, { amount: 2 * unit, cost: twoRemote(s, run), level: k }] : [one]
}

/** Two remote units: both to the note before, or parted (option remoteTwo). An alteration is preferred where it can be. */
function twoRemote(s: Situation, run: Counted): number {
  const base = s.settings["remoteTwo"] === "split" ? AGAINST_SPLIT : 0
  if (!run.alterable) return base
  return base + (s.settings["remoteOverAlter"] === "true" ? BEFORE_ALTERING : AGAINST_ALTERING)
}
