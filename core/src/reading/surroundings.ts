/** What stands around a figure, as far as rules may look, in a few numbers: where these are the same, rules see the same. */
import type { Counted, Run } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"

const GIVEN = { aug: 1, div: 2, perf: 3 }
const NEAR = { previous: 1, next: 2 }

/** The figure itself, so far as rules see it (see `Seen`); its full value stands apart. */
export function ownOf(f: DraftFigure): number {
  return (
    f.level |
    (f.rest ? 8 : 0) |
    (f.coloured ? 16 : 0) |
    (f.duplex ? 32 : 0) |
    (f.shortLongRest ? 64 : 0) |
    (f.dot !== undefined ? 128 : 0) |
    (f.stroke !== undefined ? 256 : 0) |
    (f.strokeGroup === true ? 512 : 0) |
    (f.softWall === true ? 1024 : 0) |
    (f.dotGiven === undefined ? 0 : GIVEN[f.dotGiven] << 11)
  )
}

/** Which bits of `aroundOf` say what. */
export const AROUND = {
  next: 0x3ff,
  second: 0x1f << 10,
  previous: 0x3ff << 15,
  closesPair: 1 << 25,
  atOpening: 1 << 26,
}

/** A dot stands after the figure before. */
export const DOT_BEFORE = 32 << 15

/** Those beside it (see `SeenNext`, `SeenSecond`, `SeenBefore`), and how it stands to them. */
export function aroundOf(figures: readonly DraftFigure[], i: number): number {
  const next = figures[i + 1]
  const second = figures[i + 2]
  const before = figures[i - 1]
  return (
    (next === undefined ? 0 : nextBits(next)) |
    (second === undefined ? 0 : (8 | second.level | (second.dot !== undefined ? 16 : 0)) << 10) |
    (before === undefined ? 0 : beforeBits(before) << 15) |
    (closesPair(figures, i) ? AROUND.closesPair : 0) |
    (i <= 1 ? AROUND.atOpening : 0)
  )
}

const nextBits = (f: DraftFigure): number =>
  8 |
  f.level |
  (f.rest ? 16 : 0) |
  (f.duplex ? 32 : 0) |
  (f.shortLongRest ? 64 : 0) |
  (f.dot !== undefined ? 128 : 0) |
  (f.near === undefined ? 0 : NEAR[f.near] << 8)

const beforeBits = (f: DraftFigure): number =>
  8 |
  f.level |
  (f.rest ? 16 : 0) |
  (f.dot !== undefined ? 32 : 0) |
  (f.stroke !== undefined ? 64 : 0) |
  (f.strokeGroup === true ? 128 : 0) |
  (f.near === undefined ? 0 : NEAR[f.near] << 8)

/** The figure ends a ligature that the one before begins. */
export function closesPair(figures: readonly DraftFigure[], i: number): boolean {
  const figure = figures[i]!
  if (!figure.ligatureEnd) return false
  const before = figures[i - 1]
  return before !== undefined && before.ligatureStart && before.ligature === figure.ligature
}

/** Bits for the run of one level among those of `runsOf`. */
export const RUN_BITS = 63
/** From so many units on only what is left over threes is told. */
const MANY = 7
/** Kinds of runs: of no units to nine; fractions below one, two, three and above; each by what else is asked of it. */
const KINDS = MANY + 3 + 4

/** What rules are told of the runs after a figure, in one number; -1 where that has no number. */
export function runsOf({ runs }: DraftFigure): number {
  let number = 0
  for (let level = 0; level < runs.length; level++) {
    const run = runs[level]
    if (run === undefined) continue
    const kind = kindOf(run)
    if (kind < 0) return -1
    number |= kind << (6 * level)
  }
  return number
}

/** 1 to 56. */
function kindOf({ units, alterable, startsWithRest }: Run): number {
  const whole = Math.round(units)
  if (!(units >= 0)) return -1
  let kind = KINDS - 4 + Math.min(3, Math.floor(units))
  if (whole === units) kind = whole < MANY + 3 ? whole : MANY + ((whole - MANY) % 3)
  else if (Math.abs(units - whole) < 1e-6) return -1
  return 1 + kind + (alterable ? KINDS : 0) + (startsWithRest ? 2 * KINDS : 0)
}

const told: Counted[] = Array.from({ length: 4 * KINDS }, (_, n) => ({
  units: n % KINDS < MANY + 3 ? n % KINDS : (n % KINDS) - (MANY + 3) + 0.5,
  alterable: Math.floor(n / KINDS) % 2 === 1,
  startsWithRest: n >= 2 * KINDS,
}))

/** The run as rules are told of it; one that has no number as it is. */
export function countedAs(run: Run | undefined): Counted | undefined {
  if (run === undefined) return undefined
  const kind = kindOf(run)
  return kind < 0 ? run : told[kind - 1]
}
