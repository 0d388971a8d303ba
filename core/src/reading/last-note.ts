/** The final of a voice. */
import type { DraftFigure } from "./draft-figure.js"
import type { Entry, Stretch } from "./stretches.js"
import { LACUNA } from "./taken-for.js"

/** The last figure that is no rest. */
export function lastNote(stretches: readonly Stretch[]): DraftFigure | undefined {
  for (let s = stretches.length - 1; s >= 0; s--) {
    const found = stretches[s]!.figures.findLast(f => !f.rest)
    if (found) return found
  }
  return undefined
}

/** Something is lost after the last note, and with it the final. */
export function breaksOff(entries: readonly Entry[]): boolean {
  for (let i = entries.length - 1; i >= 0; i--) {
    if (entries[i]!.takenFor === LACUNA) return true
    if (entries[i]!.sign.kind === "note") return false
  }
  return false
}
