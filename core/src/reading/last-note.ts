/** The final of a voice. */
import type { DraftFigure } from "./draft-figure.js"
import type { Stretch } from "./stretches.js"

/** The last figure that is no rest. */
export function lastNote(stretches: readonly Stretch[]): DraftFigure | undefined {
  for (let s = stretches.length - 1; s >= 0; s--) {
    const found = stretches[s]!.figures.findLast(f => !f.rest)
    if (found) return found
  }
  return undefined
}
