/** A voice under another meaning of its colour, remembered: an edit of one voice leaves the others as they were. */
import type { VoiceId } from "../base/index.js"
import { workVoice, type WorkedVoice } from "../reading/read-voice.js"
import type { ReadOptions } from "../reading/settings.js"

/** By the voice as it was worked before, and meaning. */
const known = new WeakMap<WorkedVoice, Map<string, WorkedVoice>>()

/** The voices, one of them under what colours now mean. `options`: those by which they were worked, but for colours. */
export function underColours(
  before: readonly WorkedVoice[],
  voice: VoiceId,
  colours: ReadonlyMap<VoiceId, string>,
  options: ReadOptions,
): WorkedVoice[] {
  const meaning = colours.get(voice)!
  return before.map(one => {
    if (one.voice.id !== voice) return one
    const all = known.get(one) ?? new Map<string, WorkedVoice>()
    known.set(one, all)
    const worked = all.get(meaning) ?? workVoice(one.voice, { ...options, colours }, one)
    all.set(meaning, worked)
    return worked
  })
}
