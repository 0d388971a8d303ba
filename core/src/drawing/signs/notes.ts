/** Single notes. */
import type { Accidental, Level, Note } from "../../page/index.js"
import type { Box, Mark, Path } from "../scene/scene.js"
import { accidentalPath, accidentalWidth } from "./accidentals.js"
import { drawn, inked, yOf, type Drawn, type SignStyle } from "./drawn.js"
import {
  BREVE_WIDTH,
  DUPLEX_WIDTH,
  LOZENGE_HEIGHT,
  LOZENGE_WIDTH,
  MAXIMA_WIDTH,
  inkOf,
  lozengeHead,
  squareHead,
  type Ink,
} from "./heads.js"
import { fermataMarks } from "./signa.js"
import { boxOf } from "./outline.js"
import { flagPaths, isLozenge, plicaPaths, stemPath, stemsOf, type Bearer } from "./stems.js"
import { LEVELS } from "../../page/index.js"
import { shaped } from "./shapes.js"

/** A note whose level is not known is drawn as a breve. */
export const levelOf = (note: Note): Level => note.level ?? "brevis"

/** Ink and filling of a note by its level, coloration and the notation. */
export function noteInk(note: Note, { white }: SignStyle): Ink {
  const level = levelOf(note)
  return inkOf(note.coloration, white && (LEVELS.indexOf(level) <= LEVELS.indexOf("minima") || voidSmall(note)))
}

/** A small white note whose flag was recorded as a semiminim's own is the void form; else it is the full one. */
const voidSmall = (note: Note): boolean =>
  note.level === "semiminima" && note.stems.some(stem => stem.flag !== undefined)

export function headWidth(note: Note, level: Level): number {
  if (isLozenge(level)) return LOZENGE_WIDTH
  if (note.duplex) return DUPLEX_WIDTH
  return level === "maxima" || note.wide ? MAXIMA_WIDTH : BREVE_WIDTH
}

/** Flags by level: full small notes of white notation have one fewer than black ones. */
export function flagCount(note: Note, { white }: SignStyle): number {
  const recorded = note.stems.some(stem => stem.flag !== undefined) ? 1 : 0
  const below = LEVELS.indexOf(levelOf(note)) - LEVELS.indexOf("minima")
  if (below <= 0) return recorded
  return Math.max(recorded, white && !voidSmall(note) ? below - 1 : below)
}

/** A note with its head's left edge (or that of its accidental) at 0. */
export function drawNote(written: Note, position: number, style: SignStyle): Drawn {
  const note = shaped(written, style.shapes)
  const level = levelOf(note)
  const y = yOf(position)
  const { marks, x } = accidentalBefore(note.accidental, y, note.accidentalByEditor)
  const ink = noteInk(note, style)
  const width = headWidth(note, level)
  const lozenge = isLozenge(level)
  const outline = lozenge ? lozengeHead(x, y, ink.filling) : squareHead(x, y, width, ink.filling)
  const half = lozenge ? LOZENGE_HEIGHT / 2 : 0.6
  const body: Box = { left: x, right: x + width, top: y - half, bottom: y + half }
  const head: Bearer = { body, y, lozenge, hollow: ink.filling.kind !== "full" }
  const path = [...outline, ...strokesOf(note, level, head, style)]
  return drawn([...marks, inked("head", path, ink.role), ...fermataOver(note, body, style, boxOf(path).top)], body)
}

function strokesOf(note: Note, level: Level, head: Bearer, style: SignStyle): Path {
  const stems = stemsOf(note, level)
  const flags = flagCount(note, style)
  const bearer = stems.find(stem => stem.flag !== undefined) ?? stems.find(stem => stem.direction === "up") ?? stems[0]
  return [
    ...stems.flatMap(stem => stemPath(stem, head)),
    ...(bearer && flags > 0 ? flagPaths(bearer, head, flags) : []),
    ...(note.plica ? plicaPaths(note.plica, level, head) : []),
  ]
}

/** The accidental that is written with a note stands close before it; an editor's stands small above the staff and takes no room here. */
export function accidentalBefore(
  accidental: Accidental | undefined,
  y: number,
  byEditor = false,
): { marks: readonly Mark[]; x: number } {
  if (accidental === undefined || byEditor) return { marks: [], x: 0 }
  return { marks: [inked("accidental", accidentalPath(accidental, 0, y))], x: accidentalWidth(accidental) + 0.3 }
}

export function fermataOver(
  note: { readonly fermata?: boolean },
  body: Box,
  { lines }: SignStyle,
  highest = body.top,
): Mark[] {
  if (!note.fermata) return []
  const top = Math.min(yOf(2 * (lines - 1)), highest)
  return fermataMarks((body.left + body.right) / 2, top - 0.5)
}
