/**
 * Are the perfections of a reading full? Counted again from nothing but the written levels, the durations and the
 * mensuration, so that the reader's own count is not trusted.
 */
import { compare, equals, minus, plus, ratio, times, toNumber, toText, ZERO, type Rational } from "../../base/index.js"
import { LEVELS } from "../../page/index.js"
import type { MensurationSpan, Reading, SignReading } from "../types.js"

interface Measure {
  /** Full duration by level, in the voice's unit. */
  readonly full: readonly Rational[]
  readonly perfect: readonly number[]
}

function measureOf(span: MensurationSpan, unit: Reading["unit"]): Measure {
  if (unit === "tempus") {
    const long = span.modusMinor === 3 ? 3 : 2
    return { full: [ratio(2 * long), ratio(long), ratio(1), ratio(1, 3)], perfect: long === 3 ? [1] : [] }
  }
  const divisions = [span.modusMaior ?? 2, span.modusMinor ?? 2, span.tempus ?? 2, span.prolatio ?? 2]
  const full = [ratio(1), ratio(1, 2), ratio(1, 4), ratio(1, 8)]
  for (let level = 3; level >= 0; level--) full.unshift(times(full[0]!, ratio(divisions[level]!)))
  return { full, perfect: [0, 1, 2, 3].filter(level => divisions[level] === 3) }
}

/** What of `time` is left over after whole `cell`s. */
function remainder(time: Rational, cell: Rational): Rational {
  const cells = Math.floor(toNumber({ num: time.num * cell.den, den: time.den * cell.num }) + 1e-12)
  return minus(time, times(cell, ratio(cells)))
}

/** Rules by which a figure is counted outside the perfection in which it stands. */
const DISPLACING = ["syncopatio", "imperfectio-ab-utraque-parte"]
const UNCOUNTED = new Set([
  "coloratio",
  "semicoloratio",
  "minor-color",
  "isolated-black",
  "black-minims",
  "local-shape",
  "given",
  "decision",
])

const rulesOf = (sign: SignReading): readonly string[] => [sign.rule, ...sign.also]

/** Complaints about a reading of one mensuration; none when every perfection is full and nothing lies across. */
export function unfilled(reading: Reading): string[] {
  const span = reading.mensurations[0]!
  const measure = measureOf(span, reading.unit)
  const figures = reading.signs.filter(sign => sign.kind === "note" || sign.kind === "rest")
  const complaints = figures.length === 0 ? [] : checkFinal(figures.at(-1)!, measure)
  if (figures.some(sign => DISPLACING.some(rule => rulesOf(sign).includes(rule)))) return complaints
  figures.forEach((sign, i) => {
    const dotted = reading.signs[sign.index + 1]?.takenFor === "punctus-additionis"
    const complaint =
      dotted || rulesOf(sign).some(rule => UNCOUNTED.has(rule)) ? undefined : checkPlace(sign, measure, reading.unit)
    if (complaint !== undefined && i < figures.length - 1) complaints.push(complaint)
  })
  return complaints
}

/** The final is held freely: it has to begin a perfection of its own size, or to complete one. */
function checkFinal(final: SignReading, { full, perfect }: Measure): string[] {
  const own = perfect.find(k => k >= levelOf(final))
  if (own === undefined || rulesOf(final).some(rule => UNCOUNTED.has(rule))) return []
  const before = remainder(final.onset, full[own]!)
  const after = remainder(plus(final.onset, final.duration), full[own]!)
  const isFull = [before, after].some(left => equals(left, ZERO))
  return isFull ? [] : [`${toText(before)} left before the final, ${toText(after)} with it`]
}

function levelOf(sign: SignReading): number {
  if (sign.quality === "duplex") return 0
  return sign.level === null ? 3 : LEVELS.indexOf(sign.level)
}

/** A figure stays within its perfection; a larger one within the span it would fill whole. */
function checkPlace(sign: SignReading, { full, perfect }: Measure, unit: Reading["unit"]): string | undefined {
  const cell = cellOf(sign, full, perfect, unit)
  if (cell === undefined || sign.kind === "rest") return undefined
  const [size, room] = cell
  const end = plus(remainder(sign.onset, size), sign.duration)
  return compare(end, room) <= 0
    ? undefined
    : `${sign.id} (${sign.level}, ${sign.rule}) ends at ${toText(end)} of ${toText(room)}`
}

/** The span at whose multiples a figure's place is judged, and how far from there it may reach. */
function cellOf(
  sign: SignReading,
  full: readonly Rational[],
  perfect: readonly number[],
  unit: Reading["unit"],
): readonly [Rational, Rational] | undefined {
  const level = levelOf(sign)
  const grouped = unit === "tempus" || sign.rule === "via-naturae" || sign.rule === "via-artis"
  if (grouped && level >= 3) return [full[2]!, full[2]!]
  if (sign.quality === "altera") return [full[level - 1]!, full[level - 1]!]
  const own = perfect.find(k => k >= level)
  if (own !== undefined) return [full[own]!, full[level]!]
  const larger = perfect.findLast(k => k < level)
  return larger === undefined ? undefined : [full[larger]!, full[larger]!]
}
