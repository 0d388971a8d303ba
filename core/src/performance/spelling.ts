/** Names of notes as places in the chain of fifths, where a g sharp and an a flat are different notes. */
import type { Rational } from "../base/index.js"
import { alterationOf, fifthsOf } from "../score/fifths.js"
import type { ScorePitch } from "../score/index.js"

export { alterationOf, fifthsOf } from "../score/fifths.js"

type Step = ScorePitch["step"]

/** Semitones above c. */
const SEMITONES: Readonly<Record<Step, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }
/** The key of a keyboard: 60 is the middle c; g sharp and a flat share one. May lie outside 0 to 127. */
export function keyNumber({ step, accidental, octave }: ScorePitch): number {
  return 12 * (octave + 1) + SEMITONES[step] + alterationOf(accidental)
}

/** Octaves that its name stands above the one of c4, fifths counted apart: the frequency is c4 · fifth^fifths · 2^octaves. */
export function octavesOf(pitch: ScorePitch): number {
  return (keyNumber(pitch) - 60 - 7 * fifthsOf(pitch)) / 12
}

/** "gs" for g sharp, "af" for a flat, "d" for a natural d. */
export function nameOf({ step, accidental }: Pick<ScorePitch, "step" | "accidental">): string {
  const by = alterationOf(accidental)
  return step + (by > 0 ? "s" : "f").repeat(Math.abs(by))
}

/** "g sharp", "a flat", "d". */
export function wordsOf(name: string): string {
  const [step = "", ...signs] = name
  const sign = signs[0] === "s" ? "sharp" : "flat"
  return [step, ...(signs.length > 1 ? ["double"] : []), ...(signs.length > 0 ? [sign] : [])].join(" ")
}

/** An interval by name: how many steps of the scale and how many semitones, both negative when it goes down. */
export interface Interval {
  readonly steps: number
  readonly semitones: number
}

/** Semitones of the perfect or major intervals from unison to seventh. */
const SIZES = [0, 2, 4, 5, 7, 9, 11]
const PERFECT = new Set([0, 3, 4])

/** Reads "P4", "-M2", "+m3", "-P8"; undefined for anything that is no interval. */
export function intervalFrom(text: string): Interval | undefined {
  const found = /^([+-]?)([PMmAd])(\d{1,2})$/.exec(text.trim())
  const number = Number(found?.[3] ?? 0)
  if (!found || number < 1 || number > 22) return undefined
  const simple = (number - 1) % 7
  const by = qualityOf(found[2]!, PERFECT.has(simple))
  if (by === undefined) return undefined
  const semitones = SIZES[simple]! + 12 * Math.floor((number - 1) / 7) + by
  const sign = found[1] === "-" ? -1 : 1
  return { steps: sign * (number - 1) + 0, semitones: sign * semitones + 0 }
}

function qualityOf(letter: string, perfect: boolean): number | undefined {
  if (letter === "A") return 1
  if (letter === "d") return perfect ? -1 : -2
  if (letter === "P") return perfect ? 0 : undefined
  if (perfect) return undefined
  return letter === "M" ? 0 : -1
}

/** In fifths and octaves up: a fourth up is one fifth down and one octave up. */
export function chainOf({ steps, semitones }: Interval): { readonly fifths: number; readonly octaves: number } {
  // A fifth is 4 steps and 7 semitones, an octave 7 and 12.
  return { fifths: 7 * semitones - 12 * steps, octaves: 7 * steps - 4 * semitones }
}

/** Kept apart from tuning: what a ratio is in cents. */
export const centsOf = (ratio: Rational | number): number =>
  1200 * Math.log2(typeof ratio === "number" ? ratio : ratio.num / ratio.den)
