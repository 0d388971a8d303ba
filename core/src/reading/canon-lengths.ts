/** Times that a canon tells in notes of a level. */
import { ONE, over, ratio, times, ZERO, type Rational } from "../base/index.js"
import type { Level } from "../page/index.js"
import type { MensurationSpan, Unit } from "./types.js"

/** How long so many notes of a level last at the beginning of a voice, in its unit. A level that is not known divides in two. */
export function lengthOf(count: Rational, level: Level, span: MensurationSpan | undefined, unit: Unit): Rational {
  const proportion = span && span.proportion.num > 0 ? span.proportion : ONE
  return over(times(count, unit === "tempus" ? inTempora(level, span) : inMinims(level, span)), proportion)
}

function inMinims(level: Level, span: MensurationSpan | undefined): Rational {
  const S = span?.prolatio ?? 2
  const B = S * (span?.tempus ?? 2)
  const L = B * (span?.modusMinor ?? 2)
  const lengths: Record<Level, Rational> = {
    maxima: ratio(L * (span?.modusMaior ?? 2)),
    longa: ratio(L),
    brevis: ratio(B),
    semibrevis: ratio(S),
    minima: ONE,
    semiminima: ratio(1, 2),
    fusa: ratio(1, 4),
    semifusa: ratio(1, 8),
  }
  return lengths[level]
}

function inTempora(level: Level, span: MensurationSpan | undefined): Rational {
  const modus = span?.modusMinor ?? 3
  if (level === "maxima") return ratio(2 * modus)
  if (level === "longa") return ratio(modus)
  return level === "brevis" ? ONE : level === "semibrevis" ? ratio(1, 3) : ZERO
}
