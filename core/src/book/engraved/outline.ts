/** Outlines in SVG's words as steps with their points, all from the drawing's own zero. */
import type { Path, PathStep } from "../../drawing/index.js"
import type { Extent } from "./extents.js"

/** Numbers that each command takes. */
const TAKES: Readonly<Record<string, number>> = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2 }

interface Pen {
  /** Where it stands, and where the figure began. */
  x: number
  y: number
  startX: number
  startY: number
  /** The last point that bent a curve of this kind, for curves that go on smoothly. */
  bend: { readonly kind: string; readonly x: number; readonly y: number } | undefined
}

/** Lines, curves of two and of three bends, and ends of figures. Arcs do not occur in letters and music and are passed over. */
export function readOutline(d: string): Path {
  const steps: PathStep[] = []
  const pen: Pen = { x: 0, y: 0, startX: 0, startY: 0, bend: undefined }
  for (const [, command, text] of d.matchAll(/([a-zA-Z])([^a-zA-Z]*)/g)) {
    const kind = command!.toLowerCase()
    if (kind === "z") {
      steps.push(["Z"])
      ;[pen.x, pen.y] = [pen.startX, pen.startY]
      continue
    }
    const takes = TAKES[kind]
    if (takes === undefined) continue
    const numbers = (text!.match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g) ?? []).map(Number)
    for (let i = 0; i + takes <= numbers.length; i += takes)
      // further points after the first of "M" are lines
      steps.push(step(pen, kind === "m" && i > 0 ? "l" : kind, numbers.slice(i, i + takes), command === kind))
  }
  return steps
}

function step(pen: Pen, kind: string, numbers: number[], relative: boolean): PathStep {
  const [ox, oy] = relative ? [pen.x, pen.y] : [0, 0]
  const points =
    kind === "h"
      ? [ox + numbers[0]!, pen.y]
      : kind === "v"
        ? [pen.x, oy + numbers[0]!]
        : numbers.map((value, i) => value + (i % 2 === 0 ? ox : oy))
  const made = ofKind(pen, kind, points)
  const values = made.slice(1) as number[]
  const [bx, by] = values.slice(-4)
  pen.bend = values.length >= 4 ? { kind: made[0], x: bx!, y: by! } : undefined
  ;[pen.x, pen.y] = [values.at(-2)!, values.at(-1)!]
  if (made[0] === "M") [pen.startX, pen.startY] = [pen.x, pen.y]
  return made
}

function ofKind(pen: Pen, kind: string, points: readonly number[]): PathStep {
  const smooth = (of: string): [number, number] =>
    pen.bend?.kind === of ? [2 * pen.x - pen.bend.x, 2 * pen.y - pen.bend.y] : [pen.x, pen.y]
  const [a, b, c, d, e, f] = points as [number, number, number, number, number, number]
  if (kind === "m") return ["M", a, b]
  if (kind === "c") return ["C", a, b, c, d, e, f]
  if (kind === "s") return ["C", ...smooth("C"), a, b, c, d]
  if (kind === "q") return ["Q", a, b, c, d]
  if (kind === "t") return ["Q", ...smooth("Q"), a, b]
  return ["L", a, b]
}

/** The box of all points and of the points that bend the curves, which is a little more than the curves fill. */
export function outlineBox(d: string): Extent {
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }
  for (const [, ...values] of readOutline(d))
    for (let i = 0; i + 1 < values.length; i += 2) {
      box.left = Math.min(box.left, values[i] as number)
      box.right = Math.max(box.right, values[i] as number)
      box.top = Math.min(box.top, values[i + 1] as number)
      box.bottom = Math.max(box.bottom, values[i + 1] as number)
    }
  return box
}
