/**
 * What coloured runs are like. Colour takes three for two, or makes of a pair what stands for a dotted note and a small one; a
 * run lasts whole units of its largest note, so that what follows is counted as before (Libellus cantus mensurabilis, c. 1340, 6;
 * Practica musicae, 1496, IV.5).
 */
import type { DraftFigure } from "../../reading/draft-figure.js"
import { RUN_MIXED, RUN_NOT_WHOLE } from "./weights.js"

/** What a coloured run in which a figure stands costs for its make, beside what any run does. */
export function costOfRun(figures: readonly DraftFigure[], at: number): number {
  const run = figures.slice(endOfRun(figures, at, -1), endOfRun(figures, at, 1) + 1)
  if (!fillsUnits(run)) return RUN_NOT_WHOLE
  return isThreeForTwo(run) || isPair(run) ? 0 : RUN_MIXED
}

/** The last coloured note that is reached from one of them over coloured notes and rests. */
function endOfRun(figures: readonly DraftFigure[], from: number, way: 1 | -1): number {
  let last = from
  for (let i = from; figures[i]?.rest || figures[i]?.coloured; i += way) if (!figures[i]!.rest) last = i
  return last
}

function fillsUnits(run: readonly DraftFigure[]): boolean {
  let [lasts, largest] = [0, 0]
  for (const { colouredTicks, full, dotted } of run) {
    const own = colouredTicks ?? full
    lasts += dotted ? own * 1.5 : own
    largest = Math.max(largest, full)
  }
  return lasts % largest === 0
}

/** Threes of one value that lose a third. */
const isThreeForTwo = (run: readonly DraftFigure[]): boolean =>
  run.length % 3 === 0 &&
  run.every(one => !one.rest && !one.dotted && one.level === run[0]!.level && one.colouredTicks !== undefined)

const isPair = (run: readonly DraftFigure[]): boolean =>
  run.length === 2 && run.every(({ colourRule }) => colourRule === "minor-color")
