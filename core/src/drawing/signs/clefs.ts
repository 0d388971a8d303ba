/** Clefs in their older forms, signatures and custodes, in staff spaces. */
import type { Clef, Custos, Pitch, Signature, Step } from "../../page/index.js"
import type { Path } from "../scene/scene.js"
import { accidentalPath, accidentalWidth } from "./accidentals.js"
import { HIGHEST, LOWEST, drawn, inked, within, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { lozengeHead, squareHead } from "./heads.js"
import { moved, straightStroke, uprightStroke } from "./outline.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
/** Degrees above c of octave 0. */
const degree = ({ step, octave }: Pitch): number => octave * 7 + STEPS.indexOf(step)
const NAMED: Readonly<Record<Clef["shape"], Pitch>> = {
  C: { step: "c", octave: 4 },
  F: { step: "f", octave: 3 },
  G: { step: "g", octave: 4 },
  // two of them name the g below
  GG: { step: "g", octave: 3 },
}

export type ClefPlace = Pick<Clef, "shape" | "line" | "octaveShift">
/** When a voice has no clef: c on the line in the middle of five. */
export const USUAL_CLEF: ClefPlace = { shape: "C", line: 3 }

/** Position of a pitch on the staff under a clef: steps above the bottom line. */
export function positionOf(pitch: Pitch, { shape, line, octaveShift = 0 }: ClefPlace): number {
  return degree(pitch) - degree(NAMED[shape]) - 7 * octaveShift + 2 * (line - 1)
}

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

const FORMS: Readonly<Record<Clef["shape"], Path>> = {
  C: C_CLEF,
  F: F_CLEF,
  G: G_CLEF,
  GG: [...G_CLEF, ...moved(G_CLEF, 1.5, 0)],
}

export function drawClef(clef: Pick<Clef, "shape" | "line">): Drawn {
  return drawn([inked("clef", moved(FORMS[clef.shape], 0, yOf(within(2 * (clef.line - 1), LOWEST, HIGHEST))))])
}

/** Each accidental on the place of its step nearest the middle of the staff, or in the octave it names. */
export function drawSignature(signature: Signature, clef: ClefPlace, { lines }: SignStyle): Drawn {
  let x = 0
  const marks = signature.accidentals.map(({ step, octave, accidental }) => {
    const position =
      octave === undefined ? nearMiddle(step, clef, lines) : within(positionOf({ step, octave }, clef), LOWEST, HIGHEST)
    const mark = inked("signature", accidentalPath(accidental, x, yOf(position)))
    x += accidentalWidth(accidental) + 0.2
    return mark
  })
  return drawn(marks)
}

function nearMiddle(step: Step, clef: ClefPlace, lines: number): number {
  const middle = lines - 1
  const lowest = positionOf({ step, octave: 0 }, clef)
  return lowest + 7 * Math.round((middle - lowest) / 7)
}

/** In black notation a narrow head with a hair upwards, in white the zigzag of a hand that goes on. */
export function drawCustos(_custos: Custos, position: number, { white }: SignStyle): Drawn {
  const y = yOf(position)
  return drawn([inked("custos", moved(white ? WHITE_CUSTOS : BLACK_CUSTOS, 0, y))])
}
const BLACK_CUSTOS: Path = [
  ...moved(squareHead(0, 0, 0.5, { kind: "full" }, 0.4), 0, 0),
  ...uprightStroke(0.5, 0, -1.7, { width: 0.1, tip: 0.07, edge: "right" }),
]
const WHITE_CUSTOS: Path = [
  ...straightStroke(0, -0.3, 0.32, 0.36, 0.2, 0.16),
  ...straightStroke(0.28, 0.36, 0.52, -0.3, 0.09, 0.09),
  ...straightStroke(0.5, -0.32, 0.84, 0.36, 0.2, 0.16),
  ...straightStroke(0.8, 0.38, 1.5, -1.35, 0.1, 0.06),
]
