/** Durations as bands: as long as they last, with count, ticks, hatching, sleeves, gains, and torn ends. */
import { toNumber, toText } from "../../base/index.js"
import { keptBy, Lines, type Hand } from "../scene/hand.js"
import type { Item, Mark, TextMark, TypeStyle } from "../scene/scene.js"
import { eachSleeve, gainOf, type Sleeve } from "./gains.js"
import { countText } from "../../reading/index.js"
import type { Look } from "./options.js"
import { xAt, type PlacedVoice } from "./place.js"
import { SHOWN_DOUBT } from "./rivals.js"
import { countWidth } from "./formed.js"
import type { TimedSign } from "./timeline.js"

export interface BandPlace {
  readonly left: number
  readonly right: number
  readonly top: number
  /** It began before this system, or goes on after it. */
  readonly openLeft: boolean
  readonly openRight: boolean
}

export function bandPlace({ axis, bandTop }: PlacedVoice, { at, lasts }: TimedSign): BandPlace {
  return {
    left: xAt(axis, Math.max(at, axis.from)),
    right: xAt(axis, Math.min(at + lasts, axis.to)),
    top: bandTop,
    openLeft: at < axis.from - 1e-9,
    openRight: at + lasts > axis.to + 1e-9,
  }
}

/** The bands of a voice, then its ticks and its sleeves over them. */
export const drawBands = (placed: PlacedVoice, look: Look): Item[] => keptBy(hand => addBands(placed, look, hand))

export function addBands(placed: PlacedVoice, look: Look, hand: Hand): void {
  const { sounding, formed, begins, signs } = placed
  for (const timed of sounding) {
    addBand(placed, timed, look, hand)
    addTicks(placed, timed, look, TICKS)
  }
  TICKS.drawBy(hand, "tick", look.pens.tick)
  if (sounding.length === 0) return
  // a third may be given by a note of the system before, or the next
  const end = Math.min(formed.time.signs.length, begins + signs.length + AROUND)
  eachSleeve(formed.time, Math.max(0, begins - AROUND), end, (timed, sleeve) =>
    sleeveMarks(placed, timed, sleeve, look, hand),
  )
}

const TICKS = new Lines()

/** So many signs away a note may stand that gave a part of its time to a sign here. */
export const AROUND = 12

function addBand(placed: PlacedVoice, timed: TimedSign, look: Look, hand: Hand): void {
  const place = bandPlace(placed, timed)
  const { left, right, top } = place
  const data = { onset: toText(timed.onset), duration: toText(timed.duration) }
  hand.open("duration", timed.sign.id, data)
  const [width, height, stroke] = [right - left, look.band, look.pens.edge]
  if (timed.held && placed.axis.last)
    hand.item({ shape: "polygon", part: "band", points: tornEdge(place, look), fill: "clayFill", stroke })
  else if (timed.sign.kind === "rest") hand.rect("empty-band", left, top, width, height, undefined, stroke)
  else hand.rect("band", left, top, width, height, "clayFill", stroke)
  const text = countIn(timed)
  const length = countWidth(text, look)
  const x = countX(place, length, look)
  const hatched = hatch(timed, place, Number.isNaN(x) ? left : x + length + 5 * look.size, look)
  if (hatched) hand.item(hatched)
  for (const mark of gain(placed, timed, look)) hand.item(mark)
  if (!Number.isNaN(x))
    hand.words("count", undefined, x, countY(place, look), text, countType(timed, look), "start", length, "ink")
  for (const mark of seal(placed, timed, place, look)) hand.item(mark)
  hand.close()
}

/** A zigzag where a final is held as long as one likes. */
function tornEdge({ left, right, top }: BandPlace, { band, size }: Look): (readonly [number, number])[] {
  const teeth = 5
  const deep = 6 * size
  const edge = Array.from(
    { length: teeth + 1 },
    (_, i) => [right - (i % 2 === 0 ? deep : 0) - 1, top + (band * i) / teeth] as const,
  )
  return [[left, top], ...edge, [left, top + band]]
}

const countIn = ({ held, duration }: TimedSign): string => (held ? "held" : countText(duration))
const countType = ({ held }: TimedSign, { types }: Look): TypeStyle => (held ? types.held : types.count)
const countY = ({ top }: BandPlace, look: Look): number => top + look.band / 2 + 9 * look.size

/** A band that goes on from the system before has no count again, nor one that is too narrow: NaN. */
function countX({ left, right, openLeft }: BandPlace, length: number, { size }: Look): number {
  if (openLeft || right - left < length + 4 * size) return NaN
  return left + Math.min(7 * size, (right - left - length) / 2)
}

/** The count of a band, where it has one. */
export function countOf(timed: TimedSign, place: BandPlace, look: Look): TextMark | undefined {
  const text = countIn(timed)
  const length = countWidth(text, look)
  const x = countX(place, length, look)
  if (Number.isNaN(x)) return undefined
  const type = countType(timed, look)
  return { shape: "text", part: "count", x, y: countY(place, look), text, type, length, fill: "ink" }
}

/** At the parts into which its level divides. */
function addTicks(
  { axis, bandTop }: PlacedVoice,
  { whole, parts, at, lasts, sign, held }: TimedSign,
  look: Look,
  lines: Lines,
): void {
  const step = whole && parts ? toNumber(whole) / parts : 0
  if (step * axis.scale < 14 * look.size || held || sign.kind === "rest") return
  const foot = bandTop + look.band
  for (let n = 1; n * step < lasts - 1e-9; n++) {
    const moment = at + n * step
    if (moment <= axis.from || moment >= axis.to) continue
    const x = xAt(axis, moment)
    lines.add(x, foot - 7 * look.size, x, foot)
  }
}

/** Px between the lines of the hatching: 7 at even odds, 14 at a quarter; undefined where doubt is not shown. */
export function hatchSpacing(doubt: number, look: Pick<Look, "size">): number | undefined {
  if (doubt < SHOWN_DOUBT) return undefined
  return Math.min(28, 7 / Math.min(1, doubt)) * look.size
}

function hatch({ reading, held }: TimedSign, place: BandPlace, from: number, look: Look): Mark | undefined {
  const spacing = held ? undefined : hatchSpacing(reading.doubt, look)
  if (spacing === undefined) return undefined
  const points = hatchPoints(from, place.right, place.top, place.top + look.band, spacing)
  return points.length > 0 ? { shape: "strokes", part: "doubt", points, stroke: look.pens.hatch } : undefined
}
const NONE: readonly Mark[] = []

/** Rising lines at 45°, so far apart along the band, cut to the rectangle. */
export function hatchPoints(left: number, right: number, top: number, bottom: number, spacing: number): number[] {
  const points: number[] = []
  const height = bottom - top
  for (let foot = left - height * 0.55; foot < right; foot += spacing) {
    const x1 = Math.max(foot, left)
    const x2 = Math.min(foot + height, right)
    if (x2 - x1 < 1) continue
    points.push(x1, bottom - (x1 - foot), x2, bottom - (x2 - foot))
  }
  return points
}

/** What an altered note gained: a frame within the frame, and a plus. */
function gain({ axis, bandTop }: PlacedVoice, timed: TimedSign, look: Look): readonly Mark[] {
  const gained = gainOf(timed)
  if (!gained || gained.to > axis.to + 1e-9 || gained.from < axis.from - 1e-9) return NONE
  const inset = 4.5 * look.size
  const [left, right] = [xAt(axis, gained.from) + inset / 2, xAt(axis, gained.to) - inset]
  const frame: Mark = {
    shape: "rect",
    part: "gain",
    x: left,
    y: bandTop + inset,
    width: right - left,
    height: look.band - 2 * inset,
    fill: "ground",
    stroke: look.pens.edge,
  }
  const [x, y, arm] = [(left + right) / 2, bandTop + look.band / 2, plusArm(right - left, look)]
  const points = [x - arm, y, x + arm, y, x, y - arm, x, y + arm]
  return arm < LEAST_ARM ? [frame] : [frame, { shape: "strokes", part: "plus", points, stroke: look.pens.plus }]
}

/** In a narrow frame the plus is smaller; under three px none could be seen. */
export const plusArm = (width: number, { size }: Pick<Look, "size">): number => Math.min(6 * size, width / 2.6)
const LEAST_ARM = 3

function seal({ formed }: PlacedVoice, { sign, reading }: TimedSign, place: BandPlace, look: Look): readonly Mark[] {
  if (place.openRight || !(formed.time.decided.has(sign.id) || reading.decidedBy === "decision")) return NONE
  const half = 8 * look.size
  const x = place.right - half - 5 * look.size
  const y = place.top + look.band / 2
  const stroke = look.pens.seal
  const points = [
    [x - half, y],
    [x, y - half],
    [x + half, y],
    [x, y + half],
  ] as const
  return [
    { shape: "polygon", part: "seal", points, fill: "clayFill", stroke },
    { shape: "line", part: "seal-bar", x1: x - half, y1: y, x2: x + half, y2: y, stroke },
  ]
}

/** Round what the note would last whole: solid over what is kept, broken over what it gave. */
function sleeveMarks(placed: PlacedVoice, timed: TimedSign, sleeve: Sleeve, look: Look, hand: Hand): void {
  const { axis } = placed
  if (sleeve.to <= axis.from + 1e-9 || sleeve.from >= axis.to - 1e-9) return
  const [kept, given] = [KEPT, GIVEN]
  let at = sleeve.from
  for (const part of sleeve.given) {
    sleeveStretch(placed, sleeve, at, part.from, look, kept)
    sleeveStretch(placed, sleeve, part.from, part.to, look, given)
    at = part.to
  }
  sleeveStretch(placed, sleeve, at, sleeve.to, look, kept)
  for (const end of [sleeve.from, sleeve.to]) {
    if (end < axis.from - 1e-9 || end > axis.to + 1e-9) continue
    const isGiven = sleeve.given.some(part => part.from === end || part.to === end)
    const { top, bottom } = sleeveEdges(placed, look)
    const x = sleeveX(placed, sleeve, end, look)
    ;(isGiven ? given : kept).add(x, top, x, bottom)
  }
  hand.open("sleeve", timed.sign.id, undefined)
  kept.drawBy(hand, "kept", look.pens.kept)
  given.drawBy(hand, "given", look.pens.given)
  hand.close()
}

const KEPT = new Lines()
const GIVEN = new Lines()

const sleeveEdges = ({ bandTop }: PlacedVoice, { size, band }: Look): { top: number; bottom: number } => ({
  top: bandTop - 5 * size,
  bottom: bandTop + band + 5 * size,
})

/** Within the system; its ends keep clear of those of its neighbours. */
function sleeveX({ axis }: PlacedVoice, { from, to }: Sleeve, at: number, { size }: Look): number {
  const end = 2.5 * size
  return xAt(axis, Math.min(axis.to, Math.max(axis.from, at))) + (at === from ? end / 2 : 0) - (at === to ? end : 0)
}

function sleeveStretch(placed: PlacedVoice, sleeve: Sleeve, from: number, to: number, look: Look, lines: Lines): void {
  const [x1, x2] = [sleeveX(placed, sleeve, from, look), sleeveX(placed, sleeve, to, look)]
  if (x2 - x1 < 0.5) return
  const { top, bottom } = sleeveEdges(placed, look)
  lines.add(x1, top, x2, top)
  lines.add(x1, bottom, x2, bottom)
}
