/**
 * The reading: what was decided about each sign of one voice, why, how surely, and what else it could be.
 * Times are exact, in the voice's unit: "minima" from the Ars nova on, "tempus" (one recta breve) before.
 */
import type { Problem, Rational, SignId, VoiceId } from "../base/index.js"
import type { Level } from "../page/index.js"
import type { CanonReading } from "./sung.js"

/** What durations of a voice are counted in: minims, or in the thirteenth century tempora. */
export type Unit = "minima" | "tempus"
/** What the trade calls a note by how long it lasts. */
export type Quality = "perfecta" | "imperfecta" | "altera" | "minor" | "maior" | "duplex"
export type DecidedBy = "voice" | "others" | "decision" | "given"
/** Where a practice or a mensuration came from: a sign or attribute, an option of the caller, or inference. */
export type From = "given" | "option" | "inferred"
export type SignKind = "note" | "rest" | "dot" | "stroke" | "mensuration" | "proportion" | "other"

/** The practice a voice was read by; `doubt` is twice the chance that it is another. */
export interface PracticeChoice {
  readonly name: string
  /** All that apply, not only those changed. */
  readonly options: Readonly<Record<string, string>>
  readonly from: From
  readonly doubt: number
  /** Options of which nobody says the value: it was settled by the signs, of this voice or of all. */
  readonly settled?: readonly string[]
}

/** Which levels divide in three from an onset on. A level that the practice does not have is null. */
export interface MensurationSpan {
  readonly onset: Rational
  readonly modusMaior: 2 | 3 | null
  readonly modusMinor: 2 | 3 | null
  readonly tempus: 2 | 3 | null
  readonly prolatio: 2 | 3 | null
  readonly from: From
  readonly doubt: number
  /** Ratio of a proportion or stroke in force: durations are divided by it. 1 when none. */
  readonly proportion: Rational
  /** The sign that states it, if one does. */
  readonly sign?: SignId
}

/** Another duration that the sign might have. */
export interface SignRival {
  readonly duration: Rational
  readonly rule: string
  readonly because: readonly SignId[]
  /** How much dearer the whole voice becomes with it (natural logarithm of odds). */
  readonly cost: number
  /** Estimated chance, 0 to 1. */
  readonly chance: number
}

/** What other voices said where they decided a sign. */
export interface OthersReason {
  /**
   * "meet": the voices meet only so. "sound": they would sound worse with it, at the beginnings that matter, otherwise.
   * "repeat": so it lasts in the other statements of a tenor that repeats itself.
   */
  readonly how: "meet" | "sound" | "repeat"
  /** Labels of those voices. */
  readonly voices: readonly string[]
  /** Signs of theirs with which it was heard. */
  readonly signs: readonly SignId[]
}

/** How long a sign lasts and from when on, in the unit of its voice, by which rule, for what cause, and how surely. */
export interface SignReading {
  readonly id: SignId
  /** Position in `Reading.signs`. */
  readonly index: number
  readonly kind: SignKind
  /** Number of the note or rest in its voice, from 1; 0 for signs that do not last. */
  readonly number: number
  readonly level: Level | null
  /** Name, accidental in force as MEI writes it, octave: "bf3", "fs4". Null without a pitch. */
  readonly pitch: string | null
  readonly onset: Rational
  readonly duration: Rational
  readonly quality: Quality | null
  readonly rule: string
  /** Other rules that are also true of it, in the order of the list. */
  readonly also: readonly string[]
  readonly because: readonly SignId[]
  readonly decidedBy: DecidedBy
  /** With `decidedBy` "others": what they said, and what the voice by itself would have read if that was something else. */
  readonly others?: OthersReason & { readonly alone?: Rational }
  /** Twice the estimated chance that this duration is wrong, at most 1. */
  readonly doubt: number
  readonly rivals: readonly SignRival[]
  readonly plica?: { readonly duration: Rational | null; readonly pitch: string | null; readonly certain: boolean }
  /** The final of the voice, held freely. */
  readonly held?: boolean
  /** The note before the last at a finis punctorum: held, though counted as it stands (Ars cantus mensurabilis, c. 1280, IX). */
  readonly penultimateHeld?: boolean
  /** What a dot or stroke was taken for ("punctus-divisionis" …), or a note on the sign for explain. */
  readonly takenFor?: string
  /** What would be read where a value given in the file or a decision made it another: by the rules alone, */
  readonly rulesSay?: Rational
  /** or, read together, because of the other voices. */
  readonly othersSay?: true
  /** The same for a dot or stroke: what it would have been taken for. */
  readonly rulesTakeFor?: string
  /** Durations that an editor refused. */
  readonly refused?: readonly Rational[]
}

/** Another way through the whole voice. */
export interface VoiceRival {
  readonly cost: number
  readonly duration: Rational
  readonly partsAt: SignId
  /** Durations that differ from the chosen reading, by sign. */
  readonly signs: ReadonlyMap<SignId, Rational>
}

/** The reading of one voice. */
export interface Reading {
  readonly voice: VoiceId
  readonly n: string
  readonly label: string
  readonly unit: Unit
  /** With the final at the value the rules give it. */
  readonly duration: Rational
  readonly practice: PracticeChoice
  readonly mensurations: readonly MensurationSpan[]
  /** Every note, rest, dot, stroke, mensuration and proportion sign, in page order; notes of ligatures in their own right. */
  readonly signs: readonly SignReading[]
  /** Best first, a fixed small number. */
  readonly rivals: readonly VoiceRival[]
  readonly problems: readonly Problem[]
  /** How the part is sung, where it is not sung just once as it is written. */
  readonly canon?: CanonReading
  /** Notes and rests at which a signum congruentiae stands, in page order; absent where there is none. */
  readonly signa?: readonly SignId[]
}
