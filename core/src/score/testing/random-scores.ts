import { alignVoices } from "../align.js"
import type { Score } from "../types.js"
import { randomPiece } from "./readings.js"

/** Sums what `check` counts in random pieces from seed 1 on; what fails there names its seed. */
export function checkRandom(seeds: number, check: (score: Score) => number): number {
  let checked = 0
  for (let seed = 1; seed <= seeds; seed++) {
    const { page, readings } = randomPiece(seed)
    try {
      checked += check(alignVoices(page, readings))
    } catch (error) {
      throw new Error(`randomPiece(${seed}): ${(error as Error).message}`, { cause: error })
    }
  }
  return checked
}
