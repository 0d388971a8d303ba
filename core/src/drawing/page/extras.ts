/** What is put to the notes of the source: short lines outside the staff, and an editor's accidentals. */
import type { Sign } from "../../page/index.js"
import type { Box, Mark, TextMark } from "../scene/scene.js"
import {
  accidentalPath,
  inked,
  markBox,
  moved,
  notePosition,
  yOf,
  type ClefPlace,
  type SignStyle,
} from "../signs/index.js"
import { STAFF_LINE } from "./options.js"
import { notesIn } from "./words.js"

/** Short lines through and up to a note outside the staff. */
export function ledgers(sign: Sign, clef: ClefPlace, style: SignStyle, marks: readonly Mark[]): Mark[] {
  const top = 2 * (style.lines - 1)
  return notesIn(sign).flatMap((note, i) => {
    const position = notePosition(note, clef, style)
    const outside = Math.min(12, Math.floor((position > top ? position - top : -position) / 2))
    if (outside <= 0) return []
    const head = headBox(marks, i)
    return Array.from({ length: outside }, (_, k) => {
      const y = position > top ? yOf(top + 2 * (k + 1)) : yOf(-2 * (k + 1))
      return ledger(head.left - 0.3, head.right + 0.3, y)
    })
  })
}

/** Box of the head of the note of this number in the sign. */
function headBox(marks: readonly Mark[], at: number): Box {
  const head = marks.filter(mark => mark.part === "head")[at]
  if (head === undefined) throw new Error(`headBox(${at}): the sign has no such head`)
  return markBox(head)
}
const ledger = (x1: number, x2: number, y: number): Mark => ({
  shape: "line",
  part: "ledger",
  x1,
  x2,
  y1: y,
  y2: y,
  stroke: { role: "staff", width: STAFF_LINE },
})

/** An accidental that an editor put to a note: small, in brackets, above the staff and above the note. */
export function editorsAccidentals(sign: Sign, style: SignStyle, marks: readonly Mark[]): Mark[] {
  return notesIn(sign).flatMap((note, i) => {
    if (!note.accidentalByEditor || note.accidental === undefined) return []
    const head = headBox(marks, i)
    const top = Math.min(yOf(2 * (style.lines - 1)), head.top) - 1.3
    return bracketed(note.accidental, (head.left + head.right) / 2, top)
  })
}

const EDITOR_SCALE = 0.82
function bracketed(accidental: string, x: number, y: number): Mark[] {
  const path = moved(accidentalPath(accidental, 0, 0), 0, 0, EDITOR_SCALE, EDITOR_SCALE)
  const accidentalMark = inked("editor", path, "second")
  const { left, right } = markBox(accidentalMark)
  const width = right - left
  const bracket = (at: number, text: string): TextMark => ({
    shape: "text",
    part: "editor",
    x: at,
    y: y + 0.35,
    text,
    type: { family: "figures", size: 1.5 },
    anchor: "middle",
    fill: "second",
  })
  return [
    inked("editor", moved(path, x - width / 2 - left, y), "second"),
    bracket(x - width / 2 - 0.35, "["),
    bracket(x + width / 2 + 0.35, "]"),
  ]
}
