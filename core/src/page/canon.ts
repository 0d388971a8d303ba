/** How several voices, or one in several ways, are sung from one written part: what a canon says, in plain terms. */
import type { Rational } from "../base/index.js"
import type { Level } from "./level.js"
import type { MensurationSign } from "./signs.js"

/** A sign of mensuration in place of the one that is written. */
export type CanonSign = Pick<MensurationSign, "dots" | "strokes" | "figures" | "reversed"> & {
  readonly sign: "O" | "C"
}

/** One singing of the part from its first sign to its last. Without anything in it: as it is written. */
export interface CanonStatement {
  /** What the written durations are multiplied by: 2 for augmentation in duple, 1/2 for diminution. */
  readonly values?: Rational
  /** The mensuration under which it is read. */
  readonly sign?: CanonSign
  /** From the last sign to the first. */
  readonly backwards?: boolean
  /** Up for down, turned about the first note. */
  readonly inverted?: boolean
  /** As if no rest were written. */
  readonly withoutRests?: boolean
  /** It ends with the note at the signum congruentiae of this number in the part, from 1. */
  readonly until?: number
}

/**
 * When a voice enters after the beginning: after a time, in the voice's unit or in so many notes of a level, or when the
 * part as it is written reaches the note at a signum congruentiae (its number in the part, from 1).
 */
export type CanonEntry =
  | { readonly after: Rational; readonly level?: Level; readonly signum?: undefined }
  | { readonly signum: number; readonly after?: undefined; readonly level?: undefined }

/** One voice that is sung from the part. */
export interface CanonVoice {
  readonly label?: string
  /** At the beginning, unless it says when. */
  readonly entry?: CanonEntry
  /** As musicians count: 5 is a fifth above, -5 a fifth below, 8 an octave above. At the pitch written where undefined. */
  readonly interval?: number
  /**
   * "exact": tones and semitones as in the part. "diatonic": the steps alone, by the signature. Undefined: unisons, fourths,
   * fifths and octaves exact but for sharps that are not written, all else diatonic.
   */
  readonly steps?: "exact" | "diatonic"
  /** At least one; sung one after another. */
  readonly statements: readonly CanonStatement[]
}

/** All voices sung from a part, at least one; the first is counted as the part itself. */
export type Canon = readonly CanonVoice[]
