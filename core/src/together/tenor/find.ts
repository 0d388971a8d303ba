/** Repetition in one voice: its colores and its taleae. */
import { toText, type SignId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { repeatDisagreements } from "./disagreements.js"
import { bestSeries, seriesBeside, type Found } from "./search.js"
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
  const found = { colores: everySeries([pitchView(figurae)]), taleae: taleaeFound(figurae) }
  const { colores, taleae } = eachBesideTheOther(found, figurae)
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

const taleaeIn = (figurae: readonly Figura[]): Series[] => taleaeFound(figurae).map(seriesOf)
const taleaeFound = (figurae: readonly Figura[]): Found[] => everySeries([signView(figurae), durationView(figurae)])

interface Both<T> {
  readonly colores: readonly T[]
  readonly taleae: readonly T[]
}

/** Of a voice in which only the one was found the other is looked for at the same distance: short tenors with a slip show it only so. */
function eachBesideTheOther({ colores, taleae }: Both<Found>, figurae: readonly Figura[]): Both<Series> {
  const pitches = pitchView(figurae)
  const told = { colores: colores.map(seriesOf), taleae: taleae.map(seriesOf) }
  const first = [...colores, ...taleae][0]
  if (colores.length + taleae.length !== 1 || first === undefined) return told
  const at = (token: number): number =>
    first.view.of === "color"
      ? figurae.indexOf(pitches.figurae[token]!)
      : figurae.slice(0, token).filter(one => one.sign.pitch !== null).length
  const start = at(first.from)
  const period = at(first.from + first.template.tokens.length) - start
  const beside = (view: View): Found | undefined => seriesBeside(view, start, period)
  const other =
    first.view.of === "color" ? better([beside(signView(figurae)), beside(durationView(figurae))]) : beside(pitches)
  if (other === undefined) return told
  return first.view.of === "color" ? { ...told, taleae: [seriesOf(other)] } : { ...told, colores: [seriesOf(other)] }
}

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
