/** Bars: each voice by its own mensuration, and the stretches in which all of them can be written side by side. */
import { compare, equals, minus, ONE, over, plus, ratio, times, toText, type Rational } from "../base/index.js"
import type { Cut } from "./structure.js"
import type { ScoreVoice } from "./types.js"
import { isDyadic, isPowerOfTwo } from "./values.js"

export interface Meter {
  readonly count: number
  readonly unit: number
}

/** One bar of one voice, in whole notes. */
export interface Bar {
  readonly start: Rational
  readonly end: Rational
  /** The bar's full length, then what divides it, each a line that notes should show. All dyadic. */
  readonly periods: readonly Rational[]
  /** Null for a bar cut short, or one that no meter can name. */
  readonly meter: Meter | null
}

/**
 * The bars of a voice from 0 to `end`, in whole notes; a change of mensuration in the middle of a bar cuts it short, and so
 * does a line that repeats and endings ask for (`cuts`, in the score's unit).
 */
export function barsOf(voice: ScoreVoice, scale: Rational, end: Rational, cuts: readonly Cut[] = []): Bar[] {
  const bars: Bar[] = []
  for (const { start: from, until, origin, periods } of gridsOf(voice, scale, end, cuts)) {
    const full = periods[0]!
    const meter = meterOf(periods)
    const grid = periods.filter(isDyadic)
    for (let start = from; compare(start, until) < 0;) {
      const close = least(plus(lineBefore(start, origin, full), full), until)
      const whole = equals(minus(close, start), full)
      bars.push({ start, end: close, periods: grid, meter: whole ? meter : null })
      start = close
    }
  }
  return bars
}

/** A stretch in which lines are counted from one place by the same periods; in whole notes. */
interface Grid {
  readonly start: Rational
  readonly until: Rational
  readonly origin: Rational
  readonly periods: readonly Rational[]
}

function gridsOf(voice: ScoreVoice, scale: Rational, end: Rational, cuts: readonly Cut[]): Grid[] {
  const starts = [...voice.mensurations.map(({ onset }) => onset), ...cuts.map(({ at }) => at)]
  const places = starts.toSorted(compare).filter((at, i, all) => i === 0 || !equals(at, all[i - 1]!))
  const grids: Grid[] = []
  places.forEach((at, i) => {
    const start = times(at, scale)
    const next = places[i + 1]
    const until = next ? least(times(next, scale), end) : end
    const mensuration = voice.mensurations.findLast(({ onset }) => compare(onset, at) <= 0) ?? voice.mensurations[0]!
    const periods = mensuration.periods.map(period => times(period, scale))
    const changes = equals(mensuration.onset, at)
    const cut = changes ? undefined : cuts.find(one => equals(one.at, at))
    const origin = cut ? originOf(cut, start, grids, scale) : start
    if (compare(start, until) < 0) grids.push({ start, until, origin, periods })
  })
  return grids
}

function originOf({ origin, like }: Cut, start: Rational, grids: readonly Grid[], scale: Rational): Rational {
  if (origin) return start
  const model = like && times(like, scale)
  const grid = model ? grids.findLast(one => compare(one.start, model) <= 0) : grids.at(-1)
  if (!grid) return start
  if (!model) return grid.origin
  return minus(start, minus(model, lineBefore(model, grid.origin, grid.periods[0]!)))
}

/** The last line at or before a time. */
function lineBefore(time: Rational, origin: Rational, full: Rational): Rational {
  const { num, den } = over(minus(time, origin), full)
  return plus(origin, times(full, ratio(Math.floor(num / den))))
}

function least(a: Rational, b: Rational): Rational {
  return compare(a, b) <= 0 ? a : b
}

/** 3/4 for a bar of three quarters; where the beat is dotted, what divides it counts (6/8, 9/8). */
export function meterOf(periods: readonly Rational[]): Meter | null {
  const bar = periods[0]
  if (!bar) return null
  const unit = periods.slice(1).find(period => isPowerOfTwo(period.num) && isDyadic(period))
  const chosen = unit ?? (isDyadic(bar) ? ratio(1, bar.den) : undefined)
  if (!chosen) return null
  // No meter counts in breves: two whole notes are written 2/1.
  const counted = compare(chosen, ONE) > 0 ? ONE : chosen
  const count = over(bar, counted)
  if (count.den !== 1) return null
  // A bar of one beat is counted in halves of it: 2/4, not 1/2.
  return count.num === 1 ? { count: 2, unit: counted.den * 2 } : { count: count.num, unit: counted.den }
}

/** A stretch with a line through all voices at its end, or at least through those that govern. In whole notes. */
export interface Block {
  readonly start: Rational
  readonly end: Rational
  /** Number of its first bar, from 1, by the governing bars. */
  readonly n: number
  /** A line ends it in every voice. */
  readonly shared: boolean
}

/** So many governing bars may stand in one stretch before it is cut where only some voices have a line. */
const LONGEST = 4

/**
 * Stretches from line to line that all voices share. Where they share none within four bars of the governing
 * mensuration (that of most voices at that moment), the line that most have cuts, and the others' notes are tied over.
 * A line that is `forced` ends a stretch in any case.
 */
export function blocksOf(bars: readonly (readonly Bar[])[], end: Rational, forced: readonly Rational[] = []): Block[] {
  const must = new Set(forced.map(toText))
  const lines = bars.map(own => new Set(own.map(bar => toText(bar.end))))
  const having = (at: Rational) => lines.filter(own => own.has(toText(at))).length
  const governing = governingBars(bars, end).map(bar => bar.end)
  const blocks: Block[] = []
  let start = ratio(0)
  for (let i = 0; i < governing.length;) {
    const window = governing.slice(i, i + LONGEST).map((at, step) => ({ at, step }))
    const stop = window.findIndex(({ at }) => must.has(toText(at)))
    const ahead = stop < 0 ? window : window.slice(0, stop + 1)
    const clean = ahead.filter(({ at }) => isDyadic(minus(at, start)))
    const common = clean.find(({ at }) => having(at) === bars.length)
    const most = Math.max(...clean.map(({ at }) => having(at)))
    const chosen = common ?? clean.find(({ at }) => having(at) === most) ?? ahead.at(stop < 0 ? 0 : -1)!
    blocks.push({ start, end: chosen.at, n: i + 1, shared: having(chosen.at) === bars.length })
    start = chosen.at
    i += chosen.step + 1
  }
  return blocks
}

/** From each line the bar that most voices begin there, or stand in, leads to the next; one entered in its midst is cut short. */
export function governingBars(bars: readonly (readonly Bar[])[], end: Rational): Bar[] {
  const at = bars.map(() => 0)
  const governing: Bar[] = []
  for (let start = ratio(0); compare(start, end) < 0;) {
    const current = bars.flatMap((own, voice) => {
      while (own[at[voice]!] && compare(own[at[voice]!]!.end, start) <= 0) at[voice]!++
      return own[at[voice]!] ?? []
    })
    const votes = (bar: Bar) =>
      current.filter(other => equals(other.end, bar.end)).length + (equals(bar.start, start) ? 0.5 : 0)
    const best = current.reduce((best, bar) => (votes(bar) > votes(best) ? bar : best))
    governing.push(equals(best.start, start) ? best : { ...best, start, meter: null })
    start = best.end
  }
  return governing
}
