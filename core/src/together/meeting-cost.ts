/** What it costs voices to have their finals at once, by their own rules alone: that is known without searching them together. */
import type { VoiceId } from "../base/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import { commonUnit } from "../score/units.js"
import { withFinals } from "./finals.js"
import { sounding } from "./hearing.js"
import { lengthsOf, toGoal } from "./lengths.js"
import { graphOf, scalesOf } from "./voice-graph.js"

/**
 * At the cheapest time at which so many of them can, `voice` among them (natural logarithm of odds); Infinity where there is none.
 * Of a part that is sung by several voices, or several times, and of a voice that closes with a rest it is not known: undefined.
 */
export function meetingCost(worked: readonly WorkedVoice[], voice: VoiceId, count: number): number | undefined {
  return cheapestMeeting(worked, voice, count)?.cost
}

/**
 * By how much more than alone the voices bend their rules there (0 or more); Infinity where by lengths that are likely they cannot
 * meet, undefined where that is not known.
 */
export function bentToMeet(worked: readonly WorkedVoice[], voice: VoiceId, count: number): number | undefined {
  const found = cheapestMeeting(worked, voice, count)
  return found && (found.cost < Infinity ? found.bent : Infinity)
}

function cheapestMeeting(
  worked: readonly WorkedVoice[],
  voice: VoiceId,
  count: number,
): { readonly cost: number; readonly bent: number } | undefined {
  const voices = sounding(worked)
  if (voices.some(one => one.reading.canon)) return undefined
  const { factor } = commonUnit(voices.map(one => one.reading))
  const scales = scalesOf(voices, one => factor(one.reading))
  const graphs = withFinals(voices.map((one, i) => graphOf(one, scales[i]!)))
  const all = graphs.map(graph => lengthsOf(graph))
  const own = all[voices.findIndex(one => one.voice.id === voice)]
  if (own?.left.has(0) !== true) return undefined
  const fixed = graphs.reduce((sum, graph) => sum + graph.cost, 0)
  const alone = all.reduce((sum, one) => sum + one.least[0]!, fixed)
  let [least, bent] = [Infinity, 0]
  own.left.forEach(0, time => {
    const meeting = all.filter(({ left }) => !left.has(0) || left.get(0, time) !== undefined).length
    if (meeting < count) return
    const total = fixed + all.reduce((sum, one) => sum + toGoal(one, 0, time), 0)
    if (total < least) [least, bent] = [total, total - alone]
  })
  return { cost: least, bent }
}
