/**
 * What has to be known of a voice's signs before the first is read, found in one pass: each further walk over the signs
 * of a long voice fetches all of them again from where memory is slow.
 */
import type { FlatSign, Mark } from "../page/index.js"

export interface Traits {
  /** A note has a syllable. */
  readonly texted: boolean
  /** Places of the notes with a plica among the flat signs. */
  readonly plicated: readonly number[]
  /** Canon inscriptions. */
  readonly canons: readonly Mark[]
  /** Place of the first note or rest; -1 where there is none. */
  readonly first: number
  /** A note, rest or dot has a value given in the file. */
  readonly given: boolean
}

const known = new WeakMap<readonly FlatSign[], Traits>()

/** `flat` are the signs of a voice with those of ligatures one by one; the list must not change later. */
export function traitsOf(flat: readonly FlatSign[]): Traits {
  let traits = known.get(flat)
  if (traits === undefined) known.set(flat, (traits = found(flat)))
  return traits
}

function found(flat: readonly FlatSign[]): Traits {
  const plicated: number[] = []
  const canons: Mark[] = []
  let [texted, given, first] = [false, false, -1]
  for (let i = 0; i < flat.length; i++) {
    const { sign } = flat[i]!
    if (sign.kind === "note" || sign.kind === "rest") {
      if (first < 0) first = i
      if (sign.given !== undefined) given = true
      if (sign.kind === "rest") continue
      if (sign.syllables.length > 0) texted = true
      if (sign.plica !== undefined) plicated.push(i)
    } else if (sign.kind === "dot") given ||= sign.given !== undefined
    else if (sign.kind === "mark" && sign.of === "canon") canons.push(sign)
  }
  return { texted, plicated, canons, first, given }
}
