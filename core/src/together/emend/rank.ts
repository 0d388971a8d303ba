/** What speaks for a change that was tried, and how it is added up: every term is a natural logarithm of odds. */
import type { EmendationKind } from "./types.js"
import {
  LAID_AGAINST,
  MEETS_AGAIN,
  MOST_REPEATS,
  READ_ANEW,
  REPEAT_AGREES,
  SHIFT_DEARER,
  SHIFT_LEAVES_APART,
  SUPPLIED_SOUND,
} from "./weights.js"

export interface Terms {
  readonly kind: EmendationKind
  /** By how much better the changed voice lies against the others as they were read without it. */
  readonly laid: number
  /** By how much better all voices read together with the change. */
  readonly anew: number
  /** How much less usual of these voices its figures are with it. */
  readonly habit: number
  /** What custodes, words, general rests and the other statements of a tenor say against it (negative: for it). */
  readonly alike: number
  /** Durations more that agree in the statements of the tenor. */
  readonly agree: number
  /** All voices meet at their finals with the change. */
  readonly meets: boolean
  /**
   * Of a shift of pitches. What intervals say depends on how these very voices sound, and with the shift they sound otherwise:
   * half of what going back would then gain, less half of what the shift gains. Negative: it would not go back.
   */
  readonly regret: number
  /** Of a note that is supplied: how much better than by chance it sounds with the others, whatever its pitch was. */
  readonly heard: number
  /** What the slip costs that it mends. */
  readonly price: number
}

/**
 * The voice laid against the others, and all voices searched together, say nearly the same; the first sees slips that
 * are left, the second how the others would turn to it. A shift of pitches is weighed by the first, and by the second only as far
 * as it speaks against it.
 */
export function evidenceOf({ kind, laid, anew, habit, alike, agree, regret, heard }: Terms): number {
  const repeats = REPEAT_AGREES * Math.max(-MOST_REPEATS, Math.min(MOST_REPEATS, agree))
  const read =
    kind === "pitch-shifted" ? laid + Math.min(0, anew + SHIFT_DEARER) : LAID_AGAINST * laid + READ_ANEW * anew
  return read - habit - alike + SUPPLIED_SOUND * heard + repeats - Math.max(0, regret)
}

/** By how much likelier the page is with the change. */
export function gainOf(terms: Terms): number {
  const apart = terms.kind === "pitch-shifted" ? -SHIFT_LEAVES_APART : 0
  return evidenceOf(terms) - terms.price + (terms.meets ? MEETS_AGAIN : apart)
}
