/** How fast the score goes unless someone says otherwise: a sensible figure by practice, not a claim. */
import { over, ratio, times, type Rational } from "../base/index.js"
import type { Meter } from "./bars.js"
import type { LayerItem, NotatedScore } from "./notated.js"
import type { Score } from "./types.js"
import { wholesPerUnit, type ValueOptions } from "./values.js"

/** Tempora, or minims, in a minute. */
const SPEEDS: Readonly<Record<string, number>> = {
  modal: 200,
  "ars-antiqua": 100,
  "ars-nova": 240,
  trecento: 240,
  "ars-subtilior": 200,
  white: 120,
}

/** Units of the score in a minute. A stroke that all voices share halves the time of each sign, not the singers' beat. */
export function unitsPerMinute(score: Score): Rational {
  const speed = SPEEDS[score.practice] ?? 200
  // Where minims are the common unit, a practice that counts tempora has about six of them in its tempus.
  const inUnit = score.unit === "minima" && speed <= 100 ? speed * 6 : speed
  return over(ratio(inUnit), score.sharedProportion)
}

/** The same in modern quarter notes. */
export function quartersPerMinute(score: Score, options: ValueOptions = {}): Rational {
  return times(times(unitsPerMinute(score), wholesPerUnit(score, options)), ratio(4))
}

/** What a singer counts, in whole notes: three of the meter's notes where they go by threes (6/8, 9/8), else one. */
export function beatOf({ count, unit }: Meter): Rational {
  return ratio(unit >= 8 && count > 3 && count % 3 === 0 ? 3 : 1, unit)
}

export interface MeterChange {
  /** In whole notes from the beginning. */
  readonly at: Rational
  readonly meter: Meter
}

/**
 * The meters of a voice, that at the beginning first. A minim lasts as long under every mensuration (proportions are in the
 * durations already), so quarter notes keep their speed where the meter changes and only what is counted changes.
 */
export function meterChanges(notated: NotatedScore, voice: number): MeterChange[] {
  const first = notated.meters[voice]
  const changes: MeterChange[] = first ? [{ at: ratio(0), meter: first }] : []
  for (const block of notated.blocks) {
    let at = block.start
    for (const item of block.layers[voice] ?? []) {
      if (item.kind === "meter") changes.push({ at, meter: item.meter })
      at = endOf(item) ?? at
    }
  }
  return changes
}

function endOf(item: LayerItem): Rational | undefined {
  if (item.kind === "sign" || item.kind === "continued") return item.end
  return item.kind === "tuplet" ? item.signs.at(-1)?.end : undefined
}
