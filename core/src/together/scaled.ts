/** Voices that are sung in other values than they are written in: found where only so they meet the others. */
import { equals, ONE, ratio, times, toText, type Problem, type Rational, type VoiceId } from "../base/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Reading } from "../reading/types.js"
import type { Together } from "./read-together.js"

/** By what written durations may be divided, commonest first (diminution and augmentation, c. 1340 to 1550). */
const RATIOS: readonly Rational[] = [ratio(2), ratio(1, 2), ratio(3), ratio(1, 3), ratio(4), ratio(1, 4)]

type Wanted = "readings" | "meeting" | "worked"

/** In voices of fewer notes such a ratio may be chance. */
const ENOUGH = 12

/**
 * For each voice that misses the finals of those that meet, the ratio by which it would meet them; under a stroke through its
 * signs, which by some makes a proportion and by others only quickens the beat, at least what undoes it is worth trying.
 */
export function scalesWanted({ readings, meeting, worked }: Pick<Together, Wanted>): Map<VoiceId, Rational> {
  const wanted = new Map<VoiceId, Rational>()
  const model = readings.find(reading => meeting.includes(reading.voice) && !reading.canon)
  const goal = model && finalOnset(model)
  if (goal === undefined || (meeting.length < 2 && readings.length > 2)) return wanted
  const isEnough = readings.every(({ signs }) => signs.filter(sign => sign.kind === "note").length >= ENOUGH)
  readings.forEach((reading, v) => {
    if (meeting.includes(reading.voice) || reading.canon || reading.unit !== model!.unit) return
    // read by itself it is not bent towards places that it cannot reach
    const onsets = [reading, worked[v]!.reading].flatMap(one => finalOnset(one) ?? [])
    const by = isEnough ? RATIOS.find(by => onsets.some(onset => equals(onset, times(goal, by)))) : undefined
    const found = by ?? strokeUndone(worked[v]!)
    if (found !== undefined && onsets.length > 0) wanted.set(reading.voice, found)
  })
  return wanted
}

/** What undoes a stroke that is the only proportion of the voice, and is its from beginning to end. */
function strokeUndone({ voice, reading }: WorkedVoice): Rational | undefined {
  const signs = voice.signs.filter(sign => sign.kind === "mensuration")
  const { num, den } = reading.mensurations[0]?.proportion ?? ONE
  const isSame = reading.mensurations.every(({ proportion: own }) => own.num === num && own.den === den)
  const isStroke = signs.every(sign => (sign.strokes ?? 0) > 0 && !sign.reversed && !sign.figures && !sign.num)
  return isSame && isStroke && num !== den ? { num: den, den: num } : undefined
}

function finalOnset({ signs }: Reading): Rational | undefined {
  const final = signs.findLast(sign => sign.number > 0)
  return final?.kind === "note" && final.onset.num > 0 ? final.onset : undefined
}

/**
 * The reading with a problem that says by what its durations were divided, or that a stroke is no proportion. `plain`: the voice
 * as it is written.
 */
export function withScaleTold(reading: Reading, by: Rational | undefined, plain: WorkedVoice): Reading {
  if (by === undefined) return reading
  const undone = strokeUndone(plain)
  if (undone && equals(undone, by)) return { ...reading, problems: [...reading.problems, strokeTold(reading)] }
  const how = by.num > by.den ? `divided by ${toText(by)}` : `multiplied by ${toText({ num: by.den, den: by.num })}`
  const problem = {
    code: "other-values",
    what: `${reading.label} meets the other voices only with all its durations ${how}; it was read so, though nothing on the page says it.`,
    where: { place: reading.label },
    mend: "If that is meant, give the voice its canon inscription or a sign of proportion; if not, look for what it lacks with resolutio fit.",
  }
  return { ...reading, problems: [...reading.problems, problem] }
}

const strokeTold = ({ label }: Reading): Problem => ({
  code: "stroke-without-proportion",
  what: `${label} meets the other voices only if the stroke through its sign takes nothing from its durations; it was read so: the stroke only quickens the beat (Proportionale, 1470s, I.3; Dodecachordon, 1547, III.8).`,
  where: { place: label },
  mend: "If that is meant, give the voice the option cutCircle or cutHalfCircle with the value faster; if not, look for what it lacks with resolutio fit.",
})
