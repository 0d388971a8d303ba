/** The sign that is asked about: cartouche, foot, thread to its reason, and its causes joined to it. */
import type { SignId } from "../../base/index.js"
import type { Box, Item, Mark, Path, PathStep, Stroking } from "../scene/scene.js"
import { bandPlace } from "./bands.js"
import { movedBox } from "./form.js"
import { lineWidth, type Look } from "./options.js"
import type { PlacedSign, PlacedVoice } from "./place.js"

/** `reasonY` is where the thread ends, if there is one; the voices stand in their order from top to bottom. */
export function drawSelection(
  voices: readonly PlacedVoice[],
  id: SignId,
  reasonY: number | undefined,
  look: Look,
): Item[] {
  const at = voices.findIndex(one => one.signs.some(({ timed }) => timed.sign.id === id))
  const voice = voices[at]
  const chosen = voice?.signs.find(({ timed }) => timed.sign.id === id)
  if (!voice || !chosen) return []
  const box = cartoucheBox(voice, chosen, look)
  const stroke: Stroking = { role: "blue", width: lineWidth(look, 3), join: "miter" }
  const cartouche: Mark = {
    shape: "rect",
    part: "cartouche",
    x: box.left,
    y: box.top,
    width: box.right - box.left,
    height: box.bottom - box.top,
    stroke,
  }
  const content: Item[] = [
    cartouche,
    ...foot(voice, chosen, look),
    ...(reasonY === undefined ? [] : thread(voices, at, chosen, reasonY, look)),
    ...causeItems(voice, chosen, box, look),
  ]
  return [{ shape: "group", part: "selection", data: { of: id }, content }]
}

function bodyOf({ staffBottom }: PlacedVoice, { form, x }: PlacedSign): Box {
  return movedBox(form.body, x, staffBottom)
}

function cartoucheBox(voice: PlacedVoice, chosen: PlacedSign, { size }: Look): Box {
  const { left, top, right, bottom } = bodyOf(voice, chosen)
  const room = 7 * size
  return { left: left - room, top: top - room, right: right + room, bottom: bottom + room }
}

function foot(voice: PlacedVoice, { timed }: PlacedSign, look: Look): Mark[] {
  if (timed.lasts === 0) return []
  const { left, right } = bandPlace(voice, timed)
  const y = voice.bandTop + look.band - 3 * look.size
  const stroke: Stroking = { role: "blue", width: lineWidth(look, 6) }
  return [{ shape: "line", part: "foot", x1: left + 1, x2: right - 1, y1: y, y2: y, stroke }]
}

/** In the white between areas only: where there is music it stops, and goes on below. */
function thread(
  voices: readonly PlacedVoice[],
  at: number,
  { timed, x }: PlacedSign,
  reasonY: number,
  look: Look,
): Mark[] {
  const own = voices[at]!
  const { left, right } = timed.lasts > 0 ? bandPlace(own, timed) : { left: x, right: x }
  const wide = right - left > 84 * look.size && own.storeys.length === 0
  const middle = wide ? Math.max((left + right) / 2, left + 62 * look.size) : (left + right) / 2
  const from = wide ? own.bandTop + look.band : own.bottom
  const stops = [from, ...voices.slice(at + 1).flatMap(voice => [voice.top, voice.bottom]), reasonY]
  const stroke: Stroking = { role: "blue", width: lineWidth(look, 2) }
  const marks: Mark[] = []
  for (let i = 0; i + 1 < stops.length; i += 2)
    if (stops[i + 1]! > stops[i]! + 1)
      marks.push({
        shape: "line",
        part: "thread-to-reason",
        x1: middle,
        x2: middle,
        y1: stops[i]!,
        y2: stops[i + 1]!,
        stroke,
      })
  return marks
}

interface Cause {
  readonly x: number
  readonly y: number
}

/** A bead under each cause; their lines run in the lane between staff and band and go up together into one head. */
export function causeItems(voice: PlacedVoice, chosen: PlacedSign, box: Box, look: Look): Item[] {
  const found = chosen.timed.reading.because.flatMap(id => causeAt(voice, id, look))
  if (found.length === 0) return []
  const lane = voice.bandTop - 14 * look.size
  const x = (box.left + box.right) / 2
  const tip = box.bottom + 3 * look.size
  const round = 12 * look.size
  const stroke: Stroking = { role: "blue", width: lineWidth(look, 2.5), join: "round", cap: "round" }
  const lines: Path = found.flatMap(cause => elbow(cause, x, lane, tip + 10 * look.size, round))
  const head: Mark = {
    shape: "polygon",
    part: "effect",
    points: [
      [x, tip],
      [x + 7 * look.size, tip + 13 * look.size],
      [x - 7 * look.size, tip + 13 * look.size],
    ],
    fill: "blue",
  }
  const beads = found.map<Mark>(cause => ({
    shape: "circle",
    part: "cause",
    x: cause.x,
    y: cause.y,
    radius: 5 * look.size,
    fill: "blue",
  }))
  return [{ shape: "path", part: "because", path: lines, stroke }, ...beads, head]
}

function causeAt(voice: PlacedVoice, id: SignId, look: Look): Cause[] {
  for (const placed of voice.signs) {
    const isOwn = placed.timed.sign.id === id
    const dot = placed.timed.after.some(one => one.id === id)
    if (!isOwn && !dot) continue
    const { left, right, bottom } = bodyOf(voice, placed)
    const box = movedBox(placed.form.box, placed.x, voice.staffBottom)
    if (dot)
      return [{ x: box.right - 4 * look.size, y: Math.max(bottom - 6 * look.size, voice.staffTop) + 6 * look.size }]
    return [{ x: (left + right) / 2, y: Math.max(bottom, stemBelow(placed, box, bottom)) + 8 * look.size }]
  }
  return []
}
/** A stem down at the side of a head is not in the way of a line from its middle. */
const stemBelow = ({ timed }: PlacedSign, box: Box, bottom: number): number =>
  timed.reading.level === "longa" || timed.reading.level === "maxima" ? bottom : box.bottom

/** Down into the lane, along it, and up. */
function elbow({ x: from, y }: Cause, to: number, lane: number, tip: number, round: number): PathStep[] {
  const side = to > from ? 1 : -1
  const turn = Math.min(round, Math.abs(to - from) / 2)
  return [
    ["M", from, y],
    ["L", from, lane - turn],
    ["Q", from, lane, from + side * turn, lane],
    ["L", to - side * turn, lane],
    ["Q", to, lane, to, lane - turn],
    ["L", to, tip],
  ]
}
