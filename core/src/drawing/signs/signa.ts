/** Signs beside the notes: signum congruentiae, fermata, repeats, what a hand wrote above the staff. */
import type { Mark as PageMark } from "../../page/index.js"
import type { Mark, Path } from "../scene/scene.js"
import { drawn, inked, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { circleOutline, moved, reversed, uprightStroke } from "./outline.js"

/** A bow open below, broad in the middle, and its dot; 2 wide, its middle at 0, its foot at 0. */
const FERMATA: Path = [
  ["M", -1, 0],
  ["C", -0.95, -1.45, 0.95, -1.45, 1, 0],
  ["L", 0.9, 0],
  ["C", 0.8, -1.02, -0.8, -1.02, -0.9, 0],
  ["Z"],
]
export function fermataMarks(x: number, y: number): Mark[] {
  return [inked("fermata", [...moved(FERMATA, x, y), ...circleOutline(x, y - 0.18, 0.17)])]
}

/** A crook with dots on both sides of its tail. */
const SIGNUM: Path = [
  ["M", -0.42, 0.62],
  ["C", 0.1, 0.62, 0.52, 0.3, 0.42, -0.08],
  ["C", 0.32, -0.42, -0.38, -0.34, -0.36, -0.74],
  ["C", -0.34, -1.05, 0.12, -1.16, 0.42, -1],
  ["L", 0.5, -1.14],
  ["C", 0.06, -1.4, -0.58, -1.22, -0.6, -0.74],
  ["C", -0.62, -0.24, 0.16, -0.28, 0.2, 0],
  ["C", 0.22, 0.26, -0.04, 0.44, -0.42, 0.48],
  ["Z"],
  ...circleOutline(-0.24, 0.08, 0.13),
  ...circleOutline(0.22, -0.66, 0.13),
  ...circleOutline(0.66, 0.08, 0.13),
]

const rubric = (text: string, y: number): Mark => ({
  shape: "text",
  part: "rubric",
  x: 0,
  y,
  text,
  type: { family: "words", size: 1.3, italic: true },
  fill: "red",
})
const written = (text: string, y: number): Mark => ({ ...rubric(text, y), part: "text", fill: "ink" }) as Mark

/** What a mark without length looks like. Words stand above the staff and take no room on it. */
export function drawPageMark(mark: PageMark, { lines }: SignStyle): Drawn {
  const top = yOf(2 * (lines - 1))
  const above = top - 1.2
  switch (mark.of) {
    case "signum-congruentiae":
      return drawn([inked("signum", moved(SIGNUM, 0.6, above - 0.1))])
    case "repeat-start":
      return repeat(top, [1, 0])
    case "repeat-end":
      return repeat(top, [0, 1])
    case "ending-open":
      return drawn([rubric(mark.text ?? "apertum", above)])
    case "ending-closed":
      return drawn([rubric(mark.text ?? "clausum", above)])
    case "refrain-start":
      return drawn([rubric(mark.text ?? "R.", above)])
    case "refrain-end":
      return drawn([...bars(top, [0, 0.3])])
    case "canon":
      return drawn([rubric(mark.text ?? "canon", above)])
    case "section":
      return drawn([rubric(mark.text ?? "§", above)])
    case "text":
    case "numeral":
      return drawn(mark.text === undefined ? [] : [written(mark.text, above)])
  }
}

/** Strokes through the staff with dots on the sides where music is taken up again. */
function repeat(top: number, [after, before]: readonly [number, number]): Drawn {
  const x = before > 0 ? 0.6 : 0
  const dots = [after > 0 ? x + 0.85 : x - 0.45].flatMap(at => [
    ...circleOutline(at, top / 2 - 0.5, 0.17),
    ...circleOutline(at, top / 2 + 0.5, 0.17),
  ])
  return drawn([...bars(top, [x, x + 0.3]), inked("repeat", dots)])
}

const bars = (top: number, at: readonly number[]): Mark[] =>
  at.map(x => inked("repeat", uprightStroke(x, 0, top, { width: 0.13, tip: 0.13, edge: "left" })))

/** A ring of the pen, for dots that are void. */
export const ring = (x: number, y: number, radius: number, width: number): Path => [
  ...circleOutline(x, y, radius),
  ...reversed(circleOutline(x, y, radius - width)),
]
