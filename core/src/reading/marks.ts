/** Dots and strokes of the older practice, told apart by what stands on either side. */
import type { SignId } from "../base/index.js"
import type { Sign } from "../page/index.js"
import { LONGA, SEMIBREVIS } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

/** A dot after the figure. Between rhombs it parts groups only. */
export function layDot(figure: DraftFigure, dot: SignId): void {
  if (figure.level < SEMIBREVIS) {
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
 * beside a rhomb is first of all the end of a breve, and where breves hold many (`dotsPartOnly`) no more than that; but right
 * after a long it stands for the stroke that keeps the long perfect (Ars cantus mensurabilis, c. 1280, V; Regule, 1326, III),
 * unless it fences a group of four and more, which needs dots on both sides (Regule, IV). Figures `from` up to `to` are settled.
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
    if (f.dot !== undefined && rhombFollows && !rhomb) softenDot(f, dotsPartOnly, dotsPartOnly && isFence(figures, i))
    else if (rhomb && !rhombFollows && f.strokeGroup && !f.strokeIsRound) {
      if (!f.strokeIsDot) f.strokeGroup = false
      else if (!dotsPartOnly) f.softWall = true
    }
  }
}

function softenDot(f: DraftFigure, dotsPartOnly: boolean, fences: boolean): void {
  const long = f.level <= LONGA
  if (long && !dotsPartOnly) return
  f.stroke = f.dot
  f.dot = undefined
  f.strokeIsDot = true
  if (!long || fences) f.strokeGroup = true
  if (!dotsPartOnly) f.softWall = true
  if (f.ruling?.dot !== undefined) f.ruling = { ...f.ruling, dot: undefined, stroke: f.ruling.dot }
}

/** Pairs and threes on a breve need no dot before them. */
const FENCED = 4

/** After the figure comes a run of so many rhombs that nothing parts. */
function isFence(figures: readonly DraftFigure[], at: number): boolean {
  for (let i = 1; i <= FENCED; i++) {
    const one = figures[at + i]
    if (one === undefined || one.level < SEMIBREVIS || (i > 1 && one.ligatureStart)) return false
    if (i < FENCED && (one.stroke !== undefined || one.ligatureEnd)) return false
  }
  return true
}
