/** Drawings as files, in the colours that are asked for. */
import { themeNamed, type Scene, type Theme } from "@resolutio/core"
import { pictureOf } from "@resolutio/press"
import type { Format, Known } from "../formats.js"
import { TOOLS } from "../tools.js"

export type PictureEnding = ".svg" | ".png" | ".pdf"
export const TYPES: Readonly<Record<PictureEnding, string>> = {
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".pdf": "application/pdf",
}

/** Width of an A4 sheet, its height being 1; px in the width of a drawing of the page. */
export const acrossTheSheet = 595.28 / 841.89
export const USUAL_WIDTH = 1200

/** More points than a picture can well have: they are all held in memory at once. */
const MOST_POINTS = 150_000_000

const themeOf = ({ wishes }: Known): Theme => themeNamed(wishes.theme) ?? themeNamed("light")!

/** A file of a drawing: `what` stands in its name before the ending. */
export function picture(what: string, ending: PictureEnding, sheets: (piece: Known) => readonly Scene[]): Format {
  return {
    ending: `.${what}${ending}`,
    type: TYPES[ending],
    make: piece => pictured(sheets(piece), ending, piece),
  }
}

export function pictured(
  sheets: readonly Scene[],
  ending: PictureEnding,
  piece: Known,
  pageWidth?: number,
): Promise<string | Uint8Array> {
  const { width, height } = sheets[0]!
  if (ending === ".png" && width * height > MOST_POINTS)
    throw new Error(`as PNG it would be ${Math.round(width)} × ${Math.round(height)} px; a PDF has pages`)
  return pictureOf(
    sheets,
    ending,
    { theme: themeOf(piece), outlines: piece.wishes.outlines, ...(pageWidth === undefined ? {} : { pageWidth }) },
    TOOLS,
  )
}
