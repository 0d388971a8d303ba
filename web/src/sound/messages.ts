/** What the window and the player's thread say to each other. */
import type { Page, SignId } from "@resolutio/core"
import type { Hearing } from "./hearing.js"

export interface ToPlayer {
  readonly page: Page
  /** Another page has another number. */
  readonly pageNumber: number
  readonly hearing: Hearing
  /** The passage round this sign in two readings, one after the other. */
  readonly rivals?: SignId
}
/** When a sign sounds, in seconds of the sound. */
export interface Sounding {
  readonly sign: SignId
  readonly start: number
  readonly end: number
  /** In the score's unit, where it begins and ends. */
  readonly onset: number
  readonly until: number
  /** Its voice is not silent. */
  readonly heard: boolean
  /** The measure of its voice in which it begins, in seconds. */
  readonly bar: readonly [start: number, end: number]
}
export interface SoundMade {
  readonly wav: ArrayBuffer
  /** In the order in which they begin. */
  readonly soundings: readonly Sounding[]
  /** How it is sounded, and what of that is an estimate. */
  readonly sentences: readonly string[]
  /** Moments at which the sign changes, in the score's unit: "24". */
  readonly changes: readonly string[]
  /** Two readings, heard from these seconds on. */
  readonly rivals?: { readonly a: number; readonly b: number; readonly sentence: string }
}
export type FromPlayer =
  | { readonly tell: "progress"; readonly share: number }
  | ({ readonly tell: "sound" } & SoundMade)
  | { readonly tell: "failed"; readonly what: string }
