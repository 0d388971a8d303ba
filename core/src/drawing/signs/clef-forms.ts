/** The outlines of clefs, in staff spaces: y is 0 on the line that they name. */
import type { Clef } from "../../page/index.js"
import type { Path } from "../scene/scene.js"
import type { ClefHand } from "./drawn.js"
import { lozengeHead, squareHead } from "./heads.js"
import { moved, rectOutline, reversed, straightStroke, uprightStroke } from "./outline.js"

/** A tall stroke with two heavy heads turned from it, one above and one below the line. */
const C_CLEF: Path = [
  ...uprightStroke(0, 1.62, -1.62, { width: 0.17, tip: 0.14, edge: "left" }),
  ...wedge(-0.66),
  ...wedge(0.66),
]
/** Head of a clef: pressed down at the left, rising to the right. */
function wedge(y: number): Path {
  return [
    ["M", 0.1, y - 0.36],
    ["C", 0.24, y - 0.28, 0.34, y - 0.28, 0.44, y - 0.3],
    ["L", 1.02, y - 0.46],
    ["Q", 0.97, y, 1.02, y + 0.36],
    ["L", 0.44, y + 0.5],
    ["C", 0.34, y + 0.5, 0.24, y + 0.46, 0.1, y + 0.4],
    ["Z"],
  ]
}

/** The letter f grown into a long with two lozenges behind it, above and below its line. */
const F_CLEF: Path = [
  ...squareHead(0, -0.02, 0.9, { kind: "full" }, 0.46),
  ...uprightStroke(0.9, 0, 2.1, { width: 0.14, tip: 0.11, edge: "right" }),
  ...uprightStroke(1.22, 1.5, -1.35, { width: 0.14, tip: 0.11, edge: "left" }),
  ...moved(lozengeHead(0, 0, { kind: "full" }), 1.3, -0.66, 0.74, 0.7),
  ...moved(lozengeHead(0, 0, { kind: "full" }), 1.3, 0.66, 0.74, 0.7),
]

/** The letter g: a bowl on the line, an ear, and a tail that is drawn back to the left. */
const G_CLEF: Path = [
  ["M", 0.98, -0.62],
  ["C", 0.78, -0.86, 0.12, -0.86, 0.08, -0.1],
  ["C", 0.06, 0.5, 0.62, 0.62, 0.98, 0.24],
  ["L", 1, 0.94],
  ["C", 1, 1.5, 0.7, 1.86, 0.04, 1.72],
  ["C", 0.36, 2.1, 1.22, 1.86, 1.22, 0.92],
  ["L", 1.2, -0.5],
  ["C", 1.34, -0.62, 1.5, -0.66, 1.66, -0.64],
  ["L", 1.7, -0.86],
  ["C", 1.42, -0.92, 1.14, -0.84, 0.98, -0.62],
  ["Z"],
  // its counter
  ["M", 0.97, -0.44],
  ["L", 0.98, 0.02],
  ["C", 0.74, 0.34, 0.36, 0.22, 0.36, -0.14],
  ["C", 0.36, -0.56, 0.74, -0.68, 0.97, -0.44],
  ["Z"],
]

/** The letter c, its back broad and its ends drawn out by the pen. */
const C_LETTER: Path = [
  ["M", 0.98, -0.86],
  ["C", 0.62, -0.98, 0.04, -0.74, 0.04, 0.02],
  ["C", 0.04, 0.78, 0.58, 0.98, 1.02, 0.66],
  ["L", 0.96, 0.5],
  ["C", 0.66, 0.64, 0.36, 0.46, 0.36, -0.02],
  ["C", 0.36, -0.5, 0.62, -0.66, 0.84, -0.54],
  ["C", 0.94, -0.5, 1.02, -0.62, 0.98, -0.86],
  ["Z"],
]

/** The letter f: a stroke with a head and a bar, the bar on the line. */
const F_LETTER: Path = [
  ...uprightStroke(0.3, 1.15, -1.05, { width: 0.3, tip: 0.26, edge: "middle" }),
  ["M", 0.18, -1.02],
  ["C", 0.4, -1.36, 0.9, -1.3, 1.16, -1.02],
  ["L", 1.04, -0.8],
  ["C", 0.86, -0.98, 0.6, -0.98, 0.42, -0.86],
  ["Z"],
  ...straightStroke(0.02, 0.06, 0.98, -0.06, 0.2),
  ...straightStroke(0.02, 1.16, 0.62, 1.08, 0.16),
]

/** A box of thin strokes whose upright sides are broader: a void breve of the clef's ladder. */
const box = (left: number, top: number, right: number, bottom: number): Path => [
  ...rectOutline(left, top, right, bottom),
  ...reversed(rectOutline(left + 0.1, top + 0.17, right - 0.12, bottom - 0.17)),
]

/** Two open boxes between two uprights, one over the line and one under it. */
const C_LADDER: Path = [
  ...uprightStroke(0, 1.95, -1.95, { width: 0.13, tip: 0.12, edge: "left" }),
  ...box(0.05, -1.05, 1.1, -0.32),
  ...box(0.05, 0.32, 1.1, 1.05),
  ...uprightStroke(1.1, 1.3, -1.3, { width: 0.12, tip: 0.11, edge: "right" }),
]

/** A void long on the line and two lozenges behind a stroke. */
const F_LADDER: Path = [
  ...squareHead(0, 0, 1, { kind: "void" }, 0.46),
  ...uprightStroke(1, 0, 2.1, { width: 0.13, tip: 0.11, edge: "right" }),
  ...uprightStroke(1.3, 1.5, -1.35, { width: 0.13, tip: 0.11, edge: "left" }),
  ...moved(lozengeHead(0, 0, { kind: "void" }), 1.36, -0.66, 0.78, 0.74),
  ...moved(lozengeHead(0, 0, { kind: "void" }), 1.36, 0.66, 0.78, 0.74),
]

const GG_CLEF: Path = [...G_CLEF, ...moved(G_CLEF, 1.5, 0)]

/** The g was a letter throughout. */
export const CLEF_FORMS: Readonly<Record<ClefHand, Readonly<Record<Clef["shape"], Path>>>> = {
  letter: { C: C_LETTER, F: F_LETTER, G: G_CLEF, GG: GG_CLEF },
  square: { C: C_CLEF, F: F_CLEF, G: G_CLEF, GG: GG_CLEF },
  ladder: { C: C_LADDER, F: F_LADDER, G: G_CLEF, GG: GG_CLEF },
}
