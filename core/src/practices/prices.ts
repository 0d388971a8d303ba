/** What the runs after a note make it cost to leave the note whole or to shorten it. */
import type { Prices, Run } from "./figures.js"
import { groupPreference, type GroupRule } from "./group-preference.js"
import { MODUS_LEVEL } from "./levels.js"
import { isPerfectAt, runAfter, smallerFollows, unitOf } from "./situation.js"
import type { Situation } from "./types.js"

const GROUP_OPTION = ["groupRule.modus", "groupRule.modus", "groupRule.tempus", "groupRule.prolatio"]

/** The count at the modus is weighed at the end of the run, when it is known; elsewhere at once. */
const weighedLater = (level: number): boolean => level === MODUS_LEVEL

/** Prices of a figure by its runs, worked out once. */
export function pricesOf(s: Situation): Prices {
  return ((s.figure as { prices?: Prices }).prices ??= workOutPrices(s))
}

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

export const costOfShort = (s: Situation, level: number): number => pricesOf(s).short[level]!

/** Amounts that can be lost behind, with what they cost: nothing, the whole third, one or two parts at each level, whole and part. */
function possibleBacks(s: Situation, short: readonly number[]): Prices["backs"] {
  const found = [{ amount: 0, cost: 0, level: -1 }]
  if (!smallerFollows(s)) return found
  const level = s.figure.level
  for (const k of s.mensuration.perfect) {
    const run = runAfter(s, k)
    if (k <= level || run.units === 0) continue
    const unit = unitOf(s, k)
    const two = Math.abs(run.units - 2) < 1e-9
    found.push({ amount: unit, cost: short[k]! + (two && s.settings["remoteTwo"] !== "split" ? 1.6 : 0), level: k })
    if (run.units >= 2 - 1e-9 && run.units < 3) found.push({ amount: 2 * unit, cost: twoRemote(s, run), level: k })
  }
  if (!isPerfectAt(s, level)) return found
  const own = unitOf(s, level)
  for (const part of found.slice(1)) found.push({ amount: part.amount + own, cost: short[level]! + 0.4, level: -2 })
  found.push({ amount: own, cost: short[level]!, level })
  return found
}

/** Two remote units: both to the note before, or parted (option remoteTwo). An alteration is preferred where it can be. */
function twoRemote(s: Situation, run: Run): number {
  const base = s.settings["remoteTwo"] === "split" ? 3 : 0
  if (!run.alterable) return base
  return base + (s.settings["remoteOverAlter"] === "true" ? -3 : 2.2)
}
