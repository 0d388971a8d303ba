/** Heights of ligated notes against each other, whatever the clef. */
import type { Note, Step } from "../../page/index.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
/** Degrees above c of octave 0; a note without pitch stands where c of octave 4 does. */
export const positionIn = ({ pitch }: Note): number =>
  pitch === undefined ? 28 : pitch.octave * 7 + STEPS.indexOf(pitch.step)
