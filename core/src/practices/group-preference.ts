/**
 * How the units between two larger notes are counted when several countings close: the treatises' group rules as
 * preferences, in logarithms of odds. Closure, dots and other voices overrule them.
 *
 * Counted in edited motets of c. 1300-1370 (theory: observed habits): four units between longs begin by imperfecting the
 * first 300 to 3, five 16 to 6, six 23 to 5, eight or more 11 to 0; three or six minims leave the semibreve perfect in all
 * of 110; three semibreves between breves 16 to 2; four minims imperfect the first 63 to 3; two units of which the second
 * could be altered 62 to 14. Where no count exists the cost is an estimate and stands between its neighbours.
 */
import type { Run } from "./figures.js"
import { MODUS_LEVEL, PROLATIO_LEVEL, TEMPUS_LEVEL } from "./levels.js"

export type GroupRule = "first-imperfect" | "by-threes" | "practica-1496"

export interface Preference {
  /** Cost of leaving the larger note whole. */
  readonly whole: number
  /** Cost of imperfecting it by the first of them. */
  readonly short: number
}

const log = Math.log
const FREE: Preference = { whole: 0, short: 0 }
/** A lone unit belongs to the note before it; nearly a rule. */
const ONE: Preference = { whole: 5, short: 0 }
const ONE_AND_MORE: Preference = { whole: 1.5, short: 0 }
const TWO_ALTERABLE_AT_MODUS: Preference = { whole: 0, short: log(62 / 14) + 0.3 }
const TWO_ALTERABLE: Preference = { whole: 0, short: 4 }
const TWO_AS_LAST_MUST_BREAK: Preference = { whole: 1.2, short: 0 }

/** Ars cantus mensurabilis, c. 1280, ch. 5: more than three always begin by imperfecting the first. */
function firstImperfect(units: number): Preference {
  if (units === 3) return { whole: 0, short: 4.2 }
  if (units === 4) return { whole: log(300 / 3), short: 0 }
  if (units === 5) return { whole: log(16 / 6), short: 0 }
  if (units === 6) return { whole: log(23 / 5), short: 0 }
  return { whole: units % 3 === 1 ? 4 : 2.6, short: 0 }
}

/** Libellus cantus mensurabilis, c. 1340, ch. 3: by the remainder of a count in threes. */
function byThrees(units: number, level: number, alterable: boolean): Preference {
  const rest = units % 3
  if (rest === 2 && !alterable) return TWO_AS_LAST_MUST_BREAK
  if (rest === 1) return { whole: level === PROLATIO_LEVEL ? log(63 / 3) : 2.8, short: 0 }
  if (rest === 2) return { whole: 0, short: 1.8 }
  if (level === TEMPUS_LEVEL && units === 3) return { whole: 0, short: log(16 / 2) }
  return { whole: 0, short: level === PROLATIO_LEVEL ? 4.7 : 3.4 }
}

/** Practica musicae, 1496, II.11: the last of four goes to the following note if that can take it. */
function practica1496(units: number, level: number, alterable: boolean): Preference {
  if (units % 3 === 1) return { whole: 0, short: 1.5 }
  return byThrees(units, level, alterable)
}

/** The preference for `run` after a free larger note at `level`. A fraction over says little: the first unit is still wanted by the note before. */
export function groupPreference(rule: GroupRule, level: number, run: Run): Preference {
  const units = run.units
  if (units === 0) return FREE
  if (Math.abs(units - Math.round(units)) > 1e-9) return Math.floor(units) === 1 ? ONE_AND_MORE : FREE
  const whole = Math.round(units)
  if (whole === 1) return ONE
  if (whole === 2)
    return !run.alterable ? TWO_AS_LAST_MUST_BREAK : level === MODUS_LEVEL ? TWO_ALTERABLE_AT_MODUS : TWO_ALTERABLE
  if (whole === 3 && run.startsWithRest && rule === "first-imperfect") return { whole: 1.5, short: 0 }
  if (rule === "first-imperfect") return firstImperfect(whole)
  return rule === "by-threes" ? byThrees(whole, level, run.alterable) : practica1496(whole, level, run.alterable)
}
