/** Whether a voice would be read by the same options as last time. */
import type { VoiceId } from "../base/index.js"
import type { ReadOptions } from "./settings.js"

/** What other voices alone are told does not matter. */
export function readAlike(voice: VoiceId, one: ReadOptions, other: ReadOptions): boolean {
  return (
    one.ignoreGiven === other.ignoreGiven &&
    one.practices === other.practices &&
    one.shapes === other.shapes &&
    one.decisions === other.decisions &&
    one.pageDecisions === other.pageDecisions &&
    found(voice, one) === found(voice, other)
  )
}

/** What was found out, or asked for, as one text. */
const found = (voice: VoiceId, { practice, assumed, scaled, gaps, shared }: ReadOptions): string =>
  JSON.stringify([practice, assumed?.get(voice), scaled?.get(voice), gaps && [...gaps], shared])
