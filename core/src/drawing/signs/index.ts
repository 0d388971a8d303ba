/** Our own forms of the old signs: a sign and its place on the staff give marks and a box, in staff spaces. */
import type { Accidental, Note, Sign } from "../../page/index.js"
import type { Item } from "../scene/scene.js"
import { accidentalPath } from "./accidentals.js"
import { drawClef, drawCustos, drawSignature, positionOf, type ClefPlace } from "./clefs.js"
import { HIGHEST, LOWEST, UNSEEN, drawn, inked, within, yOf, type Drawn, type SignStyle } from "./drawn.js"
import { drawLigature, ligatureItem } from "./ligatures.js"
import { drawMensuration, drawProportion } from "./mensuration.js"
import { drawNote } from "./notes.js"
import { remembering } from "./remembered.js"
import { drawDot, drawRest, drawStroke } from "./rests.js"
import { drawComment, drawOther } from "./others.js"
import { drawPageMark } from "./signa.js"

export { USUAL_CLEF, positionOf, type ClefPlace } from "./clefs.js"
export { drawLigature, ligatureItem, type DrawnLigature, type DrawnMember } from "./ligatures.js"
export { drawNote, accidentalBefore } from "./notes.js"
export { drawDot, drawRest, drawStroke } from "./rests.js"
export { drawClef, drawCustos, drawSignature } from "./clefs.js"
export { drawMensuration, drawProportion } from "./mensuration.js"
export { drawPageMark, fermataMarks } from "./signa.js"
export { accidentalPath, accidentalWidth } from "./accidentals.js"
export { noteOver } from "./others.js"
export { bracket, editorial, isByEditor } from "./editorial.js"
export { clefFor, styleOf } from "./style.js"
export { glyphLook, shaped, shapesOf, type Shapes } from "./shapes.js"
export { UNSEEN, drawn, inked, markBox, yOf, type ClefHand, type Drawn, type SignStyle } from "./drawn.js"
export { dotKey, noteKey, restKey, type LookKey } from "./looks.js"
export { around, ellipse, moved } from "./outline.js"

/** Where a sign stands: the clef in force, and the position of the note before it. */
export interface SignPlace {
  readonly clef: ClefPlace
  /** Steps above the bottom line of the last note, for a dot. */
  readonly before?: number | undefined
}

/** A sign as an item with its id, and the room it takes. */
export interface DrawnSign extends Pick<Drawn, "box" | "body"> {
  readonly item: Item
}

/** Draws a sign of any kind with its left edge at 0. */
export function drawSign(sign: Sign, place: SignPlace, style: SignStyle): DrawnSign {
  if (sign.kind === "ligature") {
    const ligature = drawLigature(sign, note => notePosition(note, place.clef, style), style)
    return { item: ligatureItem(sign, ligature), box: ligature.box, body: ligature.body }
  }
  const { content, box, body } = marksOf(sign, place, style)
  return { item: { shape: "group", part: sign.kind, sign: sign.id, content }, box, body }
}

/** A note without pitch stands on the middle of the staff. */
export const notePosition = ({ pitch }: Pick<Note, "pitch">, clef: ClefPlace, { lines }: SignStyle): number =>
  pitch === undefined ? lines - 1 : within(positionOf(pitch, clef), LOWEST, HIGHEST)

const rememberedAccidental = remembering()
const drawAccidental = (accidental: Accidental, position: number): Drawn =>
  rememberedAccidental(`${accidental} ${position}`, () =>
    drawn([inked("accidental", accidentalPath(accidental, 0, yOf(position)))]),
  )

function marksOf(sign: Exclude<Sign, { kind: "ligature" }>, { clef, before }: SignPlace, style: SignStyle): Drawn {
  switch (sign.kind) {
    case "note":
      return drawNote(sign, notePosition(sign, clef, style), style)
    case "rest":
      return drawRest(sign, style)
    case "dot":
      return drawDot(sign, before ?? style.lines - 1)
    case "stroke":
      return drawStroke(sign, style)
    case "mensuration":
      return drawMensuration(sign, style)
    case "proportion":
      return drawProportion(sign, style)
    case "clef":
      return drawClef(sign, style.clefs)
    case "signature":
      return drawSignature(sign, clef, style)
    case "accidental":
      return drawAccidental(sign.accidental, notePosition(sign, clef, style))
    case "custos":
      return drawCustos(sign, notePosition(sign, clef, style), style)
    case "mark":
      return drawPageMark(sign, style)
    case "comment":
      return drawComment(sign, style)
    case "other":
      return drawOther(sign, style)
    // where a line ends
    case "break":
      return UNSEEN
  }
}
