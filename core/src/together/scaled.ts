/** Voices that are sung in other values than they are written in: found where only so they meet the others. */
import { equals, ratio, times, toText, type Rational, type VoiceId } from "../base/index.js"
import type { Reading } from "../reading/types.js"
import type { Together } from "./read-together.js"

/** By what written durations may be divided, commonest first (diminution and augmentation, c. 1340 to 1550). */
const RATIOS: readonly Rational[] = [ratio(2), ratio(1, 2), ratio(3), ratio(1, 3), ratio(4), ratio(1, 4)]

/** In voices of fewer notes such a ratio may be chance. */
const ENOUGH = 12

/** For each voice that misses the finals of those that meet, the ratio by which it would meet them. */
export function scalesWanted({ readings, meeting }: Pick<Together, "readings" | "meeting">): Map<VoiceId, Rational> {
  const wanted = new Map<VoiceId, Rational>()
  const model = readings.find(reading => meeting.includes(reading.voice) && !reading.canon)
  const goal = model && finalOnset(model)
  if (readings.some(({ signs }) => signs.filter(sign => sign.kind === "note").length < ENOUGH)) return wanted
  if (goal === undefined || (meeting.length < 2 && readings.length > 2)) return wanted
  for (const reading of readings) {
    const onset = finalOnset(reading)
    if (meeting.includes(reading.voice) || onset === undefined || reading.canon || reading.unit !== model!.unit)
      continue
    const found = RATIOS.find(by => equals(onset, times(goal, by)))
    if (found !== undefined) wanted.set(reading.voice, found)
  }
  return wanted
}

function finalOnset({ signs }: Reading): Rational | undefined {
  const final = signs.findLast(sign => sign.number > 0)
  return final?.kind === "note" && final.onset.num > 0 ? final.onset : undefined
}

/** The reading with a problem that says by what its durations were divided. */
export function withScaleTold(reading: Reading, by: Rational | undefined): Reading {
  if (by === undefined) return reading
  const how = by.num > by.den ? `divided by ${toText(by)}` : `multiplied by ${toText({ num: by.den, den: by.num })}`
  const problem = {
    code: "other-values",
    what: `${reading.label} meets the other voices only with all its durations ${how}; it was read so, though nothing on the page says it.`,
    where: { place: reading.label },
    mend: "If that is meant, give the voice its canon inscription or a sign of proportion; if not, look for what it lacks with resolutio fit.",
  }
  return { ...reading, problems: [...reading.problems, problem] }
}
