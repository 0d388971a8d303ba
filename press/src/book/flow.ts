/** Words in lines: spans of several faces broken to a width, and written. */
import { textWidth, type TypeStyle } from "@resolutio/core"
import type PdfDocument from "pdfkit"
import type { Face } from "../pictures/fonts.js"
import type { Letters } from "./letters.js"

export interface Span {
  readonly text: string
  readonly face?: Face
  readonly fill?: string
}
/** A size with its line, in points. */
export interface Type {
  readonly face: Face
  readonly size: number
  readonly leading: number
  readonly fill: string
}
interface Piece {
  readonly text: string
  readonly face: Face
  readonly fill: string
}
export interface Line {
  readonly pieces: readonly Piece[]
  readonly type: Type
}

const spaced = (piece: Piece): Piece => ({ ...piece, text: `${piece.text} ` })

/** Where an unwieldy word is cut, so many letters are tried at once. */
const LONGEST_WORD = 2000

export class Flow {
  readonly #pdf: PdfDocument
  readonly #letters: Letters

  constructor(pdf: PdfDocument, letters: Letters) {
    this.#pdf = pdf
    this.#letters = letters
  }

  /** Lines of at most so much; "\n" ends one. There is always at least one. */
  lines(content: string | readonly Span[], type: Type, width: number): Line[] {
    const spans = typeof content === "string" ? [{ text: content }] : content
    const lines: { pieces: Piece[]; width: number; type: Type }[] = [{ pieces: [], width: 0, type }]
    for (const { text, face = type.face, fill = type.fill } of spans)
      text.split("\n").forEach((paragraph, i) => {
        if (i > 0) lines.push({ pieces: [], width: 0, type })
        for (const word of paragraph.match(/\s*[^\s]+|\s+$/g) ?? [])
          for (const part of this.#parts(word, face, type.size, width))
            this.#take(lines, { text: part, face, fill }, type, width)
      })
    return lines
  }

  #take(lines: { pieces: Piece[]; width: number; type: Type }[], piece: Piece, type: Type, width: number): void {
    let line = lines.at(-1)!
    let { text } = piece
    const whole = this.#measure(text, piece.face, type.size)
    if (line.pieces.length > 0 && line.width + whole > width && text.trim() !== "") {
      // for those to whom it is read, or who search it, the words of two lines stay parted
      if (/^\s/.test(text)) line.pieces[line.pieces.length - 1] = spaced(line.pieces.at(-1)!)
      lines.push((line = { pieces: [], width: 0, type }))
      text = text.trimStart()
    } else if (line.pieces.length === 0) text = text.trimStart()
    if (text === "") return
    const last = line.pieces.at(-1)
    if (last && last.face === piece.face && last.fill === piece.fill)
      line.pieces[line.pieces.length - 1] = { ...last, text: last.text + text }
    else line.pieces.push({ ...piece, text })
    line.width += this.#measure(text, piece.face, type.size)
  }

  /** A word as it is, or where it is longer than a line, cut. */
  #parts(word: string, face: Face, size: number, width: number): string[] {
    if (word.length < LONGEST_WORD && this.#measure(word, face, size) <= width) return [word]
    const parts: string[] = []
    let part = ""
    for (const letter of word) {
      if (part !== "" && this.#measure(part + letter, face, size) > width) {
        parts.push(part)
        part = ""
      }
      part += letter
    }
    return [...parts, part]
  }

  /** How wide letters stand one after another; near enough for breaking lines, and done in no time. */
  #measure(text: string, face: Face, size: number): number {
    return textWidth(text, { ...styleOf(face), size })
  }

  /** As it is written, with the letters that the typeface moves together. */
  #exact(text: string, face: Face, size: number): number {
    return this.#pdf.font(face, size).widthOfString(text)
  }

  width({ pieces, type }: Line): number {
    const runs = pieces.flatMap(({ text, face }) => this.#letters.runs(text, face))
    return runs.reduce((sum, run) => sum + this.#exact(run.text, run.face, type.size), 0)
  }

  /** With its left edge at x, its letters standing on y. */
  write(line: Line, x: number, y: number): void {
    const { size } = line.type
    let at = x
    const runs = line.pieces.flatMap(({ text, face, fill }) =>
      this.#letters.runs(text, face).map(run => ({ ...run, fill })),
    )
    runs.forEach(({ face, text, fill }, i) => {
      this.#pdf.font(face, size).fillColor(fill)
      this.#pdf.text(text, at, y, { lineBreak: false, baseline: "alphabetic" })
      if (i < runs.length - 1) at += this.#exact(text, face, size)
    })
  }
}

function styleOf(face: Face): Omit<TypeStyle, "size"> {
  const [family, weight, slope] = face.split("-")
  return {
    family: family as TypeStyle["family"],
    weight: Number(weight) as 400 | 600 | 700,
    italic: slope === "italic",
  }
}
