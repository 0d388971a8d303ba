/** The place where the voices first part, and how sure that is. */
import { ratio, toText } from "../../base/index.js"
import { UNIT } from "../../practices/index.js"
import { fitOf } from "../../score/index.js"
import type { Laid, Stage } from "./stage.js"
import type { Parting } from "./types.js"

/** Figures on either side that count as the same place. */
const NEAR = 3
/** Onsets are told in fractions whose denominator divides this. */
const FRACTIONS = 5040

/**
 * Of the voices that would do better to part from the others somewhere, the one that gains most by it: the place of its
 * first parting. Null where no voice would; where none would and yet they do not meet, the finals are the place.
 */
export function firstParting(stage: Stage): Parting | null {
  const gain = ({ analysis }: Laid): number => analysis.whole - analysis.parted
  const parted = stage.laid.filter(({ analysis }) => analysis.jumps.length > 0)
  const [most] = parted.sort((a, b) => gain(b) - gain(a))
  if (most !== undefined) return partingOf(most)
  const { together, firstParting: late } = fitOf(stage.together.readings)
  return together || late === null ? null : { ...late, certainty: 0 }
}

function partingOf({ analysis, backdrop, subject }: Laid): Parting {
  const { figure } = analysis.jumps[0]!
  const time = analysis.onsets[figure] ?? 0
  const least = Math.min(...analysis.partedAt)
  const chances = analysis.partedAt.map(cost => Math.exp(least - cost))
  const all = chances.reduce((sum, one) => sum + one, Math.exp(least - analysis.whole))
  const near = chances.slice(Math.max(0, figure - NEAR), figure + NEAR + 1).reduce((sum, one) => sum + one, 0)
  const own = subject.figures[figure]?.sign.id
  return {
    onset: toText(ratio(Math.round((time / UNIT) * FRACTIONS), FRACTIONS)),
    signs: [...(own ? [own] : []), ...backdrop.soundingAt(time).map(sign => sign.id)],
    certainty: Math.round((near / all) * 1000) / 1000,
  }
}
