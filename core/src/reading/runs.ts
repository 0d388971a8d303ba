/**
 * A first, greedy count through a stretch, level by level from below: how many units stand after each note before the
 * next note as large. It only serves preferences; what is read is decided in the lattice.
 */
import { SEMIBREVIS, type Mensuration, type Run } from "../practices/index.js"
import type { LatticeInput } from "./lattice-parts.js"
import { likelyGroups } from "./semibreve-groups.js"
import type { Ends } from "./ends.js"
import { copied, UNCOUNTED, type DraftFigure } from "./draft-figure.js"

/** The figures `from` up to `to`, and what is found out of them: what they are worth by this count, and their runs. */
interface Count {
  readonly figures: readonly DraftFigure[]
  readonly from: number
  readonly to: number
  readonly worth: number[]
  readonly runs: Runs[]
}

/**
 * Fills in `runs` of every figure. Of `kept` figures at the beginning and the end they are known; only where the change
 * between may tell they are counted again. Gives how many of them are as they were.
 */
export function countRuns(input: LatticeInput, figures: DraftFigure[], kept: Ends): Ends {
  const { from, to } = reachOf(input, kept)
  const { runs } = countFrom(input, from, to)
  let { head, tail } = kept
  for (let i = from; i < to; i++) {
    const counted = runs[i - from]!
    if (figures[i]!.runs === UNCOUNTED) figures[i]!.runs = counted
    else if (!sameRuns(figures[i]!.runs, counted)) {
      figures[i] = copied(figures[i]!)
      figures[i]!.runs = counted
      if (i < head) head = i
      else if (i >= figures.length - tail) tail = figures.length - 1 - i
    }
  }
  return { head, tail }
}

/**
 * From the last figure before the change to the first after it that begin a run at every level: what stands beyond
 * counts the same. (The first after it must not be touched by the change: a dot is read by its neighbours.)
 */
function reachOf({ figures, mensuration, plan }: LatticeInput, { head, tail }: Ends): { from: number; to: number } {
  const top = mensuration.perfect[0] ?? 0
  const opens = (i: number): boolean => figures[i]!.level <= top && (plan === undefined || plan.to[i]! <= i)
  let from = Math.max(0, head - 1)
  while (from > 0 && !opens(from)) from--
  let to = Math.min(figures.length, figures.length - tail + 1)
  while (to < figures.length && !opens(to)) to++
  return { from, to }
}

function countFrom(input: LatticeInput, from: number, to: number): Count {
  const { figures, mensuration } = input
  const worth: number[] = []
  const runs: Runs[] = []
  const { perfect } = mensuration
  for (let i = from; i < to; i++) {
    const f = figures[i]!
    const plain = perfect.length === 0 ? 0 : (f.fixed ?? f.colouredTicks ?? f.full)
    worth.push(plain > 0 && lengthens(figures, i, mensuration) ? plain * 1.5 : plain)
    runs.push(NO_RUNS)
  }
  const count = { figures, from, to, worth, runs }
  if (perfect.length > 0) likelyGroups(input, count)
  for (let k = perfect.length - 1; k >= 0; k--) countLevel(count, mensuration, perfect[k]!)
  return count
}

/** A run under way: which figure opened it, where its smaller figures begin, and their worth so far. */
interface OpenRun {
  readonly opener: number
  readonly from: number
  worth: number
}

function countLevel(count: Count, m: Mensuration, level: number): void {
  const { figures, from, to, worth } = count
  const unit = m.full[level + 1]!
  let run: OpenRun = { opener: -1, from, worth: 0 }
  for (let i = from; i < to; i++) {
    if (figures[i]!.level <= level) {
      settleRun(count, level, unit, run, i)
      run = { opener: i, from: i + 1, worth: 0 }
    } else run.worth += worth[i - from]!
    if (parts(figures, i, m, level)) {
      settleRun(count, level, unit, run, -1, i + 1)
      run = { opener: -1, from: i + 1, worth: 0 }
    }
  }
  if (to < figures.length) settleRun(count, level, unit, run, to)
  else settleRun(count, level, unit, run, -1, to)
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

/** The list with one more run told, of `level`. */
function withRun(runs: Runs, level: number, run: Run): Runs {
  const key = (run.distance + 1) * 4 + (run.alterable ? 2 : 0) + (run.startsWithRest ? 1 : 0)
  let alike = shared.get(key)
  if (alike === undefined && shared.size < MOST_SHARED) shared.set(key, (alike = []))
  let known = alike?.find(one => one.run.units === run.units)
  if (known === undefined) {
    known = { run, lists: [] }
    if (alike !== undefined && alike.length < MOST_SHARED) alike.push(known)
  }
  return runs === NO_RUNS ? (known.lists[level] ??= NO_RUNS.with(level, known.run)) : runs.with(level, known.run)
}

function sameRuns(a: Runs, b: Runs): boolean {
  return a === b || (a.length === b.length && a.every((run, level) => sameRun(run, b[level])))
}

const sameRun = (a: Run | undefined, b: Run | undefined): boolean =>
  a === b ||
  (a !== undefined &&
    a.units === b?.units &&
    a.alterable === b.alterable &&
    a.startsWithRest === b.startsWithRest &&
    a.distance === b.distance)

/**
 * Tells the opener of its run, and takes what is left over a count of threes from the notes at its ends. `until` is the
 * larger figure that ends it, -1 for a wall or the end; `stop` the place after its last figure.
 */
function settleRun(
  { figures, from: first, to: end, worth, runs }: Count,
  level: number,
  unit: number,
  { opener, from, worth: sum }: OpenRun,
  until: number,
  stop = until,
): void {
  const last = stop > first ? figures[stop - 1] : undefined
  const closer = until < 0 ? undefined : figures[until]
  const beyond = closer ?? (last?.dot !== undefined ? figures[last.index + 1] : undefined)
  const alterable = isLarger(beyond, level) && isAlterable(last, level) && last!.index >= from
  const units = sum / unit
  if (opener >= 0) {
    const distance = until < 0 ? -1 : until - opener
    const run = { units, alterable, startsWithRest: figures[from]?.rest === true, distance }
    runs[opener - first] = withRun(runs[opener - first]!, level, run)
  }
  const rest = Math.round(units) % 3
  if (rest === 0 || Math.abs(units - Math.round(units)) > 1e-9) return
  if (rest === 2 && alterable) {
    worth[last!.index - first]! += unit
    return
  }
  const gives = opener >= 0 && !figures[opener]!.rest
  const takes = closer !== undefined && !closer.rest && until < end
  if (gives) worth[opener - first]! -= unit
  if (takes && (rest === 2 || !gives)) worth[until - first]! -= unit
}

const isLarger = (f: DraftFigure | undefined, level: number): boolean =>
  f !== undefined && f.level === level && !f.shortLongRest

const isAlterable = (f: DraftFigure | undefined, level: number): boolean =>
  f !== undefined && f.level === level + 1 && !f.rest && !f.coloured
