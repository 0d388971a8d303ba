/** What an emendation is, and what is proposed. Times are exact text in the common unit of the voices, as in `Fit`. */
import type { SignId, VoiceId } from "../../base/index.js"
import type { Sign } from "../../page/index.js"

/** Kinds are those of the repair: a dot that the scribe dropped is mended by "dot-added". */
export const EMENDATION_KINDS = [
  "dot-added",
  "dot-dropped",
  "dot-moved",
  "stem-added",
  "stem-dropped",
  "level-changed",
  "rest-changed",
  "note-missing",
  "note-doubled",
  "pitch-shifted",
  "coloration-missing",
  "passage-missing",
  "passage-doubled",
  "mensuration-missing",
  "ligature-changed",
] as const
export type EmendationKind = (typeof EMENDATION_KINDS)[number]

/**
 * A change of one voice: signs that stand one after the other give way to others. Addressed by ids, so that it can
 * still be made after a change elsewhere. A ligature is changed as a whole; what is not changed in it keeps its ids.
 */
export interface Edit {
  readonly voice: VoiceId
  /** Signs (or whole ligatures) that go, in order; may be none. */
  readonly out: readonly SignId[]
  /** Where nothing goes: the sign before which the new ones stand; undefined: at the end of the voice. */
  readonly before?: SignId
  /** What stands there instead; a sign with the id of one that goes is that sign changed. */
  readonly in: readonly Sign[]
}

/** One change that would mend a slip. The first eight members are the JSON contract. */
export interface Emendation {
  /** From 1, in the order of the list. */
  readonly rank: number
  readonly kind: EmendationKind
  /** The sign that is changed or removed; of signs added, the one before which they stand (the last where none does). */
  readonly sign: SignId
  /** Number of the voice. */
  readonly voice: string
  /** "triplum 12": voice and number of the first note or rest concerned, as `findSign` reads it. */
  readonly place: string
  readonly before: string
  readonly after: string
  /** One or two sentences: what it would bring. */
  readonly why: string
  /** Estimated chance, 0 to 1, that this is what is to be mended at this step. */
  readonly score: number
  /** 1: mends the first slip found; 2: found when the best of step 1 is made in thought, and so on. */
  readonly step: number
  /** With it the voices meet at their finals (with the best of the steps before it made too). */
  readonly meets: boolean
  /** By how much likelier the page is with it than without (natural logarithm of odds). */
  readonly gain: number
  readonly edit: Edit
  /** What is changed in other voices along with it: a sign of mensuration that is wrong in them alike. */
  readonly also?: readonly Edit[]
}

export interface Parting {
  readonly onset: string
  /** The sign of the voice at fault that begins there, as far as can be told, and what sounds against it. */
  readonly signs: readonly SignId[]
  /** Estimated chance that the voices part within three signs of there. */
  readonly certainty: number
}

export interface Proposal {
  /** The voices meet as the page stands: at their finals, and at ends of sections and signa congruentiae before them. */
  readonly together: boolean
  readonly firstParting: Parting | null
  /** By step, within a step by score. Empty where nothing speaks for a slip. */
  readonly emendations: readonly Emendation[]
}

/** How far the work has come. */
export interface Progress {
  readonly step: number
  readonly done: number
  readonly of: number
}
