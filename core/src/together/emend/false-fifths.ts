/**
 * Fifths and fourths that are none: b against f, as a misread clef makes them. Where concord is asked singers would mend
 * them, but whoever wrote the voices avoided them as a rule (common practice), so that each says a little.
 */
import type { Reading } from "../../reading/index.js"
import { fifthsOf } from "../../score/fifths.js"
import { pitchOf } from "../../score/pitch.js"
import { stepNumber } from "../../reading/pitches.js"
import type { Backdrop } from "../backdrop.js"

const STEPS = ["c", "d", "e", "f", "g", "a", "b"] as const
const FOURTH = 3
const FIFTH = 4

const stepIn = (step: number): number => ((step % 7) + 7) % 7

/** The places of a voice's steps as it mostly sings them. */
export function usualPlaces({ signs }: Reading): readonly number[] {
  const counts = STEPS.map(() => new Map<number, number>())
  for (const sign of signs) {
    const pitch = sign.kind === "note" ? pitchOf(sign.pitch) : null
    if (pitch === null) continue
    const seen = counts[stepIn(stepNumber(pitch))]!
    const place = fifthsOf(pitch)
    seen.set(place, (seen.get(place) ?? 0) + 1)
  }
  return counts.map(
    (seen, step) => [...seen].sort((a, b) => b[1] - a[1])[0]?.[0] ?? fifthsOf({ step: STEPS[step]!, accidental: "" }),
  )
}

/** How many false fifths and fourths a note at this step is in, with the lowest. */
export function falseFifths(
  backdrop: Backdrop,
  places: readonly number[],
  at: readonly [number, number, number],
): number {
  const [step, onset, end] = at
  const own = places[stepIn(step)]!
  let found = 0
  backdrop.under(step, onset, end, (note, other) => {
    const distance = stepIn(other - step)
    if (distance !== FOURTH && distance !== FIFTH) return
    const pitch = pitchOf(note.pitch)
    if (pitch !== null && Math.abs(fifthsOf(pitch) - own) !== 1) found++
  })
  return found
}
