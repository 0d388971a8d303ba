/** What signs look like, as keys: signs with the same key are drawn alike, so that what was drawn for one serves for all. */
import type { Dot, Note, Rest } from "../../page/index.js"
import type { SignStyle } from "./drawn.js"

/** Most are numbers, which are found several times faster. */
export type LookKey = string | number

const numbers = new Map<unknown, number>()
/** Of the names of levels and colours: a small number of each. */
function numberOf(name: unknown): number {
  let number = numbers.get(name)
  if (number === undefined) numbers.set(name, (number = numbers.size))
  return number
}

function plainKey({ level, coloration }: Note, position: number, { white, lines }: SignStyle): LookKey {
  const [first, second, high] = [numberOf(level), numberOf(coloration), position + 512]
  const fits = first < 64 && second < 64 && high >= 0 && high < 1024 && lines < 32 && Number.isInteger(lines)
  return fits && Number.isInteger(position)
    ? (((first * 64 + second) * 1024 + high) * 32 + lines) * 2 + (white ? 1 : 0)
    : `${level} ${coloration} ${position} ${white} ${lines}`
}

/** Whatever an editor has done to it, and whatever is sung to it. */
export function noteKey(note: Note, position: number, style: SignStyle): LookKey {
  const { accidental, accidentalByEditor, stems, plica, shape, fermata, duplex, wide } = note
  const key = plainKey(note, position, style)
  if (accidental === undefined && stems.length === 0 && !plica && !shape && !fermata && !duplex && !wide) return key
  const { shapes } = style
  const defined = shape === undefined ? undefined : shapes?.get(shape)
  return `${key} ${accidental} ${accidentalByEditor} ${shape} ${fermata} ${duplex} ${wide} ${JSON.stringify([stems, plica, defined])}`
}

export const restKey = ({ level, spaces, loc, coloration, fermata }: Rest, { lines }: SignStyle): LookKey =>
  `rest ${level} ${spaces?.num}/${spaces?.den} ${loc} ${coloration} ${fermata} ${lines}`

/** Of a dot behind a note at this position. */
export const dotKey = ({ loc, form }: Dot, position: number): LookKey => `dot ${loc} ${form} ${position}`
