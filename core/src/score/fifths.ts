/** Names of notes as places in the chain of fifths. */
import type { ScorePitch } from "./types.js"

/** Fifths above c. */
const STEPS: Readonly<Record<ScorePitch["step"], number>> = { f: -1, c: 0, g: 1, d: 2, a: 3, e: 4, b: 5 }
/** What MEI's accidentals do, in semitones. Quarter tones are no part of the notations read here: they alter nothing. */
const ALTERATIONS: Readonly<Record<string, number>> = { s: 1, f: -1, x: 2, ss: 2, ff: -2, ts: 3, tf: -3, nf: -1, ns: 1 }

export const alterationOf = (accidental: string): number => ALTERATIONS[accidental] ?? 0

/** How many fifths up from c its name stands: g is 1, f is -1, g sharp 8, a flat -4. */
export function fifthsOf({ step, accidental }: Pick<ScorePitch, "step" | "accidental">): number {
  return STEPS[step] + 7 * alterationOf(accidental)
}
