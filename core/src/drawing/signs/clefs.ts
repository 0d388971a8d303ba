/** Clefs in their older forms, signatures and custodes, in staff spaces. */
import type { Clef, Custos, Pitch, Signature, Step } from "../../page/index.js"
import type { Path } from "../scene/scene.js"
import { accidentalPath, accidentalWidth } from "./accidentals.js"
import { CLEF_FORMS } from "./clef-forms.js"
import { HIGHEST, LOWEST, drawn, inked, within, yOf, type ClefHand, type Drawn, type SignStyle } from "./drawn.js"
import { squareHead } from "./heads.js"
import { moved, straightStroke, uprightStroke } from "./outline.js"
import { remembering } from "./remembered.js"

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

export function drawClef({ shape, line }: Pick<Clef, "shape" | "line">, hand: ClefHand = "square"): Drawn {
  const at = within(2 * (line - 1), LOWEST, HIGHEST)
  return rememberedClef(`${shape} ${at} ${hand}`, () =>
    drawn([inked("clef", moved(CLEF_FORMS[hand][shape], 0, yOf(at)))]),
  )
}
const rememberedClef = remembering()

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
