/** What stands in the page for its script to read. */
import type { SignId } from "@resolutio/core"
import type { ShowWords } from "./words.js"
import type { ToldVoice } from "./told.js"

/** When a sign is heard, in seconds; then what it is of the axis, in the score's unit. */
export type Heard = readonly [sign: SignId, start: number, end: number, onset: number, until: number]

export interface ShownSystem {
  readonly top: number
  readonly height: number
  readonly from: number
  readonly to: number
  readonly left: number
  readonly scale: number
}

export interface ShowData {
  readonly voices: readonly ToldVoice[]
  /** Ids under which signs of a canon are drawn again, with the sign that each stands for. */
  readonly also: Readonly<Record<string, SignId>>
  readonly heard: readonly Heard[]
  /** Of the drawing in time, in px. */
  readonly systems: readonly ShownSystem[]
  /** Of the sound; undefined where there is none. */
  readonly sound?: { readonly rate: number; readonly samples: number }
  readonly words: ShowWords["script"]
}
