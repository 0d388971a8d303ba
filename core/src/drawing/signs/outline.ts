/** Outlines of pen strokes and heads, in staff spaces. All run clockwise; `reversed` makes a hole of one. */
import type { Box, Path, PathStep } from "../scene/scene.js"

/** A body of four corners, given by its edges; `y` is its middle. */
export interface Body {
  readonly left: number
  readonly right: number
  readonly y: number
  /** Half of its height between the corners. */
  readonly half: number
}

/** How far the corners of a square head are drawn out beyond its edge: a height of 1 becomes 1.2. */
export const HORN = 0.1
/** Width of the part of the edge that bends up into the corner. */
const BEND = 0.3
/** How far the upright sides are hollowed. */
const HOLLOW = 0.035

/** A square or longer head: edges straight between the corners, corners drawn out, sides a hair concave. */
export function squareOutline({ left, right, y, half }: Body, horn = HORN): Path {
  const bend = Math.min(BEND, (right - left) / 2)
  const [top, bottom] = [y - half, y + half]
  return [
    ["M", left, top - horn],
    ["C", left + bend * 0.3, top - horn * 0.15, left + bend * 0.6, top, left + bend, top],
    ["L", right - bend, top],
    ["C", right - bend * 0.6, top, right - bend * 0.3, top - horn * 0.15, right, top - horn],
    ["Q", right - HOLLOW * 2, y, right, bottom + horn],
    ["C", right - bend * 0.3, bottom + horn * 0.15, right - bend * 0.6, bottom, right - bend, bottom],
    ["L", left + bend, bottom],
    ["C", left + bend * 0.6, bottom, left + bend * 0.3, bottom + horn * 0.15, left, bottom + horn],
    ["Q", left + HOLLOW * 2, y, left, top - horn],
    ["Z"],
  ]
}

/** Straight lines through these points. */
export function polygonOutline(points: readonly (readonly [number, number])[]): Path {
  return [...points.map(([x, y], i) => [i === 0 ? "M" : "L", x, y] as const), ["Z"]]
}

export const rectOutline = (left: number, top: number, right: number, bottom: number): Path =>
  polygonOutline([
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ])

/** Four points, the sides between them drawn in towards the middle by a tenth of their distance from it. */
export function lozengeOutline(
  top: readonly [number, number],
  right: readonly [number, number],
  bottom: readonly [number, number],
  left: readonly [number, number],
): Path {
  const middle = [(left[0] + right[0]) / 2, (top[1] + bottom[1]) / 2] as const
  const side = (from: readonly [number, number], to: readonly [number, number]): PathStep => [
    "Q",
    drawnIn((from[0] + to[0]) / 2, middle[0]),
    drawnIn((from[1] + to[1]) / 2, middle[1]),
    to[0],
    to[1],
  ]
  return [["M", top[0], top[1]], side(top, right), side(right, bottom), side(bottom, left), side(left, top), ["Z"]]
}
const drawnIn = (value: number, middle: number): number => value + (middle - value) * 0.1

/** A closed outline run the other way round, so that it is a hole in what encloses it. */
export function reversed(path: Path): Path {
  const points: [number, number][] = []
  const steps: PathStep[] = []
  for (const step of path) if (step[0] !== "Z") points.push(step.slice(-2) as [number, number])
  const last = points.at(-1)
  if (last === undefined) return path
  steps.push(["M", ...last])
  for (let i = path.length - 1, at = points.length - 1; i > 0; i--) {
    const step = path[i]!
    if (step[0] === "Z" || step[0] === "M") continue
    const to = points[--at] ?? last
    if (step[0] === "L") steps.push(["L", ...to])
    else if (step[0] === "Q") steps.push(["Q", step[1], step[2], ...to])
    else if (step[0] === "C") steps.push(["C", step[3], step[4], step[1], step[2], ...to])
  }
  steps.push(["Z"])
  return steps
}

/**
 * An upright pen stroke from its foot to its tip, `width` at the foot and `tip` at the end, which the pen leaves slanting.
 * `x` is the middle of the foot, or its right or left edge.
 */
export function uprightStroke(
  x: number,
  from: number,
  to: number,
  {
    width = 0.12,
    tip = width * 0.8,
    edge = "middle",
  }: { width?: number; tip?: number; edge?: "left" | "middle" | "right" } = {},
): Path {
  const left = edge === "left" ? x : edge === "right" ? x - width : x - width / 2
  const tipLeft = edge === "left" ? x : edge === "right" ? x - tip : x - tip / 2
  const slant = tip * 0.7
  const up = to < from
  const points: (readonly [number, number])[] = up
    ? [
        [left, from],
        [tipLeft, to + slant / 2],
        [tipLeft + tip, to - slant / 2],
        [left + width, from],
      ]
    : [
        [left, from],
        [left + width, from],
        [tipLeft + tip, to - slant / 2],
        [tipLeft, to + slant / 2],
      ]
  return polygonOutline(points)
}

/** A stroke of one width between two points, its ends cut square. */
export function straightStroke(x1: number, y1: number, x2: number, y2: number, width: number, tip = width): Path {
  const length = Math.hypot(x2 - x1, y2 - y1) || 1
  const [nx, ny] = [-(y2 - y1) / length / 2, (x2 - x1) / length / 2]
  return polygonOutline([
    [x1 - nx * width, y1 - ny * width],
    [x2 - nx * tip, y2 - ny * tip],
    [x2 + nx * tip, y2 + ny * tip],
    [x1 + nx * width, y1 + ny * width],
  ])
}

/** Part of the way of a circle that four curves give, to 0.03 % of its radius. */
const KAPPA = 0.5523

export function circleOutline(x: number, y: number, radius: number, ry = radius): Path {
  const [k, m] = [radius * KAPPA, ry * KAPPA]
  return [
    ["M", x, y - ry],
    ["C", x + k, y - ry, x + radius, y - m, x + radius, y],
    ["C", x + radius, y + m, x + k, y + ry, x, y + ry],
    ["C", x - k, y + ry, x - radius, y + m, x - radius, y],
    ["C", x - radius, y - m, x - k, y - ry, x, y - ry],
    ["Z"],
  ]
}

/** The box of all points, those that bend a curve among them: never too small, and exact for straight lines. */
export function boxOf(path: Path): Box {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const step of path)
    for (let i = 1; i < step.length; i += 2) {
      const [x, y] = [step[i] as number, step[i + 1] as number]
      if (x < left) left = x
      if (x > right) right = x
      if (y < top) top = y
      if (y > bottom) bottom = y
    }
  return { left, top, right, bottom }
}

/** The box around both. */
export function around(one: Box, other: Box): Box {
  return {
    left: Math.min(one.left, other.left),
    top: Math.min(one.top, other.top),
    right: Math.max(one.right, other.right),
    bottom: Math.max(one.bottom, other.bottom),
  }
}

/** Moves, and mirrors where a scale is negative (then the outline runs the other way and is turned round). */
export function moved(path: Path, dx: number, dy: number, sx = 1, sy = 1): Path {
  const result = path.map(step => {
    const out: (string | number)[] = [step[0]]
    for (let i = 1; i < step.length; i += 2) out.push((step[i] as number) * sx + dx, (step[i + 1] as number) * sy + dy)
    return out as unknown as PathStep
  })
  return sx * sy < 0 ? splitContours(result).flatMap(reversed) : result
}

function splitContours(path: Path): Path[] {
  const contours: PathStep[][] = []
  for (const step of path) {
    if (step[0] === "M") contours.push([])
    contours.at(-1)?.push(step)
  }
  return contours
}

/** An ellipse turned against the clock by so many degrees, in two curves: true to a fiftieth of its radius. */
export function ellipse(x: number, y: number, a: number, b: number, degrees: number): Path {
  const turn = (-degrees * Math.PI) / 180
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const at = (u: number, v: number) => [x + u * cos - v * sin, y + u * sin + v * cos] as const
  const h = (b * 4) / 3
  return [
    ["M", ...at(-a, 0)],
    ["C", ...at(-a, -h), ...at(a, -h), ...at(a, 0)],
    ["C", ...at(a, h), ...at(-a, h), ...at(-a, 0)],
    ["Z"],
  ]
}
