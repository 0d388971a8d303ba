/** Which typeface draws which letter: the one that is asked for, or the other, or a box where neither has it. */
import type { Font } from "fontkit"
import { bytesOf, type Face, type Typefaces } from "../pictures/fonts.js"

export interface Run {
  readonly face: Face
  readonly text: string
}

/** Faces by what they have; the reader of fonts is loaded when this is called. */
export async function openLetters(typefaces: Typefaces): Promise<Letters> {
  const { create } = await import("fontkit")
  return new Letters(face => create(bytesOf(typefaces, face)))
}

const BOX = "\u25a1"

export class Letters {
  readonly #open: (face: Face) => Font
  readonly #known = new Map<Face, ReadonlySet<number>>()
  /** Letters that no typeface has, in the order met. */
  readonly missing = new Set<string>()

  constructor(open: (face: Face) => Font) {
    this.#open = open
  }

  /** The text in stretches that one face can draw. Control characters become spaces, halves of letters boxes. */
  runs(text: string, face: Face): Run[] {
    const runs: { face: Face; text: string }[] = []
    for (const letter of clean(text)) {
      const own = this.#faceFor(letter, face)
      if (own === undefined) this.missing.add(letter)
      const [drawn, by] = own === undefined ? [BOX, face] : [letter, own]
      const last = runs.at(-1)
      if (last?.face === by) last.text += drawn
      else runs.push({ face: by, text: drawn })
    }
    return runs
  }

  #faceFor(letter: string, face: Face): Face | undefined {
    const point = letter.codePointAt(0)!
    // plain Latin is in all of them
    if (point >= 0x20 && point < 0x7f) return face
    const other = otherFamily(face)
    return this.#has(face, point) ? face : this.#has(other, point) ? other : undefined
  }

  #has(face: Face, point: number): boolean {
    const known = this.#known.get(face) ?? new Set(this.#open(face).characterSet)
    this.#known.set(face, known)
    return known.has(point)
  }
}

function otherFamily(face: Face): Face {
  const italic = face.endsWith("-italic")
  const heavy = !face.includes("-400")
  if (face.startsWith("figures")) return `words-${heavy ? 700 : 400}${italic ? "-italic" : ""}`
  return heavy ? "figures-700" : italic ? "figures-400-italic" : "figures-400"
}

/**
 * Text as it may stand in a PDF: no controls, no marks that turn the direction (there is no letter of a script that they are
 * for), no half of a letter. Composed, for the typefaces have most accented letters as one.
 */
export function clean(text: string): string {
  return (
    text
      .normalize("NFC")
      // oxlint-disable-next-line no-control-regex -- these are the ones to find
      .replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, " ")
      .replace(/[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]|\p{Variation_Selector}/gu, "")
      .replace(/[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, BOX)
  )
}
