/** What an editor decides of how a sign is to be read. */
import type { Rational, SignId } from "../base/index.js"
import type { Canon } from "./canon.js"
import type { FormStep } from "./form.js"

/** What a dot can be decided to be, as the reading tells it: it parts, adds half, keeps perfect, or doubles what follows. */
export const DECIDED_DOTS = ["division", "addition", "perfection", "alteration"] as const
/** One of them. */
export type DecidedDot = (typeof DECIDED_DOTS)[number]

/** Accidentals over a note that can be decided on: sharp, flat and natural, in their modern sense. */
export const CHOSEN_ACCIDENTALS = ["s", "f", "n"] as const
/** One of them. */
export type ChosenAccidental = (typeof CHOSEN_ACCIDENTALS)[number]

interface DecisionBase {
  /** Its own id, unlike that of any sign or other decision of the page. */
  readonly id: SignId
  /** The note or rest whose duration is decided, or the dot whose meaning is; of a canon any sign of its part. */
  readonly sign: SignId
  /** The same for decisions that were made as one, such as the choice of another reading of a whole voice. */
  readonly label?: string
  /** Id of the editor in `Page.people`. */
  readonly who?: string
  /** The reason, as text. */
  readonly why?: string
  readonly duration?: undefined
  readonly not?: undefined
  readonly dot?: undefined
  readonly canon?: undefined
  readonly form?: undefined
  readonly accidental?: undefined
  readonly notAccidental?: undefined
}
/** What the kinds of decision share, without what only the others say. */
type Deciding<What extends string> = Omit<DecisionBase, What>
/** The note or rest lasts so long, in the unit of its voice; more than 0. */
export interface DurationDecision extends Deciding<"duration"> {
  readonly duration: Rational
}
/** The note or rest lasts none of these, at least one; the rules choose among the others. */
export interface RefusalDecision extends Deciding<"not"> {
  readonly not: readonly Rational[]
}
/** The dot is this. */
export interface DotDecision extends Deciding<"dot"> {
  readonly dot: DecidedDot
}
/** These voices are sung from the part in which the sign stands. */
export interface CanonDecision extends Deciding<"canon"> {
  readonly canon: Canon
}
/** The piece is sung in this order of its parts. */
export interface FormDecision extends Deciding<"form"> {
  readonly form: readonly FormStep[]
}
/** The note is sung with this accidental, though the source has none there; it holds for that note alone. */
export interface AccidentalDecision extends Deciding<"accidental"> {
  readonly accidental: ChosenAccidental
}
/** The note is sung without these, at least one; they are not proposed. */
export interface NoAccidentalDecision extends Deciding<"notAccidental"> {
  readonly notAccidental: readonly ChosenAccidental[]
}
/** What is decided, without the sign, the hand and the reason. */
export type DecidedWhat =
  | { readonly duration: Rational }
  | { readonly not: readonly Rational[] }
  | { readonly dot: DecidedDot }
  | { readonly canon: Canon }
  | { readonly form: readonly FormStep[] }
  | { readonly accidental: ChosenAccidental }
  | { readonly notAccidental: readonly ChosenAccidental[] }
/**
 * An editor's decision on how a sign is to be read. It is no part of the sign and says nothing of what stands on the
 * page: it is kept beside the signs, and without it they are the same. A reading keeps to it and tells what it would
 * have read.
 */
export type Decision =
  | DurationDecision
  | RefusalDecision
  | DotDecision
  | CanonDecision
  | FormDecision
  | AccidentalDecision
  | NoAccidentalDecision
