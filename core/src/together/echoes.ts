/**
 * What is sung from a part beside its first singing: the other voices of a canon, and the part again. The voices are heard
 * against it as the part was read so far; where a part is then read otherwise, they are heard again.
 */
import { minus, ONE, plus, ratio, times, toText, ZERO, type Rational } from "../base/index.js"
import type { Page } from "../page/index.js"
import { UNIT } from "../practices/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Reading, SignReading } from "../reading/types.js"
import { soundingOf } from "../score/sounding.js"
import { lengthsOf } from "./lengths.js"
import { sungAfter } from "./sung.js"
import { graphOf, scalesOf } from "./voice-graph.js"

/** Readings of all that sounds beside the parts as they are written. */
export function echoesOf(page: Page, readings: readonly Reading[]): Reading[] {
  return readings.flatMap(part => (part.canon === undefined ? [] : echoesOfPart(page, part)))
}

function echoesOfPart(page: Page, part: Reading): Reading[] {
  const own = page.voices.filter(({ id }) => id === part.voice)
  const { readings } = soundingOf({ ...page, voices: own }, [part])
  return readings.flatMap((sung, at) => {
    const signs = at > 0 ? sung.signs : sungAgain(part, sung)
    return signs.some(isNote) ? [{ ...sung, signs }] : []
  })
}

const isNote = ({ kind, duration }: SignReading): boolean => kind === "note" && duration.num > 0

/** What follows the first singing; the last note of all is the part's final, which is held back until then. */
function sungAgain(part: Reading, sung: Reading): SignReading[] {
  const final = part.signs.findLast(isNote)?.id
  const first = new Set(part.signs.flatMap(({ id }) => (id === final ? [] : [id])))
  const last = sung.signs.findLast(isNote)
  const again = sung.signs.filter(sign => sign !== last && !first.has(sign.id))
  return last?.id === final ? [] : again
}

/** The same for the same sounds. */
export function echoKey(echoes: readonly Reading[]): string {
  const each = ({ onset, duration, pitch }: SignReading): string => `${toText(onset)} ${toText(duration)} ${pitch}`
  return echoes.map(({ voice, signs }) => `${voice}: ${signs.map(each).join("; ")}`).join("\n")
}

/** Lengths of a part that is sung several times that are tried where the voices do not meet. */
const MOST_TRIED = 6

/**
 * How much later than in the first singing the final of the last one may begin, in the part's unit, if the part is read
 * otherwise than by itself; the likeliest first. Only for a part that one voice sings several times from end to end.
 */
export function otherEndings(worked: WorkedVoice): Rational[] {
  const count = timesSung(worked.reading)
  if (count === undefined) return []
  const [scales] = scalesOf([worked], () => ONE)
  const graph = graphOf(worked, scales!)
  const unit = UNIT * (scales![0]?.common ?? 1)
  const lengths: [time: number, cost: number][] = []
  lengthsOf(graph).left.forEach(0, (time, cost) => lengths.push([time, cost]))
  const [own, ...others] = lengths.sort((a, b) => a[1] - b[1])
  const after = sungAfter(worked.reading)
  return others
    .slice(0, MOST_TRIED)
    .map(([time]) => plus(after, times(ratio(time - own![0], unit), minus(count, ONE))))
    .filter(one => one.num > 0)
}

/** How many times the length of the part all its statements together are. */
function timesSung({ canon }: Reading): Rational | undefined {
  const [voice, ...more] = canon?.voices ?? []
  if (voice === undefined || more.length > 0 || voice.statements.length < 2) return undefined
  const whole = voice.statements.every(one => !one.reading && !one.withoutRests && one.until === undefined)
  return whole ? voice.statements.reduce((sum, { by }) => plus(sum, by), ZERO) : undefined
}
