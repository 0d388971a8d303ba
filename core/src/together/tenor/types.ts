/**
 * Repetition in a voice: the same pitches again (color), the same durations again (talea), statement under statement.
 * Nothing here is on the page; it is evidence for a reading, and a way of looking at the voice.
 */
import type { Rational, SignId, VoiceId } from "../../base/index.js"
import type { Level } from "../../page/index.js"
import type { Unit } from "../../reading/index.js"

/** What was compared: pitches; written levels, rests, dots and colours; or the durations of the reading. */
export type ComparedBy = "pitches" | "signs" | "durations"

/** One going through of the series. */
export interface Statement {
  /** From 1. */
  readonly number: number
  /**
   * By place in the series: the sign that stands there, null where it is missing. Shorter than `Series.places` only
   * in a last statement that breaks off.
   */
  readonly signs: readonly (SignId | null)[]
  /** Signs that the series does not have, each with the place before which it stands. */
  readonly extra: readonly { readonly sign: SignId; readonly before: number }[]
  /** False: a last statement that breaks off. */
  readonly complete: boolean
  /** Color: steps above (below: negative) the first statement. Talea: 0. */
  readonly steps: number
  /** Talea by signs: how many names smaller (larger: negative) every level is than in the first statement. Else 0. */
  readonly names: number
  /** Durations against the first statement's, where most of them agree in one ratio; null where they do not. */
  readonly ratio: Rational | null
  readonly onset: Rational
  /** Of all its signs together, rests too. */
  readonly duration: Rational
}

/** What most statements have at a place, as the first statement would write it. */
export interface Place {
  readonly kind: "note" | "rest"
  readonly level: Level | null
  readonly pitch: string | null
}

export type DifferenceKind = "level" | "duration" | "pitch" | "missing" | "extra" | "rest" | "dot" | "coloration"

/** A place where one statement differs from its fellows. */
export interface Difference {
  /** Number of the statement, from 1. */
  readonly statement: number
  /** Place in the series, from 0; an extra sign stands before it. */
  readonly place: number
  /** The sign that differs. Where one is missing: the one before it in the voice (after it, at the very beginning). */
  readonly sign: SignId
  readonly kind: DifferenceKind
  /** What stands here: a level, a pitch, a duration, "note", "rest" …; null where a sign is missing. */
  readonly own: string | null
  /** What most others have, put as this statement would write it; null where they have nothing. */
  readonly others: string | null
  /** Signs at the same place in the statements that agree against it. */
  readonly fellows: readonly SignId[]
  /** True: at least two others agree against this one. False: no telling which of them is at fault. */
  readonly odd: boolean
}

/** A run of statements of the same thing. */
export interface Series {
  readonly of: "color" | "talea"
  readonly by: ComparedBy
  /** One complete statement: pitches of a color; notes and rests of a talea. */
  readonly places: readonly Place[]
  readonly statements: readonly Statement[]
  /** In the order of the voice. */
  readonly differences: readonly Difference[]
  /** Bits saved by telling the voice as statements rather than sign by sign (see search.ts). */
  readonly gain: number
  /** Twice the estimated chance that this is no repetition by design, at most 1. */
  readonly doubt: number
}

/** Where a sign stands in a series. */
export interface Spot {
  readonly series: Series
  /** From 0. */
  readonly statement: number
  /** From 0. */
  readonly place: number
}

/** What comes again in a voice: its pitches (color), its durations (talea). */
export interface Repetition {
  readonly voice: VoiceId
  readonly label: string
  /** Of all durations. */
  readonly unit: Unit
  /** In the order of the voice; empty when there is none. Several where one stretch has other pitches than the next. */
  readonly colores: readonly Series[]
  readonly taleae: readonly Series[]
  /** Place of every sign that a talea holds. */
  readonly spots: ReadonlyMap<SignId, Spot>
}
