/** Durations as bands: as long as they last, with count, ticks, hatching, sleeves, gains, and torn ends. */
import { toNumber, toText, type SignId } from "../../base/index.js"
import type { Group, Item, Mark, Path, PathStep, Stroking, TextMark } from "../scene/scene.js"
import { gainOf, sleeveOf } from "./gains.js"
import { countText } from "../../reading/index.js"
import { lineWidth, typeSize, type Look } from "./options.js"
import { xAt, type PlacedVoice } from "./place.js"
import { SHOWN_DOUBT } from "./rivals.js"
import { countWidth } from "./systems.js"
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

/** The bands of a voice, then its sleeves over them. */
export function drawBands(placed: PlacedVoice, look: Look): Item[] {
  const { sounding, formed } = placed
  const bands = sounding.map(timed => bandOf(placed, timed, look))
  const [first, last] = [sounding[0], sounding.at(-1)]
  // a third may be given by a note of the system before, or the next
  const near = first && last ? formed.time.signs.slice(Math.max(0, first.index - AROUND), last.index + AROUND) : []
  const sleeves = near.flatMap(timed => sleeveMarks(placed, timed, id => formed.time.byId.get(id), look))
  return [...bands, ...sleeves]
}

/** So many signs away a note may stand that gave a part of its time to a sign here. */
const AROUND = 12

function bandOf(placed: PlacedVoice, timed: TimedSign, look: Look): Group {
  const place = bandPlace(placed, timed)
  const { left, right, top } = place
  const torn = timed.held && placed.axis.last ? tornEdge(place, look) : undefined
  const edge: Stroking = { role: "clayEdge", width: lineWidth(look, 1.5) }
  const fill = timed.sign.kind === "rest" ? {} : ({ fill: "clayFill" } as const)
  const body: Mark = torn
    ? { shape: "polygon", part: "band", points: torn, ...fill, stroke: edge }
    : {
        shape: "rect",
        part: timed.sign.kind === "rest" ? "empty-band" : "band",
        x: left,
        y: top,
        width: right - left,
        height: look.band,
        ...fill,
        stroke: edge,
      }
  const count = countOf(timed, place, look)
  return {
    shape: "group",
    part: "duration",
    sign: timed.sign.id,
    data: { onset: toText(timed.onset), duration: toText(timed.duration) },
    content: [
      body,
      ...ticks(placed, timed, look),
      ...hatch(timed, place, count, look),
      ...gain(placed, timed, look),
      ...(count ? [count] : []),
      ...seal(placed, timed, place, look),
    ],
  }
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

/** A band that goes on from the system before has no count again. */
export function countOf({ held, duration }: TimedSign, place: BandPlace, look: Look): TextMark | undefined {
  const text = held ? "held" : countText(duration)
  const length = countWidth(text, look)
  const inset = 7 * look.size
  if (place.openLeft || place.right - place.left < length + 4 * look.size) return undefined
  const room = place.right - place.left - length
  return {
    shape: "text",
    part: "count",
    x: place.left + Math.min(inset, room / 2),
    y: place.top + look.band / 2 + 9 * look.size,
    text,
    type: { family: "figures", size: typeSize(look, 26), weight: held ? 400 : 600 },
    length,
    fill: "ink",
  }
}

/** At the parts into which its level divides. */
function ticks(placed: PlacedVoice, { whole, parts, at, lasts, sign, held }: TimedSign, look: Look): Mark[] {
  const step = whole && parts ? toNumber(whole) / parts : 0
  if (step * placed.axis.scale < 14 * look.size || held || sign.kind === "rest") return []
  const foot = placed.bandTop + look.band
  const path: PathStep[] = []
  for (let n = 1; n * step < lasts - 1e-9; n++) {
    const moment = at + n * step
    if (moment <= placed.axis.from || moment >= placed.axis.to) continue
    const x = xAt(placed.axis, moment)
    path.push(["M", x, foot - 7 * look.size], ["L", x, foot])
  }
  const stroke: Stroking = { role: "clayEdge", width: lineWidth(look, 1.25) }
  return path.length === 0 ? [] : [{ shape: "path", part: "tick", path, stroke }]
}

/** Px between the lines of the hatching: 7 at even odds, 14 at a quarter; undefined where doubt is not shown. */
export function hatchSpacing(doubt: number, look: Pick<Look, "size">): number | undefined {
  if (doubt < SHOWN_DOUBT) return undefined
  return Math.min(28, 7 / Math.min(1, doubt)) * look.size
}

function hatch({ reading, held }: TimedSign, place: BandPlace, count: TextMark | undefined, look: Look): Mark[] {
  const spacing = held ? undefined : hatchSpacing(reading.doubt, look)
  if (spacing === undefined) return []
  const from = count ? count.x + count.length! + 5 * look.size : place.left
  const path = hatchPath(from, place.right, place.top, place.top + look.band, spacing)
  return path.length === 0
    ? []
    : [{ shape: "path", part: "doubt", path, stroke: { role: "clayEdge", width: lineWidth(look, 1.4) } }]
}

/** Rising lines at 45°, so far apart along the band, cut to the rectangle. */
export function hatchPath(left: number, right: number, top: number, bottom: number, spacing: number): Path {
  const steps: PathStep[] = []
  const height = bottom - top
  for (let foot = left - height * 0.55; foot < right; foot += spacing) {
    const x1 = Math.max(foot, left)
    const x2 = Math.min(foot + height, right)
    if (x2 - x1 < 1) continue
    steps.push(["M", x1, bottom - (x1 - foot)], ["L", x2, bottom - (x2 - foot)])
  }
  return steps
}

/** What an altered note gained: a frame within the frame, and a plus. */
function gain({ axis, bandTop }: PlacedVoice, timed: TimedSign, look: Look): Mark[] {
  const gained = gainOf(timed)
  if (!gained || gained.to > axis.to + 1e-9 || gained.from < axis.from - 1e-9) return []
  const inset = 4.5 * look.size
  const [left, right] = [xAt(axis, gained.from) + inset / 2, xAt(axis, gained.to) - inset]
  const stroke: Stroking = { role: "clayEdge", width: lineWidth(look, 1.5) }
  const frame: Mark = {
    shape: "rect",
    part: "gain",
    x: left,
    y: bandTop + inset,
    width: right - left,
    height: look.band - 2 * inset,
    fill: "ground",
    stroke,
  }
  const [x, y, arm] = [(left + right) / 2, bandTop + look.band / 2, 6 * look.size]
  const plus: Path = [
    ["M", x - arm, y],
    ["L", x + arm, y],
    ["M", x, y - arm],
    ["L", x, y + arm],
  ]
  if (right - left < 2.6 * arm) return [frame]
  return [frame, { shape: "path", part: "plus", path: plus, stroke: { role: "ink", width: lineWidth(look, 2.25) } }]
}

function seal({ formed }: PlacedVoice, { sign, reading }: TimedSign, place: BandPlace, look: Look): Mark[] {
  if (place.openRight || !(formed.time.decided.has(sign.id) || reading.decidedBy === "decision")) return []
  const half = 8 * look.size
  const x = place.right - half - 5 * look.size
  const y = place.top + look.band / 2
  const stroke: Stroking = { role: "ink", width: lineWidth(look, 1.75) }
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
function sleeveMarks(
  placed: PlacedVoice,
  timed: TimedSign,
  find: (id: SignId) => TimedSign | undefined,
  look: Look,
): Item[] {
  const { axis, bandTop } = placed
  const sleeve = sleeveOf(timed, find)
  if (!sleeve || sleeve.to <= axis.from + 1e-9 || sleeve.from >= axis.to - 1e-9) return []
  const clip = (at: number) => Math.min(axis.to, Math.max(axis.from, at))
  const end = 2.5 * look.size
  const [top, bottom] = [bandTop - 5 * look.size, bandTop + look.band + 5 * look.size]
  const x = (at: number) => xAt(axis, clip(at)) + (at === sleeve.from ? end / 2 : 0) - (at === sleeve.to ? end : 0)
  const solid: PathStep[] = []
  const broken: PathStep[] = []
  const moments = [sleeve.from, ...sleeve.given.flatMap(({ from, to }) => [from, to]), sleeve.to]
  const edges = [...new Set(moments)].sort((one, other) => one - other)
  edges.slice(1).forEach((to, i) => {
    const from = edges[i]!
    const [x1, x2] = [x(from), x(to)]
    if (x2 - x1 < 0.5) return
    const isGiven = sleeve.given.some(part => part.from <= from && part.to >= to)
    ;(isGiven ? broken : solid).push(["M", x1, top], ["L", x2, top], ["M", x1, bottom], ["L", x2, bottom])
  })
  const upright = (at: number) => {
    if (at < axis.from - 1e-9 || at > axis.to + 1e-9) return
    const isGiven = sleeve.given.some(part => part.from === at || part.to === at)
    ;(isGiven ? broken : solid).push(["M", x(at), top], ["L", x(at), bottom])
  }
  upright(sleeve.from)
  upright(sleeve.to)
  const stroke: Stroking = { role: "ink", width: lineWidth(look, 2.5), cap: "butt" }
  const dash = [7 * look.size, 5 * look.size]
  const marks: Mark[] = [
    ...(solid.length > 0 ? [{ shape: "path", part: "kept", path: solid, stroke } as const] : []),
    ...(broken.length > 0
      ? [{ shape: "path", part: "given", path: broken, stroke: { ...stroke, dash } } as const]
      : []),
  ]
  return [{ shape: "group", part: "sleeve", sign: timed.sign.id, content: marks }]
}
