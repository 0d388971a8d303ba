/** How welcome notes are at a place of the measure. */
import { MINIM, type Measure } from "./measures.js"
import { PLACE } from "./weights.js"

export class Welcome {
  /** By place: the chance of each level, all together one. */
  private readonly known: (Float64Array | undefined)[]

  constructor(
    private readonly m: Measure,
    private readonly shares: Float64Array,
  ) {
    this.known = new Array<Float64Array | undefined>(m.cycle)
  }

  at(place: number): Float64Array {
    let known = this.known[place]
    if (known === undefined) {
      known = this.shares.map((share, level) => (share > 0 ? share * this.fit(level, place) : 0))
      let all = 0
      for (const one of known) all += one
      for (let level = 0; level < known.length; level++) known[level]! /= all
      this.known[place] = known
    }
    return known
  }

  /** It begins its own cell there, or is shortened from the front. */
  isHome(level: number, place: number): boolean {
    return this.fit(level, place) > PLACE.off[Math.min(level, MINIM)]!
  }

  /** Beside a note that begins its own cell. */
  private fit(level: number, place: number): number {
    const { full, divisions } = this.m
    const over = place % full[level]!
    if (over === 0) return 1
    if (divisions[level] === 3 && over === full[level + 1]) return PLACE.ante
    return isFrontPart(this.m, level, over) ? PLACE.antePart : PLACE.off[Math.min(level, MINIM)]!
  }
}

/** Whether one or two units of a remote perfect level have gone, which the note may lose at its front. */
export function isFrontPart({ full, divisions }: Measure, level: number, over: number): boolean {
  for (let k = level + 1; k < MINIM; k++)
    if (divisions[k] === 3 && (over === full[k + 1] || over === 2 * full[k + 1]!)) return true
  return false
}
