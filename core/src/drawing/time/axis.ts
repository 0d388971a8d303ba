/** The axis of exact time over the voices of a system. */
import type { Item, Mark, Path, PathStep, TextMark } from "../scene/scene.js"
import { textWidth } from "../text/width.js"
import { lineWidth, typeSize, type Look } from "./options.js"
import { xAt, type Axis } from "./place.js"

/** From the top of a system to the line of its axis, and from there to the first voice. */
export const AXIS_HEIGHT = 46
export const AXIS_GAP = 14

/** Units between the numbers: the voices' own period where it can be, and so many that numbers stand clear. */
export function axisStep(period: number, scale: number, look: Look): number {
  const whole = Math.max(1, Math.round(period))
  if (whole * scale > 420 * look.size && scale > 70 * look.size) return 1
  const steps = [1, 2, 3, 4, 6, 8, 12, 16, 24, 48, 96]
  return whole * (steps.find(times => whole * times * scale >= 110 * look.size) ?? 192)
}

export function drawAxis(axis: Axis, y: number, { step, unit }: { step: number; unit: string }, look: Look): Item[] {
  const marks: Mark[] = [
    {
      shape: "line",
      part: "axis",
      x1: axis.left,
      x2: axis.right,
      y1: y,
      y2: y,
      stroke: { role: "ink", width: lineWidth(look, 2) },
    },
    unitMark(unit, y, look),
  ]
  const fine = axis.scale >= 9 * look.size ? 1 : step
  const [large, small]: [PathStep[], PathStep[]] = [[], []]
  let free = -Infinity
  for (let at = Math.ceil(axis.from - 1e-9); at <= axis.to + 1e-9; at += fine) {
    const major = at % step === 0 || (at === axis.from && axis.from > 0)
    const x = xAt(axis, at)
    ;(major ? large : small).push(["M", x, y], ["L", x, y - (major ? 14 : 6) * look.size])
    if (!major) continue
    const text = number(String(at), x, y, look)
    const half = text.length / 2
    if (x - half < free) continue
    marks.push(text)
    free = x + half + 8 * look.size
  }
  const ticks = (path: Path, width: number): Mark[] =>
    path.length === 0
      ? []
      : [{ shape: "path", part: "axis-tick", path, stroke: { role: "ink", width: lineWidth(look, width) } }]
  return [{ shape: "group", part: "time-axis", content: [...marks, ...ticks(large, 2.5), ...ticks(small, 1.25)] }]
}

function number(text: string, x: number, y: number, look: Look): TextMark & { length: number } {
  const type = { family: "figures", size: typeSize(look, 26), weight: 600 } as const
  return {
    shape: "text",
    part: "moment",
    x,
    y: y - 22 * look.size,
    text,
    type,
    anchor: "middle",
    length: textWidth(text, type),
    fill: "ink",
  }
}

function unitMark(text: string, y: number, look: Look): TextMark {
  const type = { family: "figures", size: typeSize(look, 26) } as const
  return {
    shape: "text",
    part: "unit",
    x: look.margin,
    y: y + 1,
    text,
    type,
    length: textWidth(text, type),
    fill: "second",
  }
}
