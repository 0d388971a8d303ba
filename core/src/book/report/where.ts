/** Where a sign stands: in the score by its bar, in its voice by its number, on the page by folio and staff. */
import { compare, times, type Rational, type SignId } from "../../base/index.js"
import { flatSigns, locateAll, type Page, type Place } from "../../page/index.js"
import type { NotatedScore } from "../../score/index.js"

export interface Where {
  readonly bar: string
  readonly voice: string
  readonly number: string
  readonly place: string
  /** For putting lines in order: bar, voice, place in the voice. */
  readonly order: readonly [bar: number, voice: number, at: number]
}
export type WhereOf = (signs: readonly SignId[]) => Where

interface Spot {
  readonly voice: number
  /** Position among the flat signs of the voice. */
  readonly at: number
  /** Number of the note or rest, or of the one before; and whether it is one itself. */
  readonly number: number
  readonly lasts: boolean
  readonly onset: Rational | undefined
}

/** For asking often: the page is gone through once. A sign sung several times counts where it is sung first. */
export function whereIn(page: Page, notated: NotatedScore): WhereOf {
  const spots = spotsIn(page, notated)
  const places = locateAll(page)
  const bars = barsIn(notated)
  return signs => {
    const known = signs.flatMap(id => spots.get(id) ?? []).sort((a, b) => a.at - b.at)
    const [first, last] = [known[0], known.at(-1)]
    if (!first || !last) return NOWHERE
    const label = page.voices[first.voice]!
    const from = bars(first.onset)
    return {
      bar: span(from, bars(last.onset)),
      voice: label.label || label.n,
      number: numberOf(first, last),
      place: placeText(signs.map(id => places.get(id)).find(one => one !== undefined)),
      order: [from?.[0] ?? Infinity, first.voice, first.at],
    }
  }
}

const NOWHERE: Where = { bar: "", voice: "", number: "", place: "", order: [Infinity, Infinity, Infinity] }

function spotsIn(page: Page, { score }: NotatedScore): Map<SignId, Spot> {
  const onsets = new Map<SignId, Rational>()
  for (const voice of score.voices)
    for (const { sign, onset } of voice.events) if (sign !== null && !onsets.has(sign)) onsets.set(sign, onset)
  const spots = new Map<SignId, Spot>()
  page.voices.forEach((voice, v) => {
    let number = 0
    let onset: Rational | undefined
    flatSigns(voice).forEach(({ sign, ligature }, at) => {
      const lasts = sign.kind === "note" || sign.kind === "rest"
      if (lasts) number++
      onset = onsets.get(sign.id) ?? onset
      const spot = { voice: v, at, number, lasts, onset }
      if (ligature && !spots.has(ligature.id)) spots.set(ligature.id, spot)
      spots.set(sign.id, spot)
    })
  })
  return spots
}

type Bars = readonly [from: number, to: number]

/** The bar, or where a stretch of several bars has no line of all voices, the first and the last of them. */
export function barsIn({ blocks, wholesPerUnit }: NotatedScore): (onset: Rational | undefined) => Bars | undefined {
  return onset => {
    if (onset === undefined || blocks.length === 0) return undefined
    const time = times(onset, wholesPerUnit)
    let [low, high] = [0, blocks.length - 1]
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (compare(blocks[middle]!.start, time) <= 0) low = middle
      else high = middle - 1
    }
    const { n } = blocks[low]!
    return [n, Math.max(n, (blocks[low + 1]?.n ?? n + 1) - 1)]
  }
}

function span(from: Bars | undefined, to: Bars | undefined): string {
  const first = from?.[0] ?? to?.[0]
  const last = to?.[1] ?? from?.[1]
  if (first === undefined || last === undefined) return ""
  return first === last ? `${first}` : `${first}–${last}`
}

function numberOf(first: Spot, last: Spot): string {
  if (first.lasts && last.lasts)
    return first.number === last.number ? `${first.number}` : `${first.number}–${last.number}`
  if (first.lasts) return first.number === last.number ? `${first.number}` : `${first.number}–${last.number}`
  if (last.lasts && last.number > first.number)
    return last.number === first.number + 1 ? `${last.number}` : `${first.number + 1}–${last.number}`
  return first.number === 0 ? "at the beginning" : `after ${first.number}`
}

function placeText(place: Place | undefined): string {
  if (!place) return ""
  const folio = place.folio === undefined ? [] : [`f. ${place.folio}`]
  const column = place.column === undefined ? [] : [`column ${place.column}`]
  return [...folio, ...column, `staff ${place.staff}`, `sign ${place.index}`].join(", ")
}
