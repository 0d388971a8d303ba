/** A score in modern notation by an edition's conventions. */
import { notate, type NotatedScore, type Score, type ValueOptions } from "../score/index.js"
import type { EditionConventions } from "./conventions.js"
import { preparedBy } from "./prepared.js"

/** How written durations become modern ones by these conventions. */
export function valuesBy({ reduction }: Pick<EditionConventions, "reduction">): ValueOptions {
  return reduction === "usual" ? {} : { reduction }
}

/** The bar lines that the score can have: a single voice has no space between staves. */
export function barsFor({ bars }: Pick<EditionConventions, "bars">, { voices }: Score): EditionConventions["bars"] {
  if (voices.length > 1) return bars
  return bars === "between" ? "ticks" : bars === "through" ? "full" : bars
}

/**
 * Bars, ties, tuplets and accidentals as the conventions want them. Throws a RangeError for a reduction that is no power of
 * two up to 32, and `TooShort` for times that no sign can show. `systems`: numbers of the bars that begin a system, over
 * whose beginning everything is tied.
 */
export function notatedBy(
  score: Score,
  conventions: EditionConventions,
  systems: readonly number[] = [],
): NotatedScore {
  const { bars, overLines, finals, cautionary } = conventions
  return notate(preparedBy(score, conventions), {
    ...valuesBy(conventions),
    bars: bars === "own" ? "own" : "common",
    overLines,
    cautionary,
    systems,
    longFinals: finals === "long",
  })
}
