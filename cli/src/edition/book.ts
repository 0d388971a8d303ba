/** `resolutio score -o NAME.pdf`: the whole edition as a book. What may be asked of it, and what is said while it is made. */
import { Option, type Command } from "commander"
import {
  BOOK_PARTS,
  bookOf,
  meiHead,
  type BookPart,
  type EditionConventions,
  type Problem,
  type Result,
  type Score,
} from "@resolutio/core"
import type { Input } from "../input.js"
import { either } from "../messages.js"
import { parseDoubt } from "../report.js"
import type { PageRead } from "../reading.js"
import type { Shell } from "../shell.js"
import { VERSION } from "../version.js"
import { PAPERS, type PaperName } from "./style.js"

export interface BookFlags {
  readonly contents?: string
  readonly editor?: string
  readonly paper?: string
  readonly doubt?: string
}

export function withBookOptions(command: Command): Command {
  return command
    .option("--contents <parts>", `PDF: what the book holds, of ${BOOK_PARTS.join(",")} (default: all)`)
    .option("--editor <name>", "PDF: who made the edition (default: whom the file names)")
    .addOption(new Option("--paper <size>", "PDF: size of the pages").choices(Object.keys(PAPERS)).default("a4"))
    .option("--doubt <number>", "PDF: the report tells what else it could be from this doubt on, 0 to 1 (default: 0.2)")
}

export interface BookChoice {
  readonly contents: readonly BookPart[]
  readonly editor: string
  readonly paper: PaperName
  readonly doubtFrom: number
}

/** What was asked for, or what is wrong with it. */
export function bookChoice({ contents, editor = "", paper = "a4", doubt }: BookFlags): Result<BookChoice> {
  const doubtFrom = parseDoubt(doubt)
  if (!doubtFrom.ok) return doubtFrom
  const wanted = (contents ?? BOOK_PARTS.join(","))
    .split(",")
    .map(part => part.trim().toLowerCase())
    .filter(Boolean)
  const unknown = wanted.find(part => !(BOOK_PARTS as readonly string[]).includes(part))
  if (unknown !== undefined || wanted.length === 0) return { ok: false, problems: [noSuchPart(unknown)] }
  const chosen = BOOK_PARTS.filter(part => wanted.includes(part))
  const value = { contents: chosen, editor: editor.trim(), paper: paper as PaperName, doubtFrom: doubtFrom.value }
  return { ok: true, value, problems: [] }
}

function noSuchPart(part: string | undefined): Problem {
  return {
    code: "no-such-part",
    what: part === undefined ? "A book of nothing was asked for." : `A book has no part “${part}”.`,
    where: { place: "--contents" },
    mend: `Name ${either(BOOK_PARTS)}, several with commas between them.`,
    severity: "error",
  }
}

export interface PieceToPrint extends PageRead {
  readonly score: Score
  readonly conventions: EditionConventions
  readonly prefatory: boolean
}

/** The file, and what had to be left out of it. */
export async function printBook(
  piece: PieceToPrint,
  input: Input,
  { contents, editor, paper, doubtFrom }: BookChoice,
  shell: Shell,
): Promise<{ readonly bytes: Uint8Array; readonly problems: readonly Problem[] }> {
  const { page, readings, score, conventions, prefatory } = piece
  const head = input.document && { head: meiHead(input.document.source) }
  const book = bookOf({ page, readings, score, conventions, editor, doubtFrom, ...head })
  const { bookPdf } = await import("./book-pdf.js")
  const made = await bookPdf({
    page,
    book,
    conventions,
    contents,
    paper,
    prefatory,
    editor,
    maker: `Resolutio ${VERSION}`,
    onProgress: progress(shell),
  })
  return { bytes: made.bytes, problems: notDrawn(made.missing) }
}

/** Nothing is said of what is done within so many milliseconds. */
const PATIENCE = 400
function progress(shell: Shell): (what: string) => void {
  const start = Date.now()
  return what => {
    if (shell.columns !== undefined && Date.now() - start > PATIENCE) shell.err(`${what} …`)
  }
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
