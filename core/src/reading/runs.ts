/**
 * A first, greedy count through a stretch, level by level from below: how many units stand after each note before the
 * next note as large. It only serves preferences; what is read is decided in the lattice.
 */
import { SEMIBREVIS, type Mensuration, type Run } from "../practices/index.js"
import type { LatticeInput } from "./lattice-parts.js"
import { likelyGroups } from "./semibreve-groups.js"
import type { DraftFigure } from "./draft-figure.js"

/** Fills in `runs` of every figure. */
export function countRuns(input: LatticeInput): void {
  const { figures, mensuration } = input
  const worth = figures.map(f => f.fixed ?? f.colouredTicks ?? f.full)
  for (let i = 0; i < figures.length; i++) {
    figures[i]!.runs = NO_RUNS
    if (lengthens(figures, i, mensuration)) worth[i]! *= 1.5
  }
  likelyGroups(input, worth)
  for (let k = mensuration.perfect.length - 1; k >= 0; k--)
    countLevel(figures, worth, mensuration, mensuration.perfect[k]!)
}

/** A run under way: which figure opened it, where its smaller figures begin, and their worth so far. */
interface OpenRun {
  readonly opener: number
  readonly from: number
  worth: number
}

function countLevel(figures: readonly DraftFigure[], worth: number[], m: Mensuration, level: number): void {
  const unit = m.full[level + 1]!
  let run: OpenRun = { opener: -1, from: 0, worth: 0 }
  for (let i = 0; i < figures.length; i++) {
    if (figures[i]!.level <= level) {
      settleRun(figures, worth, level, unit, run, i)
      run = { opener: i, from: i + 1, worth: 0 }
    } else run.worth += worth[i]!
    if (parts(figures, i, m, level)) {
      settleRun(figures, worth, level, unit, run, -1, i + 1)
      run = { opener: -1, from: i + 1, worth: 0 }
    }
  }
  settleRun(figures, worth, level, unit, run, -1, figures.length)
}

/** A dot that probably adds half: by the table of dots, or because a smaller figure stands by to be counted with it. */
function lengthens(figures: readonly DraftFigure[], i: number, m: Mensuration): boolean {
  const f = figures[i]!
  if (f.dot === undefined || f.rest || f.dotGiven === "div" || f.dotGiven === "perf") return false
  if (f.dotGiven === "aug") return true
  if (m.divisions[f.level] === 3 && f.colouredTicks === undefined) return false
  const third = f.level > 0 && m.divisions[f.level - 1] === 3
  const companion = (other: DraftFigure | undefined): boolean => other !== undefined && other.level > f.level
  return !third || companion(figures[i + 1]) || companion(figures[i - 1])
}

/** A dot that keeps a perfect note from a smaller neighbour divides nothing larger. */
function keepsPerfect(figures: readonly DraftFigure[], i: number, m: Mensuration): boolean {
  const f = figures[i]!
  if (f.dot === undefined || f.rest || m.divisions[f.level] !== 3) return false
  const smaller = (other: DraftFigure | undefined): boolean => other !== undefined && other.level > f.level
  return smaller(figures[i + 1]) || smaller(figures[i - 1])
}

/** A dot or stroke after the figure is a wall for this level; a dot that lengthens is none. */
function parts(figures: readonly DraftFigure[], i: number, m: Mensuration, level: number): boolean {
  const f = figures[i]!
  if (f.stroke !== undefined && !f.strokeGroup) return true
  if (level === f.level - 1 && keepsPerfect(figures, i, m)) return false
  return f.dot !== undefined && !lengthens(figures, i, m) && level >= f.level - 1 && f.level <= SEMIBREVIS + 1
}

type Runs = DraftFigure["runs"]
/** Figures with no run after them share one empty list, and most others have one of a few: those are shared as well. */
const NO_RUNS: Runs = [undefined, undefined, undefined, undefined]
const shared = new Map<number, { readonly run: Run; readonly lists: Runs[] }[]>()
const MOST_SHARED = 64

function tellRun(figure: DraftFigure, level: number, run: Run): void {
  const key = (run.distance + 1) * 4 + (run.alterable ? 2 : 0) + (run.startsWithRest ? 1 : 0)
  let alike = shared.get(key)
  if (alike === undefined && shared.size < MOST_SHARED) shared.set(key, (alike = []))
  let known = alike?.find(one => one.run.units === run.units)
  if (known === undefined) {
    known = { run, lists: [] }
    if (alike !== undefined && alike.length < MOST_SHARED) alike.push(known)
  }
  figure.runs =
    figure.runs === NO_RUNS
      ? (known.lists[level] ??= NO_RUNS.with(level, known.run))
      : figure.runs.with(level, known.run)
}

/**
 * Tells the opener of its run, and takes what is left over a count of threes from the notes at its ends. `until` is the
 * larger figure that ends it, -1 for a wall or the end; `stop` the place after its last figure.
 */
function settleRun(
  figures: readonly DraftFigure[],
  worth: number[],
  level: number,
  unit: number,
  { opener, from, worth: sum }: OpenRun,
  until: number,
  stop = until,
): void {
  const last = figures[stop - 1]
  const closer = until < 0 ? undefined : figures[until]
  const beyond = closer ?? (last?.dot !== undefined ? figures[last.index + 1] : undefined)
  const alterable = isLarger(beyond, level) && isAlterable(last, level) && last!.index >= from
  const units = sum / unit
  if (opener >= 0) {
    const distance = until < 0 ? -1 : until - opener
    tellRun(figures[opener]!, level, { units, alterable, startsWithRest: figures[from]?.rest === true, distance })
  }
  const rest = Math.round(units) % 3
  if (rest === 0 || Math.abs(units - Math.round(units)) > 1e-9) return
  if (rest === 2 && alterable) {
    worth[last!.index]! += unit
    return
  }
  const gives = opener >= 0 && !figures[opener]!.rest
  const takes = closer !== undefined && !closer.rest
  if (gives) worth[opener]! -= unit
  if (takes && (rest === 2 || !gives)) worth[until]! -= unit
}

const isLarger = (f: DraftFigure | undefined, level: number): boolean =>
  f !== undefined && f.level === level && !f.shortLongRest

const isAlterable = (f: DraftFigure | undefined, level: number): boolean =>
  f !== undefined && f.level === level + 1 && !f.rest && !f.coloured
