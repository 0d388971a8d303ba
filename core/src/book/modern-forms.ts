/** The few modern signs that stand in a range: a full head and accidentals, in staff spaces, outlines of our own. */
import { ellipse, type Path } from "../drawing/index.js"

/** As SMuFL 1.4 registers it for a full head. */
export const NOTEHEAD_WIDTH = 1.18
/** Room for one accidental with the gap behind it. */
export const ACCIDENTAL_WIDTH = 1.25

/** Its left edge at x, its middle at y. */
export const notehead = (x: number, y: number): Path => ellipse(x + NOTEHEAD_WIDTH / 2, y, 0.63, 0.43, 24)

type Corner = readonly [x: number, y: number]
const closed = (...corners: readonly Corner[]): Path => [
  ...corners.map(([x, y], i) => [i === 0 ? "M" : "L", x, y] as const),
  ["Z"],
]
const upright = (x: number, top: number, bottom: number): Path =>
  closed([x, top], [x + 0.1, top], [x + 0.1, bottom], [x, bottom])
/** A thick stroke that rises to the right. */
const beam = (from: number, to: number, y: number): Path =>
  closed([from, y + 0.05], [to, y - 0.17], [to, y + 0.11], [from, y + 0.33])

const SHARP: Path = [
  ...upright(0.24, -1.28, 1.4),
  ...upright(0.62, -1.4, 1.28),
  ...beam(0, 0.96, -0.52),
  ...beam(0, 0.96, 0.44),
]
const NATURAL: Path = [
  ...upright(0, -1.36, 0.66),
  ...upright(0.56, -0.66, 1.36),
  ...beam(0, 0.66, -0.52),
  ...beam(0, 0.66, 0.4),
]
const FLAT: Path = [
  ...upright(0, -1.75, 0.6),
  ["M", 0.05, -0.28],
  ["C", 0.3, -0.62, 0.84, -0.62, 0.84, -0.14],
  ["C", 0.84, 0.22, 0.46, 0.42, 0, 0.72],
  ["L", 0, 0.52],
  ["C", 0.34, 0.28, 0.54, 0.1, 0.54, -0.14],
  ["C", 0.54, -0.38, 0.28, -0.36, 0.08, -0.1],
  ["Z"],
]
const FORMS: Readonly<Record<string, readonly [path: Path, width: number]>> = {
  s: [SHARP, 0.96],
  x: [SHARP, 0.96],
  f: [FLAT, 0.84],
  n: [NATURAL, 0.66],
}

/** Its right edge at x, on the pitch at y; undefined where there is none to draw. */
export function modernAccidentalPath(accidental: string, right: number, y: number): Path | undefined {
  const form = FORMS[accidental]
  if (!form) return undefined
  const [path, width] = form
  const [dx, dy] = [right - width, y]
  return path.map(step => {
    const [name, ...points] = step
    return [name, ...points.map((value, i) => value + (i % 2 === 0 ? dx : dy))] as unknown as typeof step
  })
}
