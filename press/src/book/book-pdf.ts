/** A whole edition as one PDF: title, contents, preface, score, parts, texts, report. */
import type { Book, BookPart, EditionConventions, Page, Score } from "@resolutio/core"
import type { OutlineItem } from "pdfkit"
import { openEngraver, type Engraver } from "../pictures/engrave.js"
import type { Tools } from "../tools.js"
import { Contents } from "./contents.js"
import { openLetters, type Letters } from "./letters.js"
import { engraveToFit, writeScore } from "./score-pages.js"
import { writeReport } from "./report-pages.js"
import { Sheets } from "./sheets.js"
import { PAPERS, type PaperName } from "./papers.js"
import { TYPES } from "./style.js"
import { writePreface, writeTexts, writeTitlePage } from "./word-pages.js"

export interface BookOptions {
  readonly page: Page
  readonly book: Book
  readonly conventions: Partial<EditionConventions>
  readonly contents: readonly BookPart[]
  readonly paper: PaperName
  readonly prefatory: boolean
  readonly editor: string
  readonly maker: string
  /** Told what is being done, each time something longer begins. */
  readonly onProgress?: (what: string) => void
}

export interface BookFile {
  readonly bytes: Uint8Array
  /** Letters that no typeface has; boxes stand in their place. */
  readonly missing: readonly string[]
}

export async function bookPdf(options: BookOptions, tools: Tools): Promise<BookFile> {
  const { book, editor, maker, paper } = options
  const typefaces = await tools.typefaces()
  const letters = await openLetters(typefaces)
  const sheets = new Sheets(PAPERS[paper], typefaces, letters, { title: book.titlePage.title, editor, maker })
  const writer = new BookWriter(options, sheets, letters)
  await writer.write()
  return { bytes: await sheets.end(), missing: [...letters.missing] }
}

/** Staff spaces in points: 5.6 mm for a staff of the score, 6.6 for one of a part. */
const SCORE_SPACE = 3.97
const PART_SPACE = 4.68

class BookWriter {
  readonly #options: BookOptions
  readonly #sheets: Sheets
  readonly #letters: Letters
  readonly #contents: Contents

  constructor(options: BookOptions, sheets: Sheets, letters: Letters) {
    this.#options = options
    this.#sheets = sheets
    this.#letters = letters
    this.#contents = new Contents(sheets)
  }

  async write(): Promise<void> {
    const { contents, book, maker } = this.#options
    const [sheets, list] = [this.#sheets, this.#contents]
    const has = (part: BookPart) => contents.includes(part)
    const voices = book.score.voices.length
    if (has("title")) writeTitlePage(sheets, book.titlePage, maker)
    if (has("contents")) list.reserve(contents.length + (has("parts") ? voices : 0))
    if (has("preface")) {
      list.section("Preface")
      writePreface(sheets, book.preface)
    }
    if ((has("score") || has("parts")) && voices > 0) await this.#music(has("score"), has("parts"))
    if (has("texts")) {
      list.section("Texts")
      writeTexts(sheets, book.texts)
    }
    if (has("report")) {
      list.section("Critical report", undefined, true)
      writeReport(sheets, book.reportPreamble, book.report)
    }
    // of a piece without voices, of which only the score was asked for
    if (sheets.page === 0) writeTitlePage(sheets, book.titlePage, maker)
    list.write()
  }

  async #music(score: boolean, parts: boolean): Promise<void> {
    const { book, onProgress } = this.#options
    onProgress?.("Loading the engraver")
    const engraver = await openEngraver()
    try {
      if (score) {
        onProgress?.("Engraving the score")
        this.#contents.section("Score")
        this.#engraved(engraver, book.score, book.titlePage.title, SCORE_SPACE)
      }
      if (parts) this.#parts(engraver)
    } finally {
      engraver.close()
    }
  }

  #parts(engraver: Engraver): void {
    const { book, onProgress } = this.#options
    let within: OutlineItem | undefined
    for (const part of book.parts) {
      const name = part.voices[0]!.label || part.voices[0]!.n
      onProgress?.(`Engraving the part of ${name}`)
      // the bookmark of all parts goes to the first
      if (within === undefined) {
        within = this.#contents.section("Parts")
        this.#contents.entry(name, true)
        within.addItem(name)
      } else this.#contents.section(name, within)
      this.#engraved(engraver, part, name, PART_SPACE, true)
    }
  }

  #engraved(engraver: Engraver, score: Score, heading: string, space: number, part = false): void {
    const sheets = this.#sheets
    const { page, conventions, prefatory } = this.#options
    sheets.heading(heading, TYPES.section, "H1", { after: 10 })
    // a part has its name as its heading
    const alone = score.voices.length === 1
    const show = prefatory ? (alone ? "incipits" : "full") : "names"
    const print = { page, score, conventions, prefatory: show, space, part } as const
    const engraved = engraveToFit(engraver, print, sheets.width, sheets.room)
    const names = score.voices.map(({ label, n }) => label || n).join(", ")
    writeScore(
      sheets,
      this.#letters,
      engraved,
      (from, to) => `Modern notation of ${names}: systems ${from + 1} to ${to + 1}.`,
    )
  }
}
