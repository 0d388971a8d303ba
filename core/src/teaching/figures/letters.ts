/** Words in figures: sizes by what they are for, in the units of a picture 1080 high, and lines that fit. */
import { textWidth, wrapped, type Role, type TextMark, type TypeStyle } from "../../drawing/index.js"

/** The smallest size that any letter has, in units. */
export const SMALLEST_TYPE = 24

export const words = (size: number, more: Partial<TypeStyle> = {}): TypeStyle => ({ family: "words", size, ...more })
export const figures = (size: number, more: Partial<TypeStyle> = {}): TypeStyle => ({
  family: "figures",
  size,
  ...more,
})

export const NAME = words(36, { weight: 700 })
export const RUBRIC = words(32, { italic: true })
/** Width of the rows' names at the left of the staves. */
export const RUBRIC_ROOM = 196
export const FEW_WORDS = words(26)
export const COUNT = figures(32, { weight: 600 })
export const SUM = figures(28, { weight: 600 })
export const SOURCE = figures(26)

export interface Written {
  readonly part: string
  readonly fill: Role
  readonly anchor?: "start" | "middle" | "end"
}

export function letters(
  text: string,
  x: number,
  y: number,
  type: TypeStyle,
  { part, fill, anchor }: Written,
): TextMark {
  const length = textWidth(text, type)
  return { shape: "text", part, x, y, text, type, length, fill, ...(anchor ? { anchor } : {}) }
}

export interface Block {
  readonly marks: readonly TextMark[]
  readonly height: number
}

/** Lines under one another from the top on, none wider than the room; the last line's foot has its descenders below it. */
export function paragraph(
  text: string,
  { x, top, room, step }: { x: number; top: number; room: number; step?: number },
  type: TypeStyle,
  written: Written,
): Block {
  const leading = step ?? type.size * 1.26
  const lines = text.trim() === "" ? [] : wrapped(text, type, room)
  const marks = lines.map((line, i) => letters(line, x, top + i * leading + type.size * 0.8, type, written))
  return { marks, height: lines.length * leading }
}

/** The largest size, down to `least`, at which the text stands in so many lines. */
export function fittingSize(text: string, type: TypeStyle, room: number, lines: number, least: number): TypeStyle {
  for (let size = type.size; size > least; size -= 2) {
    const own = { ...type, size }
    const set = wrapped(text, own, room)
    if (set.length <= lines && set.every(line => textWidth(line, own) <= room)) return own
  }
  return { ...type, size: least }
}

/** Cut short where it is too long for one line. */
export function cutTo(text: string, room: number, type: TypeStyle): string {
  let cut = text
  for (let kept = text.length - 1; kept > 0 && textWidth(cut, type) > room; kept--)
    cut = `${text.slice(0, kept).trimEnd()}…`
  return cut
}
