/** What is found out about the practices and mensurations of a page, with the evidence for it. */
import type { Problem, SignId, VoiceId } from "../../base/index.js"
import type { Divisions } from "../../practices/index.js"
import type { From } from "../../reading/index.js"
import type { RivalPractice } from "../../reading/settings.js"

export const LEVEL_NAMES = ["modusMaior", "modusMinor", "tempus", "prolatio"] as const
export type LevelName = (typeof LEVEL_NAMES)[number]

/** One place or one fact that speaks for or against a candidate. */
export interface Evidence {
  /** Stable kebab-case name of the kind of evidence. */
  readonly rule: string
  /** Signs that bear it; empty where it is a matter of the whole voice, or of other voices. */
  readonly signs: readonly SignId[]
  /** Natural logarithm of odds: for the candidate when positive, against it when negative. */
  readonly weight: number
  /** Of the likeliest candidate: the level for whose division it speaks. */
  readonly level?: LevelName
  /** One plain sentence. */
  readonly what: string
}

/** A mensuration that was tried for a voice. */
export interface Candidate {
  readonly divisions: Divisions
  /** How much better its notes and rests are foretold than without any measure (natural logarithm of odds). */
  readonly fit: number
  /** Chance that it is the right one, others and custom counted in, 0 to 1. */
  readonly chance: number
  /** The chance of all that divide the time of the voice alike: they differ in what no note shows. */
  readonly shared: number
  /** What the other voices and custom make of it, against the first candidate (natural logarithm of odds; 0 for the first). */
  readonly others: number
  /** Some note of the voice is counted otherwise than by the likeliest, or lasts longer or shorter. */
  readonly lengthens: boolean
  /** Labels of the other voices (under their likeliest) that are as long up to their finals; undefined where it was not looked at. */
  readonly asLongAs?: readonly string[] | undefined
  /**
   * Only where it was asked for. Of the likeliest candidate: by level, against the likeliest with the other division; of
   * the others: against the likeliest, strongest first.
   */
  readonly evidence: readonly Evidence[]
}

export interface FoundPractice {
  readonly name: string
  readonly options: Readonly<Record<string, string>>
  readonly from: From
  /** Twice the chance that it is wrong, at most 1. */
  readonly doubt: number
  readonly candidates: readonly PracticeCandidate[]
}

export interface PracticeCandidate {
  readonly name: string
  readonly chance: number
  readonly evidence: readonly Evidence[]
}

/** Another mensuration from one note or rest on, which the file does not state. */
export interface FoundChange {
  readonly from: SignId
  /** Number of that note or rest in its voice. */
  readonly place: number
  /** First sign after it; undefined: to the end. */
  readonly until?: SignId
  readonly divisions: Divisions
  /** How much better the stretch is foretold with it. */
  readonly fit: number
  readonly doubt: number
  /** The voice is read by it. */
  readonly used?: boolean
  readonly what: string
}

export interface VoiceFound {
  readonly voice: VoiceId
  readonly label: string
  readonly practice: FoundPractice
  /** The mensuration of the beginning; null for a level that the practice does not have is made in the reading. */
  readonly divisions: Divisions
  /** "given" where the file states every level. */
  readonly from: From
  /** Levels that the file states. */
  readonly stated: readonly LevelName[]
  /** Twice the chance that one of the levels is wrong, at most 1. */
  readonly doubt: number
  /** The same by level. */
  readonly doubts: Readonly<Record<LevelName, number>>
  /** Another practice that measures otherwise and may be meant. */
  readonly rival?: RivalPractice
  /** First the likeliest of those that together are likeliest (`shared`), then by their own chances. */
  readonly candidates: readonly Candidate[]
  /** Proposals: nothing is read by them, but for those that are used. */
  readonly changes: readonly FoundChange[]
  /** A declared mensuration that the voice itself contradicts. */
  readonly problems: readonly Problem[]
}

export interface Found {
  /** In the order of the page. */
  readonly voices: readonly VoiceFound[]
}
