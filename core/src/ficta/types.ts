/** Proposed accidentals (musica ficta): what is proposed for which note, how strongly, and why. */
import type { Rational, SignId } from "../base/index.js"
import type { ChosenAccidental } from "../page/index.js"
import type { Source } from "../practices/index.js"

/** How strongly: the intervals ask for it; singers of the time would have sung it; one may sing it. */
export const FICTA_GRADES = ["required", "likely", "optional"] as const
/** One of them. */
export type FictaGrade = (typeof FICTA_GRADES)[number]

/** By need (causa necessitatis) or by beauty (causa pulchritudinis). */
export type FictaCause = "need" | "beauty"

/**
 * What a proposal rests on; docs/ficta.md tells each. "repeated-note": the source's accidental on the same note right before holds
 * on. "same-note": the same note comes again at once, or after a turn round it, or it follows from another proposal.
 */
export const FICTA_RULES = [
  "repeated-note",
  "false-octave",
  "false-fifth",
  "false-fourth",
  "tritone-leap",
  "tritone-run",
  "sixth-to-octave",
  "third-to-fifth",
  "third-to-unison",
  "note-above-la",
  "same-note",
] as const
/** One of them. */
export type FictaRule = (typeof FICTA_RULES)[number]

/** An accidental over one note. */
export interface FictaProposal {
  /** The note of the score. */
  readonly note: SignId
  /** The sign of the page that it stands for; decisions are on this. */
  readonly sign: SignId
  /** Index of its voice in the score. */
  readonly voice: number
  readonly onset: Rational
  readonly accidental: ChosenAccidental
  readonly grade: FictaGrade
  readonly cause: FictaCause
  readonly rule: FictaRule
  /** "diminished fifth", as it stands without the accidental. */
  readonly interval: string
  /** The other note of the interval. */
  readonly against: SignId | null
  /** One sentence. */
  readonly reason: string
  readonly source: Source
  /** Notes whose accidentals this one calls for, or that call for it: they are sung together or not at all. */
  readonly with: readonly SignId[]
}

/** A place that a rule speaks of where nothing is proposed. */
export interface FictaOpen {
  readonly note: SignId
  readonly sign: SignId
  readonly voice: number
  readonly onset: Rational
  readonly rule: FictaRule
  readonly interval: string
  readonly against: SignId | null
  /** One sentence. */
  readonly reason: string
}

/** All of a score, in order of time. */
export interface Ficta {
  readonly proposals: readonly FictaProposal[]
  readonly open: readonly FictaOpen[]
}
