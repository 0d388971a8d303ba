/** Dots and strokes of the older practice, told apart by what stands on either side. */
import type { SignId } from "../base/index.js"
import type { Sign } from "../page/index.js"
import { LONGA, SEMIBREVIS } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

/** A dot after the figure. Between rhombs it parts groups only; so does every dot where `partsOnly`. */
export function layDot(figure: DraftFigure, dot: SignId, partsOnly: boolean): void {
  if (!partsOnly && figure.level < SEMIBREVIS) {
    figure.dot = dot
    return
  }
  figure.stroke = dot
  figure.strokeGroup = true
  figure.strokeIsDot = true
}

/** A stroke or small circle after the figure, if it divides anything; the first one counts. */
export function layStroke(figure: DraftFigure, stroke: Extract<Sign, { kind: "stroke" }>): void {
  const divides = stroke.form === "divisio-modi" || stroke.form === "signum-perfectionis"
  const parts = stroke.form === "signum-rotundum"
  if ((!divides && !parts) || figure.stroke !== undefined) return
  figure.stroke = stroke.id
  if (parts || figure.level >= SEMIBREVIS) figure.strokeGroup = true
  figure.strokeIsRound = parts
}

/**
 * Settles what could not be told before the next figure was known.
 * A stroke after a rhomb parts groups if another rhomb follows; before a breve or long it closes a perfection. A dot
 * beside a rhomb is first of all the end of a breve. Figures `from` up to `to` are settled.
 */
export function settleMarks(
  figures: readonly DraftFigure[],
  dotsPartOnly: boolean,
  { from, to }: { readonly from: number; readonly to: number },
): void {
  for (let i = from; i < to && i + 1 < figures.length; i++) {
    const f = figures[i]!
    const next = figures[i + 1]!
    const rhomb = f.level >= SEMIBREVIS
    const rhombFollows = next.level >= SEMIBREVIS
    if (f.dot !== undefined && rhombFollows && !rhomb) softenDot(f)
    else if (rhomb && !rhombFollows && f.strokeGroup && !f.strokeIsRound) {
      if (!f.strokeIsDot) f.strokeGroup = false
      else if (!dotsPartOnly) f.softWall = true
    }
  }
}

function softenDot(f: DraftFigure): void {
  if (f.level <= LONGA) return
  f.stroke = f.dot
  f.dot = undefined
  f.strokeGroup = f.strokeIsDot = f.softWall = true
  if (f.ruling?.dot !== undefined) f.ruling = { ...f.ruling, dot: undefined, stroke: f.ruling.dot }
}
