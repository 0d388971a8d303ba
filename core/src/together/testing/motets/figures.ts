/**
 * For tests: voices as motets are written, figure by figure, with what each is meant to last. This side knows nothing of the
 * makers of lawful pieces, nor of the page: what is written here becomes an MEI file, and is read from it.
 */
import type { Rational } from "../../../base/index.js"

/** Levels by the letters of the practice. */
export const LETTERS = {
  X: "maxima",
  L: "longa",
  B: "brevis",
  S: "semibrevis",
  M: "minima",
  s: "semiminima",
} as const
export type Letter = keyof typeof LETTERS

export interface Figure {
  readonly letter: Letter
  /** In the unit of the practice: tempora in Ars antiqua, later minims. */
  readonly lasts: Rational
  readonly rest?: boolean
  /** A long rest says by its strokes how many breves it lasts. */
  readonly breves?: 2 | 3
  /** A dot after it: what the encoder took it for is not said. */
  readonly dotted?: boolean
  readonly red?: boolean
  readonly stemDown?: boolean
  readonly plica?: boolean
  /** The dot adds half; it parts nothing. */
  readonly adds?: boolean
  /** Number of its conjunctura in the voice: a long or breve with semibreves hung on it. */
  readonly conjunctura?: number
  /** What stands before it: from here on the voice is sung so many times as fast; a signum congruentiae. */
  readonly faster?: number
  readonly signum?: boolean
  /** It goes by another modus than its voice, and nothing says so. */
  readonly departs?: boolean
  readonly fermata?: boolean
  /** Number of its ligature in the voice. */
  readonly ligature?: number
  /** Sung on the syllable of the note before it. */
  readonly melisma?: boolean
}

export interface Mensuration {
  readonly modusmaior?: 2 | 3
  readonly modusminor?: 2 | 3
  readonly tempus?: 2 | 3
  readonly prolatio?: 2 | 3
}

export interface MotetVoice {
  readonly label: string
  readonly mensuration: Mensuration
  readonly figures: readonly Figure[]
  /** Lowest pitch, in steps above c0. */
  readonly low: number
  /** Its pitches come again after so many notes. */
  readonly color?: number | undefined
  /** So many figures stand before the common end; its final, if it has one, and what follows it are left out. */
  readonly end: number
}

export interface Motet {
  readonly name: string
  readonly practice: "ars-antiqua" | "ars-nova"
  readonly options: Readonly<Record<string, string>>
  readonly voices: readonly MotetVoice[]
}
