/** The sign that is asked about: cartouche, foot, thread to its reason, and its causes joined to it. */
import type { SignId } from "../../base/index.js"
import type { Box, Item, Mark, Path, PathStep, Stroking } from "../scene/scene.js"
import { bandPlace } from "./bands.js"
import { movedBox } from "./form.js"
import { lineWidth, type Look } from "./options.js"
import type { PlacedSign, PlacedVoice } from "./place.js"
import type { TimedSign } from "./timeline.js"

/**
 * What is drawn for it in one system: all of it where it stands, and where only its causes do, these. `reasonY` is where the
 * thread ends, if there is one; the voices stand in their order from top to bottom.
 */
export function drawSelection(
  voices: readonly PlacedVoice[],
  id: SignId,
  reasonY: number | undefined,
  look: Look,
): Item[] {
  const at = voices.findIndex(one => one.formed.time.byId.has(id))
  const voice = voices[at]
  if (!voice) return []
  const chosen = voice.signs.find(({ timed }) => timed.sign.id === id)
  const heard = ringsOf(voices, voice.formed.time.byId.get(id)!, look)
  const content = chosen
    ? [...marked(voices, at, chosen, reasonY, look), ...heard]
    : [...leaving(voice, voice.formed.time.byId.get(id)!, look), ...heard]
  return content.length === 0 ? [] : [{ shape: "group", part: "selection", data: { of: id }, content }]
}

/** Whether a system has anything of it: the sign, or one of its causes. */
export function tellsOf(voices: readonly PlacedVoice[], id: SignId): boolean {
  const timed = voices.flatMap(({ formed }) => formed.time.byId.get(id) ?? [])[0]
  if (!timed) return false
  const told = new Set<SignId>([id, ...timed.reading.because, ...(timed.reading.others?.signs ?? [])])
  return voices.some(({ signs }) => signs.some(one => told.has(one.timed.sign.id) || dotOf(one, told)))
}
const dotOf = ({ timed }: PlacedSign, told: ReadonlySet<SignId>): boolean => timed.after.some(dot => told.has(dot.id))

function marked(
  voices: readonly PlacedVoice[],
  at: number,
  chosen: PlacedSign,
  reasonY: number | undefined,
  look: Look,
): Item[] {
  const voice = voices[at]!
  const box = cartoucheBox(voice, chosen, look)
  const cartouche: Mark = {
    shape: "rect",
    part: "cartouche",
    x: box.left,
    y: box.top,
    width: box.right - box.left,
    height: box.bottom - box.top,
    stroke: { role: "blue", width: lineWidth(look, 3), join: "miter" },
  }
  return [
    cartouche,
    ...foot(voice, chosen, look),
    ...(reasonY === undefined ? [] : thread(voices, at, chosen, reasonY, look)),
    ...causeItems(voice, chosen, box, look),
  ]
}

/** A ring under each sign of another voice with which it was heard. */
function ringsOf(voices: readonly PlacedVoice[], { reading }: TimedSign, look: Look): Mark[] {
  const told = new Set(reading.others?.signs)
  if (told.size === 0) return []
  return voices.flatMap(voice =>
    voice.signs.flatMap((placed): Mark[] => {
      if (!told.has(placed.timed.sign.id)) return []
      const { x, y } = beadUnder(voice, placed, look)
      const stroke = { role: "blue", width: lineWidth(look, 2.5) } as const
      return [{ shape: "circle", part: "heard", x, y, radius: 4.5 * look.size, stroke }]
    }),
  )
}

function bodyOf({ staffBottom }: Pick<PlacedVoice, "staffBottom">, { form, x }: PlacedSign): Box {
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

/** Where a line begins: at a bead, or at an edge of the system behind which the cause lies. */
interface Cause {
  readonly x: number
  readonly y: number
  readonly far?: boolean
}

/** Lines of causes run so far over the bands. */
export const CAUSE_LANE = 14
const laneOf = ({ bandTop }: PlacedVoice, { size }: Look): number => bandTop - CAUSE_LANE * size

/** A bead under each cause; their lines run in the lane between staff and band and go up together into one head. */
export function causeItems(
  voice: PlacedVoice,
  chosen: PlacedSign,
  box: Box,
  look: Look,
  lane = laneOf(voice, look),
): Item[] {
  const found = chosen.timed.reading.because.flatMap(id => causeAt(voice, id, look) ?? edgeFor(voice, id, look))
  if (found.length === 0) return []
  const x = (box.left + box.right) / 2
  const tip = box.bottom + 3 * look.size
  const round = 12 * look.size
  const top = tip + 10 * look.size
  const near = found.filter(cause => !cause.far)
  return [
    ...lines("because", near.map(cause => elbow(cause, x, lane, top, round)).flat(), look),
    ...found.filter(cause => cause.far).flatMap(cause => arriving(cause, x, lane, top, round, look)),
    ...near.map(cause => bead(cause, look)),
    arrowHead(x, tip, "up", look),
  ]
}

/** In a system that has only causes of it: they go out at the side on which the sign stands. */
function leaving(voice: PlacedVoice, { at, reading }: TimedSign, look: Look): Item[] {
  const { axis } = voice
  const found = reading.because.flatMap(id => causeAt(voice, id, look) ?? [])
  if (found.length === 0) return []
  const lane = laneOf(voice, look)
  const right = at >= axis.to
  const edge = right ? axis.right - 4 * look.size : axis.left + 4 * look.size
  const back = (right ? -1 : 1) * 12 * look.size
  const round = 12 * look.size
  const paths = found.flatMap(({ x, y }): PathStep[] => {
    const turn = Math.min(round, Math.abs(edge - x) / 2) * (right ? 1 : -1)
    return [
      ["M", x, y],
      ["L", x, lane - Math.abs(turn)],
      ["Q", x, lane, x + turn, lane],
      ["L", edge + back, lane],
    ]
  })
  return [
    ...lines("because", paths, look),
    ...found.map(cause => bead(cause, look)),
    arrowHead(edge, lane, right ? "right" : "left", look),
  ]
}

/** From behind the edge, broken at first, along the lane and up. */
function arriving({ x: from }: Cause, to: number, lane: number, tip: number, round: number, look: Look): Item[] {
  const side = to > from ? 1 : -1
  const broken = from + side * Math.min(30 * look.size, Math.abs(to - from) / 2)
  const turn = Math.min(round, Math.abs(to - broken) / 2) * side
  const solid: PathStep[] = [
    ["M", broken, lane],
    ["L", to - turn, lane],
    ["Q", to, lane, to, lane - Math.abs(turn)],
    ["L", to, tip],
  ]
  const far: PathStep[] = [
    ["M", from, lane],
    ["L", broken, lane],
  ]
  const stroke: Stroking = { role: "blue", width: lineWidth(look, 2.5), dash: [6 * look.size, 5 * look.size] }
  return [...lines("because", solid, look), { shape: "path", part: "from-afar", path: far, stroke }]
}

const lines = (part: string, path: Path, look: Look): Mark[] =>
  path.length === 0
    ? []
    : [
        {
          shape: "path",
          part,
          path,
          stroke: { role: "blue", width: lineWidth(look, 2.5), join: "round", cap: "round" },
        },
      ]

const bead = ({ x, y }: Cause, look: Look): Mark => ({
  shape: "circle",
  part: "cause",
  x,
  y,
  radius: 5 * look.size,
  fill: "blue",
})

function arrowHead(x: number, y: number, towards: "up" | "left" | "right", { size }: Look): Mark {
  const [long, half] = [13 * size, 7 * size]
  const back = towards === "right" ? -long : long
  const points =
    towards === "up"
      ? ([
          [x, y],
          [x + half, y + long],
          [x - half, y + long],
        ] as const)
      : ([
          [x, y],
          [x + back, y - half],
          [x + back, y + half],
        ] as const)
  return { shape: "polygon", part: "effect", points, fill: "blue" }
}

/** Undefined where it does not stand in this system. */
function causeAt(voice: PlacedVoice, id: SignId, look: Look): Cause[] | undefined {
  for (const placed of voice.signs) {
    const dot = placed.timed.after.some(one => one.id === id)
    if (placed.timed.sign.id !== id && !dot) continue
    if (!dot) return [beadUnder(voice, placed, look)]
    const box = movedBox(placed.form.box, placed.x, voice.staffBottom)
    const { bottom } = bodyOf(voice, placed)
    return [{ x: box.right - 4 * look.size, y: Math.max(bottom - 6 * look.size, voice.staffTop) + 6 * look.size }]
  }
  return undefined
}

/** Where the line from a sign that is a cause begins. */
export function beadUnder(voice: Pick<PlacedVoice, "staffBottom">, placed: PlacedSign, look: Look): Cause {
  const { left, right, bottom } = bodyOf(voice, placed)
  const box = movedBox(placed.form.box, placed.x, voice.staffBottom)
  return { x: (left + right) / 2, y: Math.max(bottom, stemBelow(placed, box, bottom)) + 8 * look.size }
}

/** The edge of the system behind which a cause lies; nothing where it is no sign of the voice. */
function edgeFor({ axis, formed, bandTop }: PlacedVoice, id: SignId, look: Look): Cause[] {
  const cause = formed.time.byId.get(id) ?? formed.time.signs.find(one => one.after.some(dot => dot.id === id))
  if (!cause) return []
  const left = cause.at < axis.from
  return [{ x: left ? axis.left + 2 * look.size : axis.right - 2 * look.size, y: bandTop, far: true }]
}

/** A stem down at the side of a head is not in the way of a line from its middle. */
const stemBelow = ({ timed }: PlacedSign, box: Box, bottom: number): number =>
  timed.reading.level === "longa" || timed.reading.level === "maxima" ? bottom : box.bottom

/** Down into the lane, along it, and up. */
function elbow({ x: from, y }: Cause, to: number, lane: number, tip: number, round: number): PathStep[] {
  const side = to > from ? 1 : -1
  // of a low sign the lane is near
  const turn = Math.min(round, Math.abs(to - from) / 2, Math.max(1, lane - y))
  return [
    ["M", from, y],
    ["L", from, lane - turn],
    ["Q", from, lane, from + side * turn, lane],
    ["L", to - side * turn, lane],
    ["Q", to, lane, to, lane - turn],
    ["L", to, tip],
  ]
}
