/** A voice that misses the others under the mensuration that its own sign states, and would meet them under another. */
import type { Problem } from "../base/index.js"
import type { MensurationSign, Page, Voice } from "../page/index.js"
import { MISSED_MEETING } from "../counterpoint/index.js"
import { workVoice, type WorkedVoice } from "../reading/read-voice.js"
import { withPageOptions } from "../reading/rulings.js"
import type { ReadOptions } from "../reading/settings.js"
import type { MensurationSpan, Reading } from "../reading/types.js"
import { gapsOf } from "./gaps.js"
import { allMeet, heard, sounding, type Once } from "./hearing.js"
import { meetingCost } from "./meeting-cost.js"
import { levelInWords } from "./mensuration/words.js"
import { OTHER_SIGN } from "./mensuration/weights.js"
import { sharedOf } from "./shared.js"

export const SIGN_MISSES = "declared-mensuration-misses"

/** Another modus moves few notes, by a breve or two, and so makes up for a slip too often. */
const LEVELS = ["tempus", "prolatio"] as const
type Level = (typeof LEVELS)[number]

/** A sign with one level the other way. */
interface Turned {
  readonly at: number
  readonly sign: MensurationSign
  readonly level: Level
  readonly was: 2 | 3
  readonly voice: Voice
}

/** The readings with a problem at the sign, if there is one, with which turned all would meet and sound no worse. */
export function withOtherSignTold(page: Page, once: Once, readings: Reading[], options: ReadOptions): Reading[] {
  const voices = sounding(once.worked)
  const figures = voices.reduce((sum, one) => sum + one.reading.signs.length, 0)
  if (voices.length < 2 || figures > OTHER_SIGN.mostNotes || allMeet(once)) return readings
  if (voices.some(one => gapsOf(one).length > 0)) return readings
  const best = likeliest(page, once, options)
  if (best === undefined) return readings
  return readings.map((one, v) => (v === best.at ? { ...one, problems: [...one.problems, told(one, best)] } : one))
}

function likeliest(page: Page, once: Once, options: ReadOptions): Turned | undefined {
  const own = withPageOptions(page, { ...options, shared: sharedOf(once.worked) })
  const count = sounding(once.worked).length
  let best: { readonly turned: Turned; readonly cost: number } | undefined
  for (const turned of suspects(once).flatMap(at => turnedSigns(once.worked[at]!, at))) {
    const worked = once.worked.with(turned.at, workVoice(turned.voice, own))
    const length = meetingCost(worked, turned.voice.id, count)
    if (length === undefined || length > OTHER_SIGN.bent) continue
    const other = heard(worked, new Map(), { echoes: [], after: new Map() })
    if (allMeet(other) && (best === undefined || other.cost < best.cost)) best = { turned, cost: other.cost }
  }
  // that the finals are no longer missed is not enough
  return best !== undefined && once.cost - best.cost > MISSED_MEETING + OTHER_SIGN.sounds ? best.turned : undefined
}

/** Voices that miss those that meet; all where there are no such. */
const suspects = ({ worked, meeting }: Once): number[] =>
  [...worked.keys()].filter(v => meeting.length < 2 || !meeting.includes(worked[v]!.voice.id))

function turnedSigns({ voice, reading }: WorkedVoice, at: number): Turned[] {
  return reading.mensurations.flatMap(span => {
    const sign = voice.signs.find(one => one.id === span.sign)
    if (sign?.kind !== "mensuration" || !isPlain(sign)) return []
    return LEVELS.filter(level => span[level] !== null).map(level => ({
      at,
      sign,
      level,
      was: span[level]!,
      voice: withSign(voice, sign, turnedSign(sign, span, level)),
    }))
  })
}

const isPlain = (one: MensurationSign): boolean =>
  !(one.strokes || one.reversed || one.orientation || one.figures || one.letter || one.num || one.shape)

function turnedSign(sign: MensurationSign, span: MensurationSpan, level: Level): MensurationSign {
  const { sign: _, dots: __, ...kept } = sign
  return { ...kept, tempus: span.tempus ?? 2, prolatio: span.prolatio ?? 2, [level]: span[level] === 3 ? 2 : 3 }
}

const withSign = (voice: Voice, sign: MensurationSign, other: MensurationSign): Voice => ({
  ...voice,
  signs: voice.signs.map(one => (one === sign ? other : one)),
})

function told({ label }: Reading, { sign, level, was }: Turned): Problem {
  const meant = levelInWords(level, was === 3 ? 2 : 3)
  return {
    code: SIGN_MISSES,
    what: `Under its declared ${levelInWords(level, was)} ${label} does not meet the others; under ${meant} it would.`,
    where: { place: label, sign: sign.id },
    mend: `See whether ${meant} is meant.`,
  }
}
