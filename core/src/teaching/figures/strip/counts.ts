/** Under the bands: a few words for each note, and perfections with what they hold, added up. */
import { over, ratio, sum, toNumber } from "../../../base/index.js"
import {
  levelsOf,
  textWidth,
  wrapped,
  xAt,
  type Axis,
  type Item,
  type Mark,
  type PathStep,
  type TimedSign,
  type TimeVoice,
} from "../../../drawing/index.js"
import { countText } from "../../../reading/index.js"
import { fewWordsWithDot } from "../few-words.js"
import { FEW_WORDS, letters, SUM } from "../letters.js"
import { NEAR } from "../passage.js"

const LINE = FEW_WORDS.size * 1.12
const MOST_LINES = 3

export interface Told {
  readonly timed: TimedSign
  readonly text: string
  /** How far its words may reach, in the score's unit: to the next words or the end of the perfection. */
  readonly length: number
}

export function toldOf(voice: TimeVoice, signs: readonly TimedSign[], end: number): Told[] {
  const told = signs.flatMap(timed => {
    const text = timed.held ? "" : fewWordsWithDot(timed, voice)
    return text === "" ? [] : [{ timed, text }]
  })
  const ends = perfectionsOf(voice, signs)
  return told.map((one, i) => {
    const closes = Math.min(ends.find(other => other.to > one.timed.at + NEAR)?.to ?? end, end)
    return { ...one, length: Math.min(told[i + 1]?.timed.at ?? Infinity, closes) - one.timed.at }
  })
}

/** Words begin so far behind the moment. */
export const WORDS_INSET = 8

/** Words from the left edge of each band on, as far as to the next words or the end of the perfection. Where even three lines are too few, they are left out. */
export function wordsRow(voice: TimeVoice, signs: readonly TimedSign[], axis: Axis, top: number) {
  const items: Item[] = []
  let lines = 0
  for (const { timed, text, length } of toldOf(voice, signs, axis.to)) {
    const x = xAt(axis, timed.at) + WORDS_INSET
    const room = length * axis.scale - WORDS_INSET - 6
    const set = wrapped(text, FEW_WORDS, room)
    if (set.length > MOST_LINES || set.some(line => textWidth(line, FEW_WORDS) > room)) continue
    lines = Math.max(lines, set.length)
    const marks = set.map((line, n) =>
      letters(line, x, top + n * LINE + FEW_WORDS.size * 0.8, FEW_WORDS, { part: "why", fill: "second" }),
    )
    items.push({ shape: "group", part: "why", data: { of: timed.sign.id }, content: marks })
  }
  return { items, height: lines === 0 ? 0 : lines * LINE + 4 }
}

export interface Perfection {
  readonly from: number
  readonly to: number
  readonly signs: readonly TimedSign[]
  /** "4 + 2 = 6". */
  readonly text: string
  readonly short: string
}

/** Runs of signs that begin and end with a perfection; where signs lie across, several perfections together. */
export function perfectionsOf(voice: TimeVoice, signs: readonly TimedSign[]): Perfection[] {
  const found: Perfection[] = []
  let open: TimedSign[] = []
  for (const timed of signs) {
    if (timed.held) break
    open.push(timed)
    const span = voice.spans.findLast(one => one.at <= open[0]!.at + NEAR)
    const base = span ? levelsOf(span).base : 0
    const isLine = (at: number) =>
      Math.abs((at - (span?.at ?? 0)) / base - Math.round((at - (span?.at ?? 0)) / base)) < NEAR
    if (base <= 0 || !isLine(timed.at + timed.lasts)) continue
    // where the passage begins inside one, its rest is none
    if (isLine(open[0]!.at)) found.push(perfection(open, base))
    open = []
  }
  return found
}

function perfection(signs: readonly TimedSign[], base: number): Perfection {
  const total = sum(signs.map(one => one.duration))
  const short = countText(total)
  const several = Math.round(toNumber(total) / base)
  const terms = signs.map(one => countText(one.duration))
  const text =
    terms.length > 1
      ? `${terms.join(" + ")} = ${short}`
      : several > 1
        ? `${several} × ${countText(over(total, ratio(several)))}`
        : short
  return { from: signs[0]!.at, to: signs.at(-1)!.at + signs.at(-1)!.lasts, signs, text, short }
}
/** A bracket under the bands, open above, with the sum under it; without its end where the line ends before. */
export function sumsRow(perfections: readonly Perfection[], axis: Axis, top: number) {
  const items = perfections.map((one): Item => {
    const open = one.to > axis.to + NEAR
    const [left, right] = [xAt(axis, one.from) + 10, open ? axis.right : xAt(axis, one.to) - 10]
    const path: PathStep[] = [
      ["M", left, top],
      ["L", left, top + 12],
      ["L", right, top + 12],
      ...(open ? [] : [["L", right, top] as const]),
    ]
    const bracket: Mark = { shape: "path", part: "bracket", path, stroke: { role: "ink", width: 2.5 } }
    const text = textWidth(one.text, SUM) <= right - left - 4 ? one.text : one.short
    const middle = (left + right) / 2
    const mark = letters(text, middle, top + 44, SUM, { part: "sum", fill: "ink", anchor: "middle" })
    return { shape: "group", part: "perfection-sum", content: [bracket, mark] }
  })
  return { items, height: perfections.length === 0 ? 0 : 54 }
}
