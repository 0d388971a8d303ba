/** Our typeface as the engraver has to know it, so that the room it leaves for words is the room that they take. */
import { textWidth, type TypeStyle } from "../../drawing/index.js"

export interface EngraverFont {
  /** Of the engraver's own table that is replaced. */
  readonly name: string
  /** Box and advance of each letter, in thousandths of the size. */
  readonly table: string
}

const FACES: readonly (readonly [string, Omit<TypeStyle, "size">])[] = [
  ["Times", { family: "words" }],
  ["Times-italic", { family: "words", italic: true }],
  ["Times-bold", { family: "words", weight: 700 }],
  ["Times-bold-italic", { family: "words", weight: 700, italic: true }],
]
/** Latin with its accents, dashes and quotation marks. */
const RANGES = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x2010, 0x2026],
] as const

/** Tables for the four faces that the engraver knows, in its own form. */
export function engraverFonts(): EngraverFont[] {
  return FACES.map(([name, face]) => ({ name, table: tableOf(name, { ...face, size: 1000 }) }))
}

function tableOf(name: string, type: TypeStyle): string {
  const letters = RANGES.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => from + i))
  const rows = letters.map(point => {
    const letter = String.fromCodePoint(point)
    const width = Math.round(textWidth(letter, type))
    const [low, high] = reach(letter)
    const box = letter.trim() === "" ? `w="${width}" h="0"` : `w="${width}" h="${high - low}"`
    return `<g c="${point.toString(16).toUpperCase()}" x="0" y="${low}" ${box} h-a-x="${width}"/>`
  })
  rows.push(
    `<g c="${ROOM_LETTER.codePointAt(0)!.toString(16).toUpperCase()}" x="0" y="0" w="${ROOM_WIDTH}" h="0" h-a-x="${ROOM_WIDTH}"/>`,
  )
  return `<?xml version="1.0" encoding="UTF-8"?>\n<bounding-boxes font-family="${name.split("-")[0]}" units-per-em="1000">\n${rows.join("\n")}\n</bounding-boxes>\n`
}

/** How far a letter reaches below and above its line: the typeface's own heights, by kinds of letters. */
function reach(letter: string): readonly [low: number, high: number] {
  const bare = letter.normalize("NFD")
  const low = /[gjpqyQ,;¸ąçęŋþ()[\]{}|]/u.test(letter) ? -240 : 0
  const tall = /[bdfhijklt\p{Lu}\d()[\]{}|!?'"‘’“”þßðđħłŀ]/u.test(letter)
  const accents = bare.length > 1 ? 200 : 0
  return [low, Math.min(900, (tall ? 740 : 460) + accents)]
}

/** A letter that no text has: the engraver takes it for one of `ROOM_WIDTH` thousandths of the size, and it is never drawn. */
export const ROOM_LETTER = "\uF8F0"
const ROOM_WIDTH = 200
/** Size of labels in the engraver's units. */
const LABEL_SIZE = 405

/** A label that makes the engraver leave so much room before the first system, in its units. */
export function roomText(room: number): string {
  return ROOM_LETTER.repeat(Math.ceil(room / ((LABEL_SIZE * ROOM_WIDTH) / 1000)))
}
