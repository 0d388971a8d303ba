/** Accidentals in their old forms, in staff spaces: round b, square b, and the crossed strokes of the diesis. */
import type { Accidental } from "../../page/index.js"
import type { Path } from "../scene/scene.js"
import { circleOutline, moved, reversed, straightStroke, uprightStroke } from "./outline.js"

/** A round b: a stem with a bowl that the pen swells at the right and brings to a point below. */
const ROUND_B: Path = [
  ...uprightStroke(0, 0.5, -1.7, { width: 0.14, tip: 0.1, edge: "left" }),
  ["M", 0.05, -0.28],
  ["C", 0.3, -0.62, 0.8, -0.6, 0.8, -0.12],
  ["C", 0.8, 0.25, 0.42, 0.5, 0, 0.66],
  ["L", 0, 0.46],
  ["C", 0.36, 0.32, 0.54, 0.12, 0.54, -0.12],
  ["C", 0.54, -0.36, 0.26, -0.34, 0.08, -0.08],
  ["Z"],
]

/** A square b: a body with a stroke up at the left and one down at the right. */
const SQUARE_B: Path = [
  ...uprightStroke(0, 0.5, -1.5, { width: 0.14, tip: 0.11, edge: "left" }),
  ...uprightStroke(0.74, -0.5, 1.5, { width: 0.14, tip: 0.11, edge: "right" }),
  ...straightStroke(0.02, -0.34, 0.72, -0.5, 0.26),
  ...straightStroke(0.02, 0.5, 0.72, 0.34, 0.26),
]

/** Two slanting strokes across two others: the diesis. */
const DIESIS: Path = [
  ...straightStroke(0.08, -0.4, 0.92, 0.76, 0.13, 0.1),
  ...straightStroke(0.36, -0.76, 1.2, 0.4, 0.13, 0.1),
  ...straightStroke(1.2, -0.4, 0.36, 0.76, 0.13, 0.1),
  ...straightStroke(0.92, -0.76, 0.08, 0.4, 0.13, 0.1),
]

/** A single cross, for MEI's x. */
const CROSS: Path = [
  ...straightStroke(0.08, -0.5, 0.78, 0.5, 0.2, 0.16),
  ...straightStroke(0.78, -0.5, 0.08, 0.5, 0.2, 0.16),
]

/** Something else is written: a ring, so that nothing is passed over in silence. */
const UNKNOWN: Path = [...circleOutline(0.35, 0, 0.35), ...reversed(circleOutline(0.35, 0, 0.22))]

const FORMS: Readonly<Record<string, { readonly path: Path; readonly width: number }>> = {
  f: { path: ROUND_B, width: 0.8 },
  n: { path: SQUARE_B, width: 0.74 },
  s: { path: DIESIS, width: 1.26 },
  x: { path: CROSS, width: 0.86 },
  ff: { path: [...ROUND_B, ...moved(ROUND_B, 0.86, 0)], width: 1.66 },
}
const form = (accidental: Accidental) => FORMS[accidental] ?? { path: UNKNOWN, width: 0.7 }

export const accidentalWidth = (accidental: Accidental): number => form(accidental).width
/** With its left edge at x, on the pitch at y. */
export const accidentalPath = (accidental: Accidental, x: number, y: number): Path => moved(form(accidental).path, x, y)
