/** What the window and the player's thread say to each other. */
import type { Page, SignId, VoiceId } from "@resolutio/core"

/** How it is played. */
export interface Playing {
  /** 1 as it is usually sung; 0.5 half as fast. */
  readonly speed: number
  readonly countIn: boolean
  /** Voices that are silent. */
  readonly mute: readonly VoiceId[]
}
export interface ToPlayer {
  readonly page: Page
  readonly playing: Playing
  /** Address of the sound bank. */
  readonly bank: string
}
/** When a sign sounds, in seconds of the sound. */
export interface Sounding {
  readonly sign: SignId
  readonly start: number
  readonly end: number
  /** In the score's unit, where it begins and ends. */
  readonly onset: number
  readonly until: number
}
export type FromPlayer =
  | { readonly tell: "progress"; readonly share: number }
  | {
      readonly tell: "sound"
      readonly wav: ArrayBuffer
      /** In the order in which they begin. */
      readonly soundings: readonly Sounding[]
      /** How it is sounded, and what of that is an estimate. */
      readonly sentences: readonly string[]
    }
  | { readonly tell: "failed"; readonly what: string }
