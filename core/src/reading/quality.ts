/** What the treatises call a duration of its level: perfect, imperfect, altered, lesser, greater. */
import { BREVIS, LONGA, MAXIMA, MINIMA, UNIT } from "../practices/index.js"
import type { DecidedFigure, Naming } from "./naming.js"
import type { Quality } from "./types.js"

/** The quality of the figure's duration; null where its level has none. */
export function qualityOf({ stretch, figure, decided }: DecidedFigure, naming: Naming): Quality | null {
  if (figure.rest) return null
  const { divisions, full, perfect } = stretch.mensuration
  const own = decided.choice.rule
  if (own === "alteratio" || own === "alteratio-et-imperfectio") return "altera"
  if (naming.practice.unit === "tempus") return qualityByTempus(figure.level, decided.ticks, perfect.includes(LONGA))
  if (figure.level >= MINIMA || decided.choice.group !== undefined) return null
  if (divisions[figure.level] !== 3) return "imperfecta"
  return decided.ticks > full[figure.level]! - full[figure.level + 1]! ? "perfecta" : "imperfecta"
}

/** Before the Ars nova; `perfect`: whether the longs are. */
function qualityByTempus(level: number, ticks: number, perfect: boolean): Quality | null {
  if (level === MAXIMA) return "duplex"
  if (level === LONGA) return perfect && ticks === 3 * UNIT ? "perfecta" : "imperfecta"
  if (level === BREVIS) return ticks === 2 * UNIT ? "altera" : null
  const third = UNIT / 3
  return ticks === third ? "minor" : ticks === 2 * third ? "maior" : null
}
