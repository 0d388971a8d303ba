/** What is written, at the moments when it sounds: each voice's signs in the score's unit, before anything has a place in px. */
import type { Rational, SignId } from "../../base/index.js"
import type {
  Break,
  Clef,
  Dot,
  Ligature,
  Mark,
  MensurationSign,
  Note,
  Page,
  Proportion,
  Rest,
  Sign,
  Signature,
  Voice,
} from "../../page/index.js"
import type { MensurationSpan, Reading, SignReading } from "../../reading/index.js"
import type { Score, ScoreVoice } from "../../score/index.js"
import type { ClefPlace, Shapes, SignStyle } from "../signs/index.js"
import type { TimedSpan } from "./divisions.js"

export interface TimeInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
}

/** What stands close before a note or after it and has no moment of its own. */
export type Beside = Exclude<Sign, Note | Rest | Ligature>

/** A note or rest. While nothing about it changes it is the very same object from one layout to the next. */
export interface TimedSign {
  readonly sign: Note | Rest
  readonly reading: SignReading
  readonly onset: Rational
  readonly duration: Rational
  /** The same as numbers, for places in px. */
  readonly at: number
  readonly lasts: number
  /** The final of its voice: its band ends torn. */
  readonly held: boolean
  readonly ligature?: Ligature
  /** In a ligature: how many notes stand before it. */
  readonly inLigature?: number
  readonly clef: ClefPlace
  /** Steps above the bottom line. */
  readonly position: number
  readonly before: readonly Beside[]
  readonly after: readonly Dot[]
  /** What its level lasts undiminished, in the score's unit; undefined without a level. */
  readonly whole: Rational | undefined
  /** In how many its level divides. */
  readonly parts: 2 | 3 | undefined
}

/**
 * What stands over the staff: a sign of mensuration or proportion at the moment from which it rules, a statement without a
 * sign, what a performer must know of, or where a line of the source ends.
 */
export interface Capital {
  readonly at: number
  readonly sign?: MensurationSign | Proportion | Mark | Break
  readonly span?: MensurationSpan
  /** The voice counts in minims. */
  readonly minims: boolean
}

/** Clef and signature in force from a moment on. */
export interface Head {
  readonly at: number
  readonly clef?: Clef
  readonly signature?: Signature
}

export interface TimeVoice {
  readonly voice: Voice
  readonly reading: Reading
  readonly events: ScoreVoice["events"]
  readonly style: SignStyle
  readonly signs: readonly TimedSign[]
  /** None sounds before one that stands earlier, as when a part is sung backwards. */
  readonly inOrder: boolean
  readonly capitals: readonly Capital[]
  readonly spans: readonly TimedSpan[]
  /** The first at 0. */
  readonly heads: readonly Head[]
  /** What is behind its last note. */
  readonly tail: readonly Beside[]
  readonly finalAt: number
  /** Made when it is asked for. */
  readonly byId: ReadonlyMap<SignId, TimedSign>
  readonly decided: ReadonlySet<SignId>
}

export interface VoiceInput {
  readonly voice: Voice
  readonly reading: Reading
  readonly scoreVoice: ScoreVoice
  readonly decided: ReadonlySet<SignId>
  readonly shapes: Shapes | undefined
}

/** Index of the first that is at `from` or later; they are in the order of time. */
export function firstFrom(all: readonly { readonly at: number }[], from: number): number {
  let [low, high] = [0, all.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (all[middle]!.at < from - NEAR) low = middle + 1
    else high = middle
  }
  return low
}

/** Moments are held to be the same when they are so near: they were exact fractions. */
export const NEAR = 1e-6
