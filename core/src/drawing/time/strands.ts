/** The lists of all voices gone through together, moment by moment. */
import type { FormedVoice } from "./formed.js"
import { momentKey } from "./perfections.js"
import { firstFrom, NEAR } from "./timeline.js"

/** A part of the axis. */
interface Part {
  readonly from: number
  readonly to: number
}

/** All that begins at one moment. */
export interface Sum {
  /** As the first that begins there has it; NaN before that. */
  at: number
  need: number
  worth: number
  begin: number
}

/** A list in the order of time, gone through moment by moment beside others. */
export class Strand {
  /** Of the moment at which it stands; Infinity at its end. */
  key = Infinity
  readonly #all: readonly { readonly at: number }[]
  readonly #end: number
  readonly #add: (sum: Sum, i: number) => void
  #i: number

  constructor(all: readonly { readonly at: number }[], first: number, end: number, add: (sum: Sum, i: number) => void) {
    this.#all = all
    this.#end = end
    this.#add = add
    this.#i = first - 1
    this.#step()
  }

  #step(): void {
    this.#i++
    this.key = this.#i < this.#end ? momentKey(this.#all[this.#i]!.at) : Infinity
  }

  /** What of it begins at this moment. */
  addAll(key: number, sum: Sum): void {
    while (this.key === key) {
      if (Number.isNaN(sum.at)) sum.at = this.#all[this.#i]!.at
      this.#add(sum, this.#i)
      this.#step()
    }
  }
}

/** The earliest moment at which any of them stands; Infinity at the end of all. */
export function nextKey(strands: readonly Strand[]): number {
  let least = Infinity
  for (const { key } of strands) if (key < least) least = key
  return least
}

/** The pillars and the signs of a voice within a part of the axis. */
export function strandsOf(
  { time: { signs }, hard, soft, ruled }: FormedVoice,
  most: number,
  { from, to }: Part,
): Strand[] {
  const { pillars } = ruled
  let first = firstFrom(pillars, from)
  while (first < pillars.length && pillars[first]!.at <= from + NEAR) first++
  return [
    new Strand(pillars, first, firstFrom(pillars, to), (sum, i) => {
      sum.worth += PILLAR_WORTH[pillars[i]!.kind]
    }),
    new Strand(signs, firstFrom(signs, from), firstFrom(signs, to), (sum, i) => {
      sum.worth += 1
      sum.begin += 1
      sum.need = Math.max(sum.need, hard[i]!, Math.min(soft[i]!, most))
    }),
  ]
}

/** One moment by itself, at which nothing is drawn. */
export const beginningAt = (at: number): Strand => new Strand([{ at }], 0, 1, () => {})

const PILLAR_WORTH = { edge: 1, larger: 2, perfection: 1, twofold: 0.8 } as const
