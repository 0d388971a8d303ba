/** Keys of a keyboard as pitches of the page. */
import type { Level } from "../level.js"
import type { Page } from "../page.js"
import type { Accidental, Pitch, Step } from "../signs.js"
import { noteAt, writeSign, type Gesture } from "./gestures.js"
import { around, type Around, type Spot } from "./place.js"

/** Semitones of each letter above c. */
const WHITE: Readonly<Record<Step, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }
/** Black keys by the accidentals that were usual: c♯, e♭, f♯, g♯, b♭ (common practice of musica ficta). */
const BLACK: Readonly<Record<number, readonly [Step, Accidental]>> = {
  1: ["c", "s"],
  3: ["e", "f"],
  6: ["f", "s"],
  8: ["g", "s"],
  10: ["b", "f"],
}
const ALTERED: Readonly<Record<string, number>> = { f: -1, s: 1, n: 0 }

export interface KeyPitch {
  readonly pitch: Pitch
  /** To be written with it; undefined where the signature says it already. */
  readonly accidental?: Accidental
}

/** A note for a key by its MIDI number (60 is the c in the middle, MIDI 1.0), as the signature in force there has it written. */
export function writeKey(page: Page, spot: Spot, key: number, level: Level, over = false): Gesture | undefined {
  const here = around(page, spot)
  if (!here || !Number.isInteger(key) || key < 0 || key > 127) return undefined
  const { pitch, accidental } = pitchOfKey(here, key)
  const note = noteAt(here, pitch, level)
  return writeSign(page, spot, accidental === undefined ? note : { ...note, accidental }, over)
}

function pitchOfKey({ flat, at }: Around, key: number): KeyPitch {
  const signature = new Map<Step, Accidental>()
  for (let i = at; i >= 0 && signature.size === 0; i--) {
    const { sign } = flat[i]!
    if (sign.kind !== "signature") continue
    for (const { step, accidental } of sign.accidentals) signature.set(step, accidental)
    break
  }
  const semitone = key % 12
  const octave = Math.floor(key / 12) - 1
  for (const [step, accidental] of signature) {
    const sounding = WHITE[step] + (ALTERED[accidental] ?? 0)
    // b sharp and c flat stand in the octave beside
    if ((sounding + 12) % 12 === semitone)
      return { pitch: { step, octave: octave + (sounding < 0 ? 1 : sounding > 11 ? -1 : 0) } }
  }
  const white = (Object.keys(WHITE) as Step[]).find(step => WHITE[step] === semitone)
  if (white === undefined) {
    const [step, accidental] = BLACK[semitone]!
    return { pitch: { step, octave }, accidental }
  }
  const pitch = { step: white, octave }
  return signature.has(white) ? { pitch, accidental: "n" } : { pitch }
}
