/** Marks of an SVG as the operators of a page of a PDF, which runs downwards like them. */
import { readOutline, type SvgNode } from "@resolutio/core"

/** Where the drawing's zero stands on the page, and how long one of its units is, in points. */
export interface Placed {
  readonly x: number
  readonly y: number
  readonly scale: number
}

export const ORIGIN: Placed = { x: 0, y: 0, scale: 1 }
export const attribute = (node: SvgNode, name: string): string | undefined => {
  const value = node.attributes[name]
  return value === undefined ? undefined : String(value)
}
export const numbers = (text: string): number[] => (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number)
export const short = (value: number): string => String(Math.round(value * 1000) / 1000)

/** "translate(x, y)", "scale(s)", one after the other; a glyph's own outline may be turned upside down. */
export function moved(
  at: Placed & { readonly flip?: boolean },
  transform: string | undefined,
): Placed & { flip?: boolean } {
  if (transform === undefined) return at
  let { x, y, scale, flip } = at
  for (const [, kind, text] of transform.matchAll(/(translate|scale)\(([^)]*)\)/g)) {
    const [a = 0, b] = numbers(text!)
    if (kind === "translate") [x, y] = [x + a * scale, y + (b ?? 0) * scale]
    else [scale, flip] = [scale * a, b !== undefined && b < 0]
  }
  return { x, y, scale, ...(flip ? { flip } : {}) }
}

/** "#1c1814" or "#000" as parts of one; words for colours do not occur. */
export function colour(hex: string): string {
  const long = hex.length === 4 ? hex.replace(/[\da-f]/gi, "$&$&") : hex
  const parts = [1, 3, 5].map(at => Number.parseInt(long.slice(at, at + 2), 16) / 255)
  return parts.map(part => short(Number.isFinite(part) ? part : 0)).join(" ")
}

/** The form of an element as operators; "" for one that has none of its own. */
export function pathOf(node: SvgNode, at: Placed): string {
  const value = (name: string) => Number(attribute(node, name) ?? 0)
  switch (node.name) {
    case "path":
      return outlineOperators(attribute(node, "d") ?? "", at)
    case "rect":
      return `${point(value("x"), value("y"), at)} ${short(value("width") * at.scale)} ${short(value("height") * at.scale)} re`
    case "line":
      return `${point(value("x1"), value("y1"), at)} m ${point(value("x2"), value("y2"), at)} l`
    case "circle":
      return ellipse(value("cx"), value("cy"), value("r"), value("r"), at)
    case "ellipse":
      return ellipse(value("cx"), value("cy"), value("rx"), value("ry"), at)
    case "polygon":
    case "polyline": {
      const points = numbers(attribute(node, "points") ?? "")
      const pairs = points.flatMap((x, i) => (i % 2 === 0 ? [point(x, points[i + 1] ?? 0, at)] : []))
      if (pairs.length === 0) return ""
      return `${pairs.map((pair, i) => `${pair} ${i === 0 ? "m" : "l"}`).join(" ")}${node.name === "polygon" ? " h" : ""}`
    }
    default:
      return ""
  }
}

const point = (px: number, py: number, { x, y, scale }: Placed): string =>
  `${short(x + px * scale)} ${short(y + py * scale)}`

export function outlineOperators(d: string, at: Placed & { readonly flip?: boolean }): string {
  const to = (px: number, py: number) => point(px, at.flip ? -py : py, at)
  let [x, y] = [0, 0]
  const operators = readOutline(d).map(step => {
    if (step[0] === "Z") return "h"
    const before = [x, y] as const
    ;[x, y] = step.slice(-2) as [number, number]
    if (step[0] === "M" || step[0] === "L") return `${to(x, y)} ${step[0].toLowerCase()}`
    if (step[0] === "C") return `${to(step[1], step[2])} ${to(step[3], step[4])} ${to(x, y)} c`
    // a curve of two bends as one of three
    const third = (from: number, bend: number) => from + ((bend - from) * 2) / 3
    const [bx, by] = [step[1], step[2]]
    return `${to(third(before[0], bx), third(before[1], by))} ${to(third(x, bx), third(y, by))} ${to(x, y)} c`
  })
  return operators.join(" ")
}

/** Four curves: true to a few ten-thousandths of the radius. */
function ellipse(cx: number, cy: number, rx: number, ry: number, at: Placed): string {
  const [kx, ky] = [rx * 0.5523, ry * 0.5523]
  const to = (dx: number, dy: number) => point(cx + dx, cy + dy, at)
  return [
    `${to(-rx, 0)} m`,
    `${to(-rx, -ky)} ${to(-kx, -ry)} ${to(0, -ry)} c`,
    `${to(kx, -ry)} ${to(rx, -ky)} ${to(rx, 0)} c`,
    `${to(rx, ky)} ${to(kx, ry)} ${to(0, ry)} c`,
    `${to(-kx, ry)} ${to(-rx, ky)} ${to(-rx, 0)} c h`,
  ].join(" ")
}
