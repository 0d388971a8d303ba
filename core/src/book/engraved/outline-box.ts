/** How far an outline in SVG's words reaches. */
import type { Extent } from "./systems.js"

/** Numbers that each command takes. */
const TAKES: Readonly<Record<string, number>> = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2, z: 0 }

/**
 * The box of all points and of the points that bend the curves, which is a little more than the curves fill. Arcs do not occur
 * in outlines of letters and are passed over.
 */
export function outlineBox(d: string): Extent {
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }
  let [x, y] = [0, 0]
  for (const [, command, text] of d.matchAll(/([a-zA-Z])([^a-zA-Z]*)/g)) {
    const kind = command!.toLowerCase()
    const relative = command === kind
    const numbers = (text!.match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g) ?? []).map(Number)
    const step = TAKES[kind] ?? 0
    if (step === 0) continue
    for (let i = 0; i + step <= numbers.length; i += step) {
      const points = pointsOf(kind, numbers.slice(i, i + step), relative, x, y)
      for (const [px, py] of points) {
        box.left = Math.min(box.left, px)
        box.right = Math.max(box.right, px)
        box.top = Math.min(box.top, py)
        box.bottom = Math.max(box.bottom, py)
      }
      ;[x, y] = points.at(-1)!
    }
  }
  return box
}

type Point = readonly [x: number, y: number]

function pointsOf(kind: string, numbers: readonly number[], relative: boolean, x: number, y: number): Point[] {
  const [ox, oy] = relative ? [x, y] : [0, 0]
  if (kind === "h") return [[ox + numbers[0]!, y]]
  if (kind === "v") return [[x, oy + numbers[0]!]]
  return Array.from({ length: numbers.length / 2 }, (_, i) => [ox + numbers[2 * i]!, oy + numbers[2 * i + 1]!] as const)
}
