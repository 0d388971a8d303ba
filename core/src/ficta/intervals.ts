/** Intervals between two notes: how many steps and semitones, what is pure, and what it is called. */
import { semitonesOf, type FictaNote } from "./notes.js"

/** Alteration of each note as things stand. */
export type Alters = (note: FictaNote) => number

const PURE = [0, 2, 4, 5, 7, 9, 11] as const

export interface Interval {
  /** Steps, octaves taken away: 0 unison or octave, 3 fourth, 4 fifth. */
  readonly steps: number
  /** Semitones more or less than the perfect or major interval of as many steps. */
  readonly excess: number
  /** A unison and not an octave. */
  readonly unison: boolean
}

/** From `lower` up to `upper`. */
export function intervalOf(lower: FictaNote, upper: FictaNote, alters: Alters): Interval {
  const distance = upper.height - lower.height
  const semitones = semitonesOf(upper, alters(upper)) - semitonesOf(lower, alters(lower))
  // notes a step apart may cross by their accidentals; then the interval is read downwards
  if (distance < 0) return intervalOf(upper, lower, alters)
  const octaves = Math.floor(distance / 7)
  const steps = distance % 7
  return { steps, excess: semitones - 12 * octaves - PURE[steps]!, unison: distance === 0 }
}

const NAMES = ["octave", "second", "third", "fourth", "fifth", "sixth", "seventh"] as const
const PERFECT: readonly number[] = [0, 3, 4]

/** "diminished fifth", "minor sixth"; compound intervals by their simple name. */
export function intervalName({ steps, excess, unison }: Interval): string {
  const name = unison ? "unison" : NAMES[steps]!
  if (PERFECT.includes(steps)) return `${excess === 0 ? "perfect" : excess > 0 ? "augmented" : "diminished"} ${name}`
  const kind = excess === 0 ? "major" : excess === -1 ? "minor" : excess > 0 ? "augmented" : "diminished"
  return `${kind} ${name}`
}

export function isPerfectKind({ steps }: Interval): boolean {
  return PERFECT.includes(steps)
}
