/** Notes and rests of one bar as written signs: split and tied where the bar's lines ask for it, in tuplets where halving does not reach. */
import {
  compare,
  equals,
  greatestCommonDivisor,
  leastCommonMultiple,
  minus,
  over,
  plus,
  ratio,
  times,
  type Rational,
} from "../base/index.js"
import type { ScoreEvent } from "./types.js"
import { bestRatio, isUntied, lengths, oddPart, writtenIn, type TupletRatio } from "./tuplets.js"
import { isDyadic, isPowerOfTwo, modernValue, type ModernValue } from "./values.js"

/** The part of a note or rest that lies in a bar; times in whole notes from the bar's origin. */
export interface Piece {
  readonly event: ScoreEvent
  readonly start: Rational
  readonly end: Rational
}
export interface SplitSign extends Piece {
  readonly kind: "sign"
  readonly value: ModernValue
}
export interface SplitTuplet extends TupletRatio {
  readonly kind: "tuplet"
  readonly signs: readonly SplitSign[]
}
export type SplitItem = SplitSign | SplitTuplet

/** Periods of the bar's lines, longest first, all dyadic; below the last they are divided on. */
export type Grid = readonly Rational[]

const WHOLE = ratio(1)
const HALF = ratio(1, 2)

/**
 * Pieces that follow one another without gap, the first beginning at a dyadic time. Every duration comes out exactly.
 * `undivided`: what one sign can show is not tied, wherever it stands.
 */
export function splitPieces(pieces: readonly Piece[], grid: Grid, undivided = false): SplitItem[] {
  return joinSextuplets(
    stretches(pieces).flatMap(stretch => (undivided && asOne(stretch)) || splitStretch(stretch, grid)),
  )
}

/** A stretch that is one note which one sign can show. */
function asOne([piece, ...others]: readonly Piece[]): SplitSign[] | undefined {
  const value =
    piece?.event.kind === "note" && others.length === 0 ? modernValue(minus(piece.end, piece.start)) : undefined
  return value && [{ kind: "sign", ...piece!, value }]
}

/** Cuts between pieces wherever halving reaches: what lies between two cuts is one plain piece or needs a tuplet. */
function stretches(pieces: readonly Piece[]): Piece[][] {
  const all: Piece[][] = []
  let open = false
  for (const piece of pieces) {
    if (open) all.at(-1)!.push(piece)
    else all.push([piece])
    open = !isDyadic(piece.end)
  }
  return all
}

function splitStretch(stretch: readonly Piece[], grid: Grid): SplitItem[] {
  const [first, ...others] = stretch
  if (!first) return []
  if (others.length === 0 && isDyadic(first.end)) return splitPlain(first, grid)
  return splitUneven(stretch, grid)
}

/** A tuplet, if it is one beat or less of the grid, or longer and clean; else the stretch is cut at the coarsest line. */
function splitUneven(stretch: readonly Piece[], grid: Grid): SplitItem[] {
  const start = stretch[0]!.start
  const end = stretch.at(-1)!.end
  const sizes = lengths([start, ...stretch.map(piece => piece.end)])
  const tuplet = bestRatio(sizes)
  const { above, period, lines } = linesBetween(start, end, grid)
  const fits = isMultiple(start, period) && isMultiple(end, period)
  const oneCell = above !== undefined && isMultiple(start, above) && equals(minus(end, start), above)
  const withinBeat = compare(minus(end, start), grid.at(-1) ?? WHOLE) <= 0
  const plainUnit = isPowerOfTwo(over(minus(end, start), ratio(tuplet.numbase)).num)
  const clean = fits && plainUnit && isUntied(sizes, tuplet) && partsOf(sizes) <= MOST_PARTS
  const accepted = withinBeat ? oneCell || !isDyadic(end) : clean
  if (accepted) return [writeTuplet(stretch, tuplet)]
  const { before, after } = cutAt(stretch, lines[0]!)
  return [...splitAll(before, grid), ...splitAll(after, grid)]
}

/** A tuplet longer than a beat is read at a glance only while it has few parts; finer ones are cut at the beats. */
const MOST_PARTS = 9

/** Into how many equal parts the durations divide their sum. */
function partsOf(sizes: readonly Rational[]): number {
  const den = sizes.reduce((common, { den }) => leastCommonMultiple(common, den), 1)
  const counts = sizes.map(size => (size.num * den) / size.den)
  return counts.reduce((total, count) => total + count, 0) / counts.reduce((a, b) => greatestCommonDivisor(a, b))
}

function splitAll(pieces: readonly Piece[], grid: Grid): SplitItem[] {
  return stretches(pieces).flatMap(stretch => splitStretch(stretch, grid))
}

function cutAt(pieces: readonly Piece[], line: Rational): { before: Piece[]; after: Piece[] } {
  const before = pieces.filter(piece => compare(piece.start, line) < 0)
  const after = pieces.filter(piece => compare(piece.end, line) > 0)
  return {
    before: before.map(piece => (compare(piece.end, line) > 0 ? { ...piece, end: line } : piece)),
    after: after.map(piece => (compare(piece.start, line) < 0 ? { ...piece, start: line } : piece)),
  }
}

function writeTuplet(pieces: readonly Piece[], tuplet: TupletRatio): SplitTuplet {
  const signs = pieces.flatMap(piece => {
    const parts = decompose(writtenIn(minus(piece.end, piece.start), tuplet))
    let start = piece.start
    return parts.map((value): SplitSign => {
      const end = plus(start, times(lasting(value), ratio(tuplet.numbase, tuplet.num)))
      const sign: SplitSign = { kind: "sign", event: piece.event, start, end, value }
      start = end
      return sign
    })
  })
  return { kind: "tuplet", num: tuplet.num, numbase: tuplet.numbase, signs }
}

/** Longest first. */
function decompose(written: Rational): ModernValue[] {
  const values: ModernValue[] = []
  for (let left = written; left.num > 0;) {
    const value = longestWithin(left)
    values.push(value)
    left = minus(left, lasting(value))
  }
  return values
}

function longestWithin(wholes: Rational): ModernValue {
  for (let size = ratio(2); size.den <= 2048; size = times(size, HALF)) {
    const dotted = times(size, ratio(3, 2))
    if (compare(dotted, wholes) <= 0) return modernValue(dotted) ?? shortest(wholes)
    if (compare(size, wholes) <= 0) return modernValue(size) ?? shortest(wholes)
  }
  return shortest(wholes)
}

/** Thrown where a score has times that no modern sign is short enough for. */
export class TooShort extends RangeError {}

function shortest(wholes: Rational): never {
  throw new TooShort(`${wholes.num}/${wholes.den} of a whole note is shorter than any sign`)
}

/** In whole notes. */
export function lasting({ dur, dots }: ModernValue): Rational {
  const plain = dur === "breve" ? ratio(2) : ratio(1, Number(dur))
  return dots === 1 ? times(plain, ratio(3, 2)) : plain
}

/**
 * One sign where its duration has one and both ends lie on the lines next below the coarsest that it covers (a syncopation
 * stays whole, a dotted note does not hide the beat); else cut at that line.
 */
function splitPlain(piece: Piece, grid: Grid): SplitSign[] {
  const { start, end } = piece
  const value = modernValue(minus(end, start))
  const { period, below, lines } = linesBetween(start, end, grid)
  if (value && isMultiple(start, below) && isMultiple(end, below)) return [{ kind: "sign", ...piece, value }]
  const clean = isMultiple(start, period)
    ? lines.findLast(line => modernValue(minus(line, start)) !== undefined)
    : undefined
  const line = clean ?? lines[0]!
  if (line.den > 2048) shortest(minus(end, start))
  return [...splitPlain({ ...piece, end: line }, grid), ...splitPlain({ ...piece, start: line }, grid)]
}

interface Lines {
  /** Twice or three times the period: no line of it lies between. Undefined above the bar. */
  readonly above: Rational | undefined
  readonly period: Rational
  readonly below: Rational
  readonly lines: readonly Rational[]
}

/** The coarsest lines strictly between two times, their period, and the periods next to it. */
function linesBetween(start: Rational, end: Rational, grid: Grid): Lines {
  let above: Rational | undefined
  let period = grid[0] ?? WHOLE
  for (let level = 0; ; level++) {
    const below = grid[level + 1] ?? divided(period)
    const first = times(period, ratio(Math.floor(index(start, period)) + 1))
    const lines: Rational[] = []
    for (let line = first; compare(line, end) < 0; line = plus(line, period)) lines.push(line)
    if (lines.length > 0) return { above, period, below, lines }
    above = period
    period = below
  }
}

/** A dotted period divides in three, then all halve: only so does every dyadic time get a line. */
function divided(period: Rational): Rational {
  const odd = oddPart(period.num)
  if (odd === 1) return times(period, HALF)
  return over(period, ratio(odd % 3 === 0 ? 3 : odd))
}

function index(time: Rational, period: Rational): number {
  const count = over(time, period)
  return count.num / count.den
}

function isMultiple(time: Rational, period: Rational): boolean {
  return over(time, period).den === 1
}

/** Two neighbouring triplets of equal notes that share one beat are a group of six. */
function joinSextuplets(items: readonly SplitItem[]): SplitItem[] {
  const joined: SplitItem[] = []
  for (const item of items) {
    const before = joined.at(-1)
    if (before?.kind === "tuplet" && item.kind === "tuplet" && makeSix(before, item))
      joined[joined.length - 1] = { kind: "tuplet", num: 6, numbase: 4, signs: [...before.signs, ...item.signs] }
    else joined.push(item)
  }
  return joined
}

function makeSix(first: SplitTuplet, second: SplitTuplet): boolean {
  const signs = [...first.signs, ...second.signs]
  const start = signs[0]!.start
  const length = minus(signs.at(-1)!.end, start)
  return (
    first.num === 3 &&
    second.num === 3 &&
    first.numbase === second.numbase &&
    signs.length === 6 &&
    signs.every(sign => sign.value.dur === signs[0]!.value.dur && sign.value.dots === 0) &&
    new Set(signs.map(sign => sign.event)).size === 6 &&
    compare(length, ratio(1, 4)) <= 0 &&
    isDyadic(length) &&
    isMultiple(start, length)
  )
}
