/** `resolutio score -o NAME.pdf`: the whole edition as a book. What may be asked of it, and what is said while it is made. */
import { Option, type Command } from "commander"
import {
  BOOK_PARTS,
  meiHead,
  type BookPart,
  type EditionConventions,
  type Problem,
  type Result,
  type Score,
} from "@resolutio/core"
import { PAPER_NAMES, printBook as print, type BookFile, type PaperName } from "@resolutio/press"
import type { Input } from "../input.js"
import { either } from "../messages.js"
import { parseDoubt } from "../report.js"
import type { PageRead } from "../reading.js"
import type { Shell } from "../shell.js"
import { VERSION } from "../version.js"
import { TOOLS } from "../tools.js"

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
    .addOption(new Option("--paper <size>", "PDF: size of the pages").choices(PAPER_NAMES).default("a4"))
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
): Promise<BookFile> {
  const { page, readings, score, conventions, prefatory } = piece
  const head = input.document && { head: meiHead(input.document.source) }
  const asked = { contents, editor, paper, doubtFrom, maker: `Resolutio ${VERSION}`, onProgress: progress(shell) }
  return print({ page, readings, score, conventions, prefatory, ...asked, ...head }, TOOLS)
}

/** Nothing is said of what is done within so many milliseconds. */
const PATIENCE = 400
function progress(shell: Shell): (what: string) => void {
  const start = Date.now()
  return what => {
    if (shell.columns !== undefined && Date.now() - start > PATIENCE) shell.err(`${what} …`)
  }
}
