/** Repeats and endings of all voices together. */
import { times, type Rational } from "../base/index.js"
import type { NotatedScore } from "./notated.js"
import { structureOf, type Ending } from "./structure.js"

/** In whole notes from the beginning. */
export interface Repeats {
  readonly starts: readonly Rational[]
  readonly ends: readonly Rational[]
  readonly endings: readonly Ending[]
}

/** Where the voices have them. A line of all voices stands at each. */
export function repeatsOf({ score, wholesPerUnit }: NotatedScore): Repeats {
  const { starts, ends, endings } = structureOf(score)
  const inWholes = (time: Rational): Rational => times(time, wholesPerUnit)
  return {
    starts: starts.map(inWholes),
    ends: ends.map(inWholes),
    endings: endings.map(({ number, from, to }) => ({ number, from: inWholes(from), to: inWholes(to) })),
  }
}
