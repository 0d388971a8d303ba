/** Repetition in one voice: its colores and its taleae. */
import { toText, type SignId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { repeatDisagreements } from "./disagreements.js"
import { bestSeries, type Found } from "./search.js"
import { seriesOf } from "./series.js"
import type { Difference, Repetition, Series, Spot } from "./types.js"
import { durationView, figuraeOf, pitchView, signView, type Figura, type View } from "./views.js"

/** A stretch beside a series that is worth looking at on its own: two statements of four signs. */
const WORTH = 8
/** How much more durations must save than written signs before the series is told by them. */
const BETTER = 1.25

/**
 * Color and talea of the voice that the reading belongs to; none where nothing comes again by design. Works for any
 * voice. Takes time in proportion to the square of the voice's length with a very small factor (2000 notes: under 0.2 s).
 */
export function findRepetition(page: Page, reading: Reading): Repetition {
  const voice = page.voices.find(one => one.id === reading.voice)
  const figurae = voice ? figuraeOf(voice, reading) : []
  const colores = everySeries([pitchView(figurae)]).map(seriesOf)
  const taleae = taleaeIn(figurae)
  const durations = new Map(figurae.filter(one => !one.sign.held).map(({ sign }) => [sign.id, sign.duration]))
  const withDurations = taleae.map(series => withDurationDifferences(series, id => durations.get(id)))
  const { label, unit } = reading
  return { voice: reading.voice, label, unit, colores, taleae: withDurations, spots: spotsOf(withDurations) }
}

/** The taleae alone, with nothing told of how their statements differ: enough to ask where durations disagree. */
export function findTaleae(page: Page, reading: Reading): readonly Series[] {
  const voice = page.voices.find(one => one.id === reading.voice)
  return voice ? taleaeIn(figuraeOf(voice, reading)) : []
}

const taleaeIn = (figurae: readonly Figura[]): Series[] =>
  everySeries([signView(figurae), durationView(figurae)]).map(seriesOf)

/** The best series of the voice, then what is before and behind it. */
function everySeries(views: readonly View[]): Found[] {
  const search = (from: number, to: number): Found[] => {
    if (to - from < WORTH) return []
    const best = better(views.map(view => bestSeries(view, [from, to])))
    return best ? [...search(from, best.from), best, ...search(best.way.end, to)] : []
  }
  return search(0, views[0]!.tokens.length)
}

/** By written signs, unless durations tell clearly more. */
function better([first, second]: readonly (Found | undefined)[]): Found | undefined {
  if (!first || !second) return first ?? second
  return second.gain > first.gain * BETTER ? second : first
}

function withDurationDifferences(series: Series, durations: Parameters<typeof repeatDisagreements>[1]): Series {
  if (series.by !== "signs") return series
  const found = repeatDisagreements({ taleae: [series] }, durations).places.map(
    ({ statement, place, sign, own, others, fellows, odd }): Difference => ({
      statement,
      place,
      sign,
      kind: "duration",
      own: toText(own),
      others: toText(others),
      fellows,
      odd,
    }),
  )
  const differences = [...series.differences, ...found].toSorted(
    (a, b) => a.statement - b.statement || a.place - b.place,
  )
  return { ...series, differences }
}

function spotsOf(taleae: readonly Series[]): Map<SignId, Spot> {
  const spots = new Map<SignId, Spot>()
  for (const series of taleae)
    series.statements.forEach(({ signs }, statement) =>
      signs.forEach((sign, place) => {
        if (sign) spots.set(sign, { series, statement, place })
      }),
    )
  return spots
}
