/** Dots and strokes of the older practice, told apart by what stands on either side. */
import { LONGA, SEMIBREVIS } from "../practices/index.js"
import type { DraftFigure } from "./stretches.js"

/**
 * A stroke after a rhomb parts groups if another rhomb follows; before a breve or long it closes a perfection. A dot
 * beside a rhomb is first of all the end of a breve.
 */
export function settleMarks(figures: readonly DraftFigure[], dotsPartOnly: boolean): void {
  figures.forEach((f, i) => {
    const next = figures[i + 1]
    if (next === undefined) return
    const rhomb = f.level >= SEMIBREVIS
    const rhombFollows = next.level >= SEMIBREVIS
    if (f.dot !== undefined && rhombFollows && !rhomb) softenDot(f)
    else if (rhomb && !rhombFollows && f.strokeGroup && !f.strokeIsRound) {
      if (!f.strokeIsDot) f.strokeGroup = false
      else if (!dotsPartOnly) f.softWall = true
    }
  })
}

function softenDot(f: DraftFigure): void {
  if (f.level <= LONGA) return
  f.stroke = f.dot
  f.dot = undefined
  f.strokeGroup = f.strokeIsDot = f.softWall = true
}
