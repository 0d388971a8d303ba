/** The axis of exact time over the voices of a system. */
import { Lines, type Hand } from "../scene/hand.js"
import type { TextMark } from "../scene/scene.js"
import { knownWidth } from "../text/width.js"
import { countWidth } from "./formed.js"
import type { Look } from "./options.js"
import { xAt, type Axis } from "./place.js"

/** From the top of a system to the line of its axis, and from there to the first voice. */
export const AXIS_HEIGHT = 46
export const AXIS_GAP = 14

/**
 * Units between the numbers: the voices' own period where it can be, its beat where that would be too seldom, and so many
 * periods that numbers stand clear.
 */
export function axisStep(
  { period, beat }: { readonly period: number; readonly beat: number },
  scale: number,
  look: Look,
): number {
  const [whole, part] = [Math.max(1, Math.round(period)), Math.max(1, Math.round(beat))]
  const seldom = 420 * look.size
  const clear = 110 * look.size
  if (whole * scale > seldom && part * scale > seldom) return 1
  if (whole * scale > seldom && part * scale > clear) return part
  const steps = [1, 2, 3, 4, 6, 8, 12, 16, 24, 48, 96]
  return whole * (steps.find(times => whole * times * scale >= clear) ?? 192)
}

/** `free` is where the name of the first voice ends, if it stands over it. */
export function drawAxis(axis: Axis, y: number, unit: string, free: number, look: Look, hand: Hand): void {
  const { step } = axis
  hand.open("time-axis", undefined, undefined)
  hand.line("axis", undefined, axis.left, y, axis.right, y, look.pens.axis)
  hand.item(unitMark(unit, axis, y, free, look))
  for (const mark of scaleMarks(axis, y, look)) hand.item(mark)
  const fine = axis.scale >= 9 * look.size ? 1 : step
  let clear = -Infinity
  for (let at = Math.ceil(axis.from - 1e-9); at <= axis.to + 1e-9; at += fine) {
    const major = at % step === 0 || (at === axis.from && axis.from > 0)
    const x = xAt(axis, at)
    ;(major ? LARGE : SMALL).add(x, y, x, y - (major ? 14 : 6) * look.size)
    if (!major) continue
    const text = String(at)
    const length = countWidth(text, look)
    if (x - length / 2 < clear) continue
    hand.words("moment", undefined, x, y - 22 * look.size, text, look.types.count, "middle", length, "ink")
    clear = x + length / 2 + 8 * look.size
  }
  LARGE.drawBy(hand, "axis-tick", look.pens.largeTick)
  SMALL.drawBy(hand, "axis-tick", look.pens.smallTick)
  hand.close()
}
const LARGE = new Lines()
const SMALL = new Lines()

/** In the margin; where there is none, at the right end of the row of the first name, and behind that. */
function unitMark(unit: string, { right, wider }: Axis, y: number, free: number, look: Look): TextMark {
  const type = look.types.unit
  const beside = free + 8 * look.size
  const text =
    look.names === 0
      ? unit
      : longestWithin([...saidOf(wider).map(said => `${unit}, ${said}`), unit], look.width - look.right - beside, type)
  const base = { shape: "text", part: "unit", text, type, length: knownWidth(text, type), fill: "second" } as const
  if (look.names === 0) return { ...base, x: look.margin, y: y + 1 }
  const x = Math.max(right, Math.min(look.width - look.right, beside + base.length))
  return { ...base, x, y: y + (AXIS_GAP + 21) * look.size, anchor: "end" }
}

/** Where a unit is wider than in the system above, or less wide, that is said under it. */
function scaleMarks({ left, clear, wider }: Axis, y: number, look: Look): TextMark[] {
  const said = saidOf(wider)
  if (look.names > 0 || said.length === 0) return []
  const type = look.types.unit
  const text = longestWithin(said, left - clear - look.margin - 8 * look.size, type)
  const mark = { shape: "text", part: "scale", text, type, length: knownWidth(text, type), fill: "second" } as const
  return [{ ...mark, x: look.margin, y: y + 26 * look.size }]
}

/** In words, ever shorter; nothing where it is hardly to be seen. */
function saidOf(wider: number): string[] {
  const times = wider.toPrecision(2)
  return times === "1.0" ? [] : [`${times} × as wide as above`, `${times} × as wide`, `× ${times}`]
}

function longestWithin(texts: readonly string[], room: number, type: TextMark["type"]): string {
  return texts.find(text => knownWidth(text, type) <= room) ?? texts.at(-1)!
}
