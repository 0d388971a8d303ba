/** Names of pitches. */
import type { Step } from "../page/index.js"
import { modernAccidental } from "./accidentals.js"
import type { ScorePitch } from "./types.js"

/** "bf3" → b, f, 3, the accidental in its modern sense; null for anything else. */
export function pitchOf(text: string | null): ScorePitch | null {
  const found = /^([a-g])([a-z]*)(-?\d+)$/.exec(text ?? "")
  if (!found) return null
  const step = found[1] as Step
  return { step, accidental: modernAccidental(step, found[2]!), octave: Number(found[3]) }
}

/** "bf3". */
export const pitchText = ({ step, accidental, octave }: ScorePitch): string => `${step}${accidental}${octave}`
