/** Modern values under the bands: they share the left edge of the heads. */
import { plus, times, ZERO, type Rational } from "../../base/index.js"
import { keptBy, type Hand } from "../scene/hand.js"
import type { Item } from "../scene/scene.js"
import { moved } from "../signs/outline.js"
import { bandPlace } from "./bands.js"
import { modernForm, modernParts, tiePath, type ModernParts } from "./modern.js"
import { textWidth } from "../text/width.js"
import type { Look } from "./options.js"
import type { PlacedSign, PlacedVoice } from "./place.js"

/** Px in a modern staff space at full size. */
const UNIT = 13
/** Of a tied value its size is never less than this part. */
const SMALLEST = 0.62

export const modernValues = (placed: PlacedVoice, wholes: Rational, look: Look): Item[] =>
  keptBy(hand => addModernValues(placed, wholes, look, hand))

export function addModernValues(placed: PlacedVoice, wholes: Rational, look: Look, hand: Hand): void {
  const unit = UNIT * look.size
  let open: Rational = ZERO
  for (const { timed, x } of placed.signs) {
    if (timed.lasts <= 0) continue
    const lasts = times(timed.held ? readDuration(timed) : timed.duration, wholes)
    const parts = partsOf(lasts)
    if (!parts) continue
    open = parts.tuplet ? plus(open, times(timed.duration, wholes)) : ZERO
    // one figure for a group: where it is full
    const full = parts.tuplet !== undefined && partsOf(open)?.tuplet === undefined
    if (full) open = ZERO
    const rest = timed.sign.kind === "rest"
    const room = bandPlace(placed, timed).right - x
    const right = drawnParts(parts, rest, full ? "right" : "none")
    const figureFits = !full || rest || right.width * unit <= room + look.after
    const { content, width } = figureFits ? right : drawnParts(parts, rest, "over")
    const scale = width * unit > room && parts.values.length > 1 ? Math.max(SMALLEST, room / (width * unit)) : 1
    const over = width * unit * scale + look.size - room
    const left = over > 0 ? x - Math.min(over, look.after - LEAST_AFTER * look.size) : x
    hand.group("modern-value", undefined, left, placed.modernY, unit * scale, content)
  }
}

/** A value whose flag would cross the end of its band stands so many px after its moment, at full size, instead of under its head. */
const LEAST_AFTER = 3

const divided = new Map<number, ModernParts | null>()
/** Most durations of a piece are a few. */
function partsOf(lasts: Rational): ModernParts | undefined {
  const key = lasts.num * KEYS + lasts.den
  if (lasts.den >= KEYS || !Number.isSafeInteger(key)) return modernParts(lasts)
  let parts = divided.get(key)
  if (parts === undefined) {
    parts = modernParts(lasts) ?? null
    divided.set(key, parts)
  }
  return parts ?? undefined
}
const KEYS = 1 << 16

interface DrawnParts {
  readonly content: readonly Item[]
  readonly width: number
}
const drawnBefore = new WeakMap<ModernParts, Map<string, DrawnParts>>()

/** Where the figure of a group stands: behind its last value, or over that one's head, before the stem, where a sign follows at once. */
type FigurePlace = "none" | "right" | "over"

const REST_KEYS = { none: "rest", right: "rest right", over: "rest over" } as const

/** In modern staff spaces; the same object for the same values. */
function drawnParts(parts: ModernParts, rest: boolean, figure: FigurePlace): DrawnParts {
  const forms = drawnBefore.get(parts) ?? new Map<string, DrawnParts>()
  drawnBefore.set(parts, forms)
  const key = rest ? REST_KEYS[figure] : figure
  const known = forms.get(key) ?? drawParts(parts, rest, figure)
  forms.set(key, known)
  return known
}

function drawParts(parts: ModernParts, rest: boolean, figure: FigurePlace): DrawnParts {
  const content: Item[] = []
  const middles: number[] = []
  let at = 0
  for (const value of parts.values) {
    const form = modernForm(value, rest)
    content.push({
      shape: "path",
      part: "modern",
      path: at === 0 ? form.path : moved(form.path, at, 0),
      fill: "second",
    })
    middles.push(at + 0.6)
    at += form.width + 0.9
  }
  if (!rest)
    for (let i = 1; i < middles.length; i++)
      content.push({ shape: "path", part: "tie", path: tiePath(middles[i - 1]!, middles[i]!), fill: "second" })
  if (figure !== "none")
    content.push(figureMark(parts, figure === "right" ? [at - 0.3, 0.5] : [middles.at(-1)! - 0.6, -0.8]))
  return { content, width: figure === "right" ? at - 0.3 + textWidth(String(parts.tuplet), FIGURE) : at - 0.9 }
}

const FIGURE = { family: "words", size: 24 / UNIT, italic: true } as const
const figureMark = ({ tuplet }: ModernParts, [x, y]: readonly [number, number]): Item => ({
  shape: "text",
  part: "tuplet",
  x,
  y,
  text: String(tuplet),
  type: FIGURE,
  fill: "second",
})

function readDuration({ reading, duration }: PlacedSign["timed"]): Rational {
  return reading.duration.num > 0 && reading.held ? heldDuration(reading.duration, duration) : duration
}
/** A final's own value, not the time to which it is held. */
const heldDuration = (own: Rational, held: Rational): Rational =>
  own.num / own.den <= held.num / held.den ? own : held
