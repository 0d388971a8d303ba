/** Which voice is the tenor, where nobody says. */
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { findRepetition } from "./find.js"
import type { Repetition } from "./types.js"
import { figuraeOf, pitchView } from "./views.js"

/** "tenor", "Tenor II", "tenor secundus"; not "contratenor". */
const TENOR = /(^|[^\p{L}])tenor/iu
const CONTRATENOR = /contra\W*tenor/iu

/** The voice labelled tenor, if one is. */
export const namedTenor = (readings: readonly Reading[]): Reading | undefined =>
  readings.find(({ label }) => TENOR.test(label) && !CONTRATENOR.test(label))

/**
 * The voice labelled tenor; without one, the voice with the strongest repetition; without any, the lowest. Undefined:
 * there are no voices.
 */
export function chooseTenor(page: Page, readings: readonly Reading[]): Reading | undefined {
  const named = namedTenor(readings)
  if (named) return named
  const strengths = readings.map(reading => strength(findRepetition(page, reading)))
  const strongest = Math.max(0, ...strengths)
  if (strongest > 0) return readings[strengths.indexOf(strongest)]
  const heights = readings.map(reading => height(page, reading))
  return readings[heights.indexOf(Math.min(...heights))]
}

const strength = ({ colores, taleae }: Repetition) =>
  [...colores, ...taleae].reduce((total, series) => total + series.gain, 0)

/** Mean pitch in steps. */
function height(page: Page, reading: Reading): number {
  const voice = page.voices.find(one => one.id === reading.voice)
  const { tokens } = pitchView(voice ? figuraeOf(voice, reading) : [])
  return tokens.reduce((total, token) => total + token.value, 0) / Math.max(1, tokens.length)
}
