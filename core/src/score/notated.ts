/** The score in modern signs. */
import type { Rational } from "../base/index.js"
import type { ShownAccidental } from "./accidentals.js"
import type { Block, Meter } from "./bars.js"
import type { Score, ScoreEvent, ScoreVoice } from "./types.js"
import type { ModernValue } from "./values.js"

/** One written note or rest. A long note is several, tied: `part` counts them from 0. */
export interface NotatedSign {
  readonly kind: "sign"
  readonly event: ScoreEvent
  readonly part: number
  readonly last: boolean
  readonly value: ModernValue
  /** In whole notes from the beginning of the score. */
  readonly start: Rational
  /** Where the sign ends, or the bar in which it begins, if it is written whole though it sounds on over the line. */
  readonly end: Rational
  /** Only of a sign whose value is not its time to `end`: that time in signs. */
  readonly share?: readonly ModernValue[]
  /** Signs with the same beat may share a beam. */
  readonly beat: string
  readonly accidental?: ShownAccidental
}
export interface NotatedTuplet {
  readonly kind: "tuplet"
  readonly num: number
  readonly numbase: number
  readonly signs: readonly NotatedSign[]
}
export type LayerItem =
  | NotatedSign
  | NotatedTuplet
  /** Time of a note that stands in a bar before, written whole. */
  | {
      readonly kind: "continued"
      readonly event: ScoreEvent
      /** Of the sign that goes on. */
      readonly part: number
      readonly values: readonly ModernValue[]
      readonly start: Rational
      readonly end: Rational
    }
  /** A rest through the whole stretch, which is one bar of this voice. */
  | { readonly kind: "bar-rest"; readonly event: ScoreEvent; readonly part: number }
  /** The end of a bar of this voice alone. */
  | { readonly kind: "line" }
  | { readonly kind: "meter"; readonly meter: Meter }
  | { readonly kind: "signature"; readonly accidentals: ScoreVoice["signatures"][number]["accidentals"] }

export interface NotatedBlock extends Block {
  /** A finis punctorum closes a section here in every voice, or a new section is marked here. */
  readonly sectionEnd: boolean
  /** One list for each voice. */
  readonly layers: readonly (readonly LayerItem[])[]
}

export interface NotatedScore {
  readonly score: Score
  readonly wholesPerUnit: Rational
  /** The first meter of each voice. */
  readonly meters: readonly (Meter | null)[]
  readonly blocks: readonly NotatedBlock[]
}
