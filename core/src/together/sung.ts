/** Parts that are sung in canon or several times: when the last voice sung from one has its final. */
import { equals, minus, ZERO, type Rational } from "../base/index.js"
import type { Reading, SignReading } from "../reading/index.js"
import { soundingReadings } from "../score/sounding.js"

/**
 * By how much the final of the last voice sung from a part begins later than that of the part itself, in its unit; 0 where
 * it does not. The other voices wait so long for it, whatever else the part may be read as.
 */
export function sungAfter(part: Reading): Rational {
  const own = finalOnset(part)
  if (part.canon === undefined || own === undefined) return ZERO
  const finals = soundingReadings([part]).readings.flatMap(one => finalOnset(one) ?? [])
  const latest = finals.reduce((late, one) => (minus(one, late).num > 0 ? one : late), own)
  return equals(latest, own) ? ZERO : minus(latest, own)
}

function finalOnset({ signs }: Reading): Rational | undefined {
  const lasts = ({ kind, duration }: SignReading): boolean => (kind === "note" || kind === "rest") && duration.num > 0
  const last = signs.findLast(lasts)
  return last?.kind === "note" ? last.onset : undefined
}
