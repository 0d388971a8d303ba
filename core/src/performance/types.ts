/** A performance: what sounds when, in seconds; the same list for the browser, for files and for pictures that move. */
import type { Problem, Rational, SignId, VoiceId } from "../base/index.js"
import type { Clock } from "./clock.js"
import type { EquivalenceTaken } from "./equivalence.js"
import type { TempoTaken } from "./tempo.js"
import type { PerformedVoice } from "./voices.js"

/** One tone. */
export interface Sound {
  /** Null for the count-in. */
  readonly voice: VoiceId | null
  /** The note of the score; null for the count-in. */
  readonly note: SignId | null
  /** The sign of the page that it stands for. */
  readonly sign: SignId | null
  readonly kind: "note" | "plica" | "click"
  /** As the score has it, before any shift: "bf3". Null for the count-in. */
  readonly pitch: string | null
  /** In the score's unit. */
  readonly onset: Rational
  /** Seconds from the beginning, at which it begins and is let go; then it fades within `FADE`. */
  readonly start: number
  readonly end: number
  readonly hertz: number
  /** Nearest key of a keyboard at a4 = 440 Hz, 0 to 127, and what the tone is above it, in cents. */
  readonly key: number
  readonly cents: number
  /** How strongly it is begun, 1 to 127. */
  readonly velocity: number
}

/** A run of the score that is heard, and when. A whole performance is one; loops and comparisons are several. */
export interface Passage {
  /** "A" and "B" where rivals are compared. */
  readonly name: string | null
  /** In the score's unit. */
  readonly from: Rational
  readonly to: Rational
  /** In seconds. */
  readonly start: number
  readonly end: number
}

export interface Performance {
  readonly title: string
  readonly voices: readonly PerformedVoice[]
  /** In the order in which they begin. */
  readonly sounds: readonly Sound[]
  /** In seconds, without what rings on. */
  readonly duration: number
  readonly passages: readonly Passage[]
  /** Of the score, from its beginning; what passages do to it is in `passages`. */
  readonly clock: Clock
  readonly tempo: TempoTaken
  readonly equivalences: readonly EquivalenceTaken[]
  /** Sentences: how it is sounded, what is an editor's estimate. */
  readonly sentences: readonly string[]
  readonly problems: readonly Problem[]
}
