/**
 * How the units between two larger notes are counted when several countings close: the treatises' group rules as
 * preferences, in logarithms of odds. Closure, dots and other voices overrule them.
 *
 * Counted in edited motets of c. 1300-1370 (theory: observed habits): four units between longs begin by imperfecting the
 * first 300 to 3, five 16 to 6, six 23 to 5, eight or more 11 to 0; three or six minims leave the semibreve perfect in all
 * of 110; three semibreves between breves 16 to 2; four minims imperfect the first 63 to 3; two units of which the second
 * could be altered 62 to 14. Where no count exists the cost is an estimate and stands between its neighbours.
 */
import type { Counted } from "./figures.js"
import { MODUS_LEVEL, PROLATIO_LEVEL, TEMPUS_LEVEL } from "./levels.js"
import type { Cost } from "./types.js"

export type GroupRule = "first-imperfect" | "by-threes" | "practica-1496"

export interface Preference {
  /** Cost of leaving the larger note whole. */
  readonly whole: number
  /** Cost of imperfecting it by the first of them. */
  readonly short: number
}

const { log } = Math
const wholeCosts = (whole: Cost): Preference => ({ whole, short: 0 })
const shortCosts = (short: Cost): Preference => ({ whole: 0, short })

const FREE = wholeCosts(0)
/** A lone unit belongs to the note before it; nearly a rule. */
const ONE = wholeCosts(5)
const ONE_AND_MORE = wholeCosts(1.5)
/** Counted; a little was added by estimate. */
const TWO_ALTERABLE_AT_MODUS = shortCosts(log(62 / 14) + 0.3)
const TWO_ALTERABLE = shortCosts(4)
const TWO_AS_LAST_MUST_BREAK = wholeCosts(1.2)
/** Three that begin with a rest, in the older counting: an estimate. */
const THREE_FROM_REST = wholeCosts(1.5)

/** The older counting, by number; from seven on by what is left over a count of threes. */
const FIRST_IMPERFECT: Readonly<Record<number, Preference>> = {
  3: shortCosts(4.2),
  4: wholeCosts(log(300 / 3)),
  5: wholeCosts(log(16 / 6)),
  6: wholeCosts(log(23 / 5)),
}
const FIRST_IMPERFECT_MANY_AND_ONE = wholeCosts(4)
const FIRST_IMPERFECT_MANY = wholeCosts(2.6)

/** The later counting, by what is left over. */
const ONE_OVER = wholeCosts(2.8)
const ONE_MINIM_OVER = wholeCosts(log(63 / 3))
const TWO_OVER = shortCosts(1.8)
const NONE_OVER = shortCosts(3.4)
const NO_MINIM_OVER = shortCosts(4.7)
const THREE_SEMIBREVES = shortCosts(log(16 / 2))
/** The last of four goes on to the note that follows, if that can take it. */
const LAST_TO_NEXT = shortCosts(1.5)

/** Ars cantus mensurabilis, c. 1280, ch. 5: more than three always begin by imperfecting the first. */
function firstImperfect(units: number): Preference {
  return FIRST_IMPERFECT[units] ?? (units % 3 === 1 ? FIRST_IMPERFECT_MANY_AND_ONE : FIRST_IMPERFECT_MANY)
}

/** Libellus cantus mensurabilis, c. 1340, ch. 3: by the remainder of a count in threes. */
function byThrees(units: number, level: number, alterable: boolean): Preference {
  const minims = level === PROLATIO_LEVEL
  const rest = units % 3
  if (rest === 1) return minims ? ONE_MINIM_OVER : ONE_OVER
  if (rest === 2) return alterable ? TWO_OVER : TWO_AS_LAST_MUST_BREAK
  if (level === TEMPUS_LEVEL && units === 3) return THREE_SEMIBREVES
  return minims ? NO_MINIM_OVER : NONE_OVER
}

/** Practica musicae, 1496, II.11: the last of four goes to the following note if that can take it. */
function practica1496(units: number, level: number, alterable: boolean): Preference {
  return units % 3 === 1 ? LAST_TO_NEXT : byThrees(units, level, alterable)
}

/** The preference for `run` after a free larger note at `level`. A fraction over says little: the first unit is still wanted by the note before. */
export function groupPreference(rule: GroupRule, level: number, run: Counted): Preference {
  const units = run.units
  if (units === 0) return FREE
  if (Math.abs(units - Math.round(units)) > 1e-9) return Math.floor(units) === 1 ? ONE_AND_MORE : FREE
  const whole = Math.round(units)
  if (whole === 1) return ONE
  if (whole === 2)
    return !run.alterable ? TWO_AS_LAST_MUST_BREAK : level === MODUS_LEVEL ? TWO_ALTERABLE_AT_MODUS : TWO_ALTERABLE
  if (whole === 3 && run.startsWithRest && rule === "first-imperfect") return THREE_FROM_REST
  if (rule === "first-imperfect") return firstImperfect(whole)
  return rule === "by-threes" ? byThrees(whole, level, run.alterable) : practica1496(whole, level, run.alterable)
}
