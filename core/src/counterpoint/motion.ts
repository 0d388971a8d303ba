/** How the notes of a voice are entered and left, which says whether a discord may stand on them. */
import { kindOfInterval, type IntervalKind } from "./weights.js"

/** A note as others are heard against it. */
export interface Tone {
  /** Staff step; NaN: a rest, or no pitch. */
  readonly step: number
  /** It is entered and left by step: as a passing or a neighbouring note is. The last of a voice: entered so. */
  readonly byStep: boolean
  /** It goes on a step downward, as a suspended note does. */
  readonly falls: boolean
}

/** The tones of a voice, from the staff steps of its notes and rests (NaN) in order. */
export function tonesOf(steps: readonly number[]): Tone[] {
  return steps.map((step, i) => {
    const next = steps[i + 1]
    const enters = Math.abs(step - (steps[i - 1] ?? Number.NaN)) === 1
    return {
      step,
      byStep: enters && (next === undefined || Math.abs(next - step) === 1),
      falls: next === step - 1,
    }
  })
}

const BY_STEP: Readonly<Partial<Record<IntervalKind, IntervalKind>>> = {
  fourth: "fourthByStep",
  discord: "discordByStep",
}

/**
 * The interval of a tone that begins with one that begins with it or is held: a discord is by step if one of those that
 * begin is, or if the held one resolves a step downward.
 */
export function intervalOf(begins: Tone, other: Tone, together: boolean): IntervalKind {
  const kind = kindOfInterval(begins.step - other.step)
  const byStep = begins.byStep || (together ? other.byStep : other.falls)
  return (byStep && BY_STEP[kind]) || kind
}
