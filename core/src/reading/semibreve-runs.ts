/** Where the runs of semibreves in a stretch begin and end; after an edit only those near it are looked for. */
import { SEMIBREVIS } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import { NO_ENDS, type Ends } from "./ends.js"

export interface SemibreveRuns {
  /**
   * For each figure the run of semibreves without a mark inside in which it stands: first figure of the run, and the one
   * after its last; from === to outside.
   */
  readonly from: Int32Array
  readonly to: Int32Array
  /** 1 for each figure that a dot or stroke stands after. */
  readonly marks: Uint8Array
  /** How many syllables stand before each figure, and before the end. */
  readonly syllables: Int32Array
  /** How many of the marks stand between semibreves. */
  readonly dots: number
}

/** The runs of a stretch before an edit, and how many of its figures are the same at the beginning and at the end. */
export interface RunsBefore extends Ends {
  readonly figures: readonly DraftFigure[]
  readonly runs: SemibreveRuns
}

/** `early`: the plain semibreves of c. 1315-25. */
export function semibreveRuns(figures: readonly DraftFigure[], early: boolean, before?: RunsBefore): SemibreveRuns {
  const { length } = figures
  const { head, tail } = before ?? NO_ENDS
  const [marks, syllables] = [new Uint8Array(length), new Int32Array(length + 1)]
  const [from, to] = [new Int32Array(length), new Int32Array(length)]
  let range = { first: 0, end: length }
  if (before !== undefined) {
    const { runs } = before
    range = reachOf(before, length)
    const moved = length - before.figures.length
    marks.set(runs.marks.subarray(0, head))
    marks.set(runs.marks.subarray(length - tail - moved), length - tail)
    syllables.set(runs.syllables.subarray(0, head + 1))
    from.set(runs.from.subarray(0, range.first))
    to.set(runs.to.subarray(0, range.first))
    for (let i = range.end; i < length; i++) {
      from[i] = runs.from[i - moved]! + moved
      to[i] = runs.to[i - moved]! + moved
    }
  }
  for (let i = head; i < length - tail; i++) {
    const { dot, stroke, syllable } = figures[i]!
    if (dot !== undefined || stroke !== undefined) marks[i] = 1
    syllables[i + 1] = syllables[i]! + (syllable ? 1 : 0)
  }
  if (before !== undefined) moveSyllables(syllables, before, length)
  findRuns({ figures, marks, from, to, early }, range.first, range.end)
  return { from, to, marks, syllables, dots: dotsIn(figures, marks, early, before) }
}

/** The figures whose runs must be looked for again: those of runs that the change is in, or stands beside. */
function reachOf({ runs, figures, head, tail }: RunsBefore, length: number): { first: number; end: number } {
  let [first, end] = [head, figures.length - tail]
  while (first > 0 && runs.to[first - 1]! >= head) first--
  while (end < figures.length && runs.from[end]! <= figures.length - tail) end++
  return { first, end: end + length - figures.length }
}

function moveSyllables(syllables: Int32Array, { runs, figures, tail }: RunsBefore, length: number): void {
  const moved = length - figures.length
  const more = syllables[length - tail]! - runs.syllables[figures.length - tail]!
  for (let i = length - tail + 1; i <= length; i++) syllables[i] = runs.syllables[i - moved]! + more
}

interface Marked extends Pick<SemibreveRuns, "marks" | "from" | "to"> {
  readonly figures: readonly DraftFigure[]
  readonly early: boolean
}

function findRuns({ figures, marks, from, to, early }: Marked, first: number, last: number): void {
  for (let i = first; i < last;) {
    let end = i
    while (end < last && isGrouped(figures[end]!, early) && (end === i || marks[end - 1] === 0)) end++
    const stop = Math.max(end, i + 1)
    from.fill(i, i, stop)
    to.fill(end, i, stop)
    i = stop
  }
}

/** How many marks stand between semibreves; only those near the change are looked at again. */
function dotsIn(figures: readonly DraftFigure[], marks: Uint8Array, early: boolean, before?: RunsBefore): number {
  if (before === undefined) return countDots(figures, marks, early, 0, figures.length)
  const { head, tail, runs } = before
  const first = Math.max(0, head - 1)
  const were = countDots(before.figures, runs.marks, early, first, before.figures.length - tail)
  return runs.dots - were + countDots(figures, marks, early, first, figures.length - tail)
}

function countDots(
  figures: readonly DraftFigure[],
  marks: Uint8Array,
  early: boolean,
  from: number,
  to: number,
): number {
  let dots = 0
  for (let i = from; i < to && i + 1 < figures.length; i++)
    if (marks[i] === 1 && isGrouped(figures[i]!, early) && isGrouped(figures[i + 1]!, early)) dots++
  return dots
}

const isGrouped = (f: DraftFigure, early: boolean): boolean =>
  f.fixedBy !== "given" && (early ? f.level === SEMIBREVIS && f.colouredTicks === undefined : f.level >= SEMIBREVIS)
