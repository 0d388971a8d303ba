/** How a written part is sung by several voices, backwards or several times, in times and signs of its reading. */
import type { Rational, SignId } from "../base/index.js"
import type { CanonSign, CanonVoice } from "../page/index.js"
import type { Reading } from "./types.js"

/** One singing of the part. */
export interface SungStatement {
  /** What the durations of the reading it is sung from are multiplied by. */
  readonly by: Rational
  /** The sign of mensuration in place of those at the head of the part. */
  readonly sign?: CanonSign
  /** The part read under another sign of mensuration; undefined: as it is read in the page's place. */
  readonly reading?: Reading
  readonly backwards: boolean
  readonly inverted: boolean
  readonly withoutRests: boolean
  /** The note or rest it ends with; its last where undefined. */
  readonly until?: SignId
}

export interface SungVoice extends Pick<CanonVoice, "label" | "interval" | "steps"> {
  /** In English: "2 breves later, a fifth below". */
  readonly words: string
  /** After so long in the voice's unit, or when the part as it is read reaches a note or rest. */
  readonly enters: Rational | { readonly with: SignId }
  /** At least one. */
  readonly statements: readonly SungStatement[]
}

export interface CanonReading {
  readonly voices: readonly SungVoice[]
  /** An editor's decision; words on the page; two signs of mensuration at the head. */
  readonly from: "decision" | "inscription" | "signs"
  /** The inscription, or the signs; of a decision the sign it was made on. */
  readonly because: readonly SignId[]
}
