/** How wide words stand, without a browser: the advance widths of the letters, added up (kerning is left out). */
import type { TypeStyle } from "../scene/scene.js"
import { ADVANCES, RANGES } from "./metrics.generated.js"

/** Alegreya's and Source Sans 3's own heights, in parts of the size. */
export const X_HEIGHT = { words: 0.452, figures: 0.486 } as const
export const ASCENT = { words: 0.76, figures: 0.73 } as const
export const DESCENT = { words: 0.25, figures: 0.21 } as const

const faces = new Map<string, Map<number, number>>()

/**
 * Width of the text in the units of the type's size. A letter that the table lacks counts as 0.6 of its size, one of the scripts
 * whose letters fill a square, or a small picture, as the whole.
 */
export function textWidth(text: string, type: TypeStyle): number {
  const widths = faceOf(type)
  let sum = 0
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    const width = code < PLAIN ? widths.get(code) : undefined
    if (!width) return widthOfLetters(text, widths, type)
    sum += width
  }
  return (sum / 1000) * type.size
}

/** Code points below are letters of one unit. */
const PLAIN = 0x300

function widthOfLetters(text: string, widths: ReadonlyMap<number, number>, type: TypeStyle): number {
  let sum = 0
  for (const letter of text)
    sum += widths.get(letter.codePointAt(0)!) || (letter === ELISION ? widths.get(BLANK)! : estimated(letter))
  return (sum / 1000) * type.size
}

/** Stands between two syllables on one note. It is drawn as a blank with a bow. */
export const ELISION = "‿"
const BLANK = 0x20

const NO_WIDTH = /^[\p{Mark}\p{Format}\p{Variation_Selector}\p{Emoji_Modifier}]$/u
/** Han, kana, hangul (as Unicode's "East Asian Width" has them), and small pictures. */
const SQUARE = /^[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff01-\uff60\u{1f000}-\u{3fffd}]$/u
const estimated = (letter: string): number => (NO_WIDTH.test(letter) ? 0 : SQUARE.test(letter) ? 1000 : 600)

/** By the type itself: a drawing has few, and asks for each many times. */
const facesOfTypes = new WeakMap<TypeStyle, Map<number, number>>()

function faceOf(type: TypeStyle): Map<number, number> {
  let face = facesOfTypes.get(type)
  if (face === undefined) facesOfTypes.set(type, (face = nearestFace(type)))
  return face
}

/** The face that comes nearest: not every weight has an italic. */
function nearestFace({ family, weight = 400, italic = false }: TypeStyle): Map<number, number> {
  const heavy = weight === 600 && family === "words" ? 700 : weight
  const name = `${family}-${heavy}${italic ? "-italic" : ""}`
  const known = ADVANCES[name] === undefined ? `${family}-${heavy}` : name
  const found = faces.get(known)
  if (found) return found
  const face = unpack(ADVANCES[known]!)
  faces.set(known, face)
  return face
}

function unpack(row: string): Map<number, number> {
  const widths = row.split(" ").map(Number)
  const points = RANGES.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => from + i))
  return new Map(points.map((point, i) => [point, widths[i]!]))
}

const widths = new WeakMap<TypeStyle, Map<string, number>>()
const MOST_WIDTHS = 1000

/** The same, of words that are asked for again and again in one type. */
export function knownWidth(text: string, type: TypeStyle): number {
  let known = widths.get(type)
  if (known === undefined) widths.set(type, (known = new Map()))
  let width = known.get(text)
  if (width === undefined) {
    if (known.size >= MOST_WIDTHS) known.clear()
    known.set(text, (width = textWidth(text, type)))
  }
  return width
}
