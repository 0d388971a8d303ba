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

function countLevel(figures: readonly DraftFigure[], worth: number[], m: Mensuration, level: number): void {
  const unit = m.full[level + 1]!
  let opener = -1
  let from = 0
  let sum = 0
  const close = (until: number, stop: number): void => {
    settleRun(figures, worth, level, unit, opener, from, until, stop, sum)
    sum = 0
  }
  for (let i = 0; i < figures.length; i++) {
    const f = figures[i]!
    if (f.level <= level) {
      close(i, i)
      opener = i
      from = i + 1
    } else sum += worth[i]!
    if (parts(figures, i, m, level)) {
      close(-1, i + 1)
      opener = -1
      from = i + 1
    }
  }
  close(-1, figures.length)
}

/** A dot that probably adds half: by the table of dots, or because a smaller figure stands by to be counted with it. */
function lengthens(figures: readonly DraftFigure[], i: number, m: Mensuration): boolean {
  const f = figures[i]!
  if (f.dot === undefined || f.rest || f.dotGiven === "div") return false
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

/** Most figures have no run after them: they share one empty list. */
const NO_RUNS: (Run | undefined)[] = [undefined, undefined, undefined, undefined]
function ownRuns(f: DraftFigure): (Run | undefined)[] {
  if (f.runs === NO_RUNS) f.runs = [...NO_RUNS]
  return f.runs
}

function settleRun(
  figures: readonly DraftFigure[],
  worth: number[],
  level: number,
  unit: number,
  opener: number,
  from: number,
  until: number,
  stop: number,
  sum: number,
): void {
  const end = until < 0 ? -1 : until
  const last = end < 0 ? figures[stop - 1] : figures[end - 1]
  const units = sum / unit
  const closer = end < 0 ? undefined : figures[end]
  const beyond = closer ?? (last?.dot !== undefined ? figures[last.index + 1] : undefined)
  const alterable =
    beyond !== undefined &&
    beyond.level === level &&
    !beyond.shortLongRest &&
    last !== undefined &&
    last.level === level + 1 &&
    !last.rest &&
    !last.coloured &&
    last.index >= from
  if (opener >= 0)
    ownRuns(figures[opener]!)[level] = { units, alterable, startsWithRest: figures[from]?.rest === true, until: end }
  const rest = Math.round(units) % 3
  if (Math.abs(units - Math.round(units)) > 1e-9) return
  const giver = opener >= 0 && !figures[opener]!.rest ? opener : -1
  const taker = closer !== undefined && !closer.rest ? end : -1
  if (rest === 1) {
    if (giver >= 0) worth[giver]! -= unit
    else if (taker >= 0) worth[taker]! -= unit
  } else if (rest === 2 && alterable) worth[last!.index]! += unit
  else if (rest === 2) {
    if (giver >= 0) worth[giver]! -= unit
    if (taker >= 0) worth[taker]! -= unit
  }
}
