/** Whether voices can have their finals at once, by their lengths alone: that is known without searching them together. */
import type { VoiceId } from "../base/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { commonUnit } from "../score/units.js"
import { sounding } from "./hearing.js"
import { lengthsOf } from "./lengths.js"
import { graphOf, scalesOf } from "./voice-graph.js"

/**
 * So many of them, `voice` among them. Of a part that is sung by several voices, or several times, it is not known: then it is
 * taken for possible.
 */
export function couldMeet(worked: readonly WorkedVoice[], voice: VoiceId, count: number): boolean {
  const voices = sounding(worked)
  if (voices.some(one => one.reading.canon)) return true
  const { factor } = commonUnit(voices.map(one => one.reading))
  const scales = scalesOf(voices, one => factor(one.reading))
  const tables = voices.map((one, i) => lengthsOf(graphOf(one, scales[i]!)).left)
  const own = tables[voices.findIndex(one => one.voice.id === voice)]
  // a voice that closes with a rest, or has nothing to sound, is bound to no time
  if (own?.has(0) !== true) return true
  let can = false
  own.forEach(0, time => (can ||= tables.filter(one => !one.has(0) || one.get(0, time) !== undefined).length >= count))
  return can
}
