/** The score as modern notation: bars, ties, tuplets, meters, shown accidentals; still data, of no file format. */
import { equals, times, type Rational } from "../base/index.js"
import { barsOf, blocksOf } from "./bars.js"
import { layersOf } from "./layers.js"
import type { NotatedScore } from "./notated.js"
import type { Score, ScoreVoice } from "./types.js"
import { wholesPerUnit, type ValueOptions } from "./values.js"

/** Throws a RangeError for a reduction that is no power of two up to 32, and `TooShort` for times that no sign can show. */
export function notate(score: Score, options: ValueOptions = {}): NotatedScore {
  const scale = wholesPerUnit(score, options)
  const end = times(score.duration, scale)
  const bars = score.voices.map(voice => barsOf(voice, scale, end))
  const meters = bars.map(own => own.find(bar => bar.meter)?.meter ?? null)
  const blocks = blocksOf(bars, end)
  const layers = score.voices.map((voice, i) => layersOf(voice, bars[i]!, blocks, scale, meters[i]!))
  const closes = (voice: ScoreVoice, at: Rational) => voice.sectionEnds.some(own => equals(times(own, scale), at))
  return {
    score,
    wholesPerUnit: scale,
    meters,
    blocks: blocks.map((block, i) => ({
      ...block,
      sectionEnd: score.voices.every(voice => closes(voice, block.end)),
      layers: layers.map(own => own[i]!),
    })),
  }
}
