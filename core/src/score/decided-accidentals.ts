/** Accidentals that an editor has decided on: the note is sung so, and they stand over it. */
import type { SignId } from "../base/index.js"
import type { ChosenAccidental, Decision } from "../page/index.js"
import type { ScoreEvent, ScoreVoice } from "./types.js"

/** A later decision on the same sign goes before an earlier one. What stands on the page itself is not overruled. */
export function withDecidedAccidentals(
  voices: readonly ScoreVoice[],
  decisions: readonly Decision[] = [],
): readonly ScoreVoice[] {
  const decided = new Map<SignId, ChosenAccidental>()
  for (const { sign, accidental } of decisions) if (accidental !== undefined) decided.set(sign, accidental)
  if (decided.size === 0) return voices
  const sung = (event: ScoreEvent): ScoreEvent => {
    const accidental = event.kind === "note" ? decided.get(event.sign) : undefined
    if (event.kind !== "note" || accidental === undefined || !event.pitch) return event
    if (event.written && !event.written.byEditor) return event
    const pitch = { ...event.pitch, accidental: accidental === "n" ? "" : accidental }
    return { ...event, pitch, written: { accidental, byEditor: true } }
  }
  return voices.map(voice => ({ ...voice, events: voice.events.map(sung) }))
}
