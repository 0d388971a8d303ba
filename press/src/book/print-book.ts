/** The edition of a piece as a book: what it holds is made by the core, the pages are made here. */
import {
  bookOf,
  type BookPart,
  type EditionConventions,
  type MeiHead,
  type Page,
  type Problem,
  type Reading,
  type Score,
} from "@resolutio/core"
import type { Tools } from "../tools.js"
import { bookPdf } from "./book-pdf.js"
import type { PaperName } from "./papers.js"

export interface BookWanted {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  readonly conventions: EditionConventions
  /** Names, incipits and ranges before the first system; else only the names. */
  readonly prefatory: boolean
  /** Of the MEI file that it came from. */
  readonly head?: MeiHead
  readonly contents: readonly BookPart[]
  readonly editor: string
  readonly paper: PaperName
  /** From which doubt on the report tells what else a sign could be, 0 to 1. */
  readonly doubtFrom: number
  /** "Resolutio 0.1.0". */
  readonly maker: string
  /** Told what is being done, each time something longer begins. */
  readonly onProgress?: (what: string) => void
}

export interface BookFile {
  readonly bytes: Uint8Array
  /** What could not be drawn as it is written. */
  readonly problems: readonly Problem[]
}

export async function printBook(wanted: BookWanted, tools: Tools): Promise<BookFile> {
  const { page, readings, score, conventions, editor, doubtFrom, head } = wanted
  const book = bookOf({ page, readings, score, conventions, editor, doubtFrom, ...(head ? { head } : {}) })
  const { bytes, missing } = await bookPdf({ ...wanted, book }, tools)
  return { bytes, problems: notDrawn(missing) }
}

function notDrawn(missing: readonly string[]): Problem[] {
  if (missing.length === 0) return []
  const shown = missing
    .slice(0, 12)
    .map(letter => `“${letter}” (U+${letter.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")})`)
  const more = missing.length > shown.length ? ` and ${missing.length - shown.length} more` : ""
  return [
    {
      code: "letters-missing",
      what: `The typefaces of the book do not have ${shown.join(", ")}${more}; a box stands in the place of each.`,
      mend: "Write these words in Latin, Greek or Cyrillic letters, or leave the boxes as they are.",
      severity: "warning",
    },
  ]
}
