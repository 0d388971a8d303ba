/** A whole edition as one PDF: title, contents, preface, score, parts, texts, report. */
import {
  columnsFor,
  doubtText,
  type Book,
  type BookPart,
  type EditionConventions,
  type Page,
  type ReportEntry,
  type ReportSection,
  type Score,
  type VoiceText,
} from "@resolutio/core"
import type { OutlineItem } from "pdfkit"
import { openEngraver, type Engraver } from "../engrave.js"
import type { Span, Type } from "./flow.js"
import { openLetters, type Letters } from "./letters.js"
import { engraveToFit, writeScore } from "./score-pages.js"
import { PAPERS, SECOND, Sheets, TYPES, destination, type PaperName } from "./sheets.js"
import { writeTable, type Column } from "./table.js"

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

export async function bookPdf(options: BookOptions): Promise<BookFile> {
  const { book, editor, maker, paper } = options
  const letters = await openLetters()
  const sheets = new Sheets(PAPERS[paper], letters, { title: book.titlePage.title, editor, maker })
  const writer = new BookWriter(options, sheets, letters)
  await writer.write()
  return { bytes: await sheets.end(), missing: [...letters.missing] }
}

interface Entry {
  readonly name: string
  readonly page: number
  readonly inner: boolean
}

/** Staff spaces in points: 5.6 mm for a staff of the score, 6.6 for one of a part. */
const SCORE_SPACE = 3.97
const PART_SPACE = 4.68

class BookWriter {
  readonly #options: BookOptions
  readonly #sheets: Sheets
  readonly #letters: Letters
  readonly #entries: Entry[] = []

  constructor(options: BookOptions, sheets: Sheets, letters: Letters) {
    this.#options = options
    this.#sheets = sheets
    this.#letters = letters
  }

  async write(): Promise<void> {
    const { contents } = this.#options
    const has = (part: BookPart) => contents.includes(part)
    const music = (has("score") || has("parts")) && this.#options.book.score.voices.length > 0
    if (has("title")) this.#titlePage()
    const contentsPage = has("contents") ? this.#contentsPage() : undefined
    if (has("preface")) this.#preface()
    if (music) await this.#music(has("score"), has("parts"))
    if (has("texts")) this.#texts()
    if (has("report")) this.#report()
    if (this.#sheets.page === 0) this.#titlePage()
    contentsPage?.()
  }

  /** On a new page, or if `joined` under what stands on this one, where there is enough room. */
  #section(name: string, within?: OutlineItem, joined = false): OutlineItem {
    const item = this.#sheets.section(name, within, true, joined)
    this.#entries.push({ name, page: this.#sheets.page, inner: within !== undefined })
    return item
  }

  #titlePage(): void {
    const sheets = this.#sheets
    const { title, subtitles, by, voices, facts } = this.#options.book.titlePage
    sheets.section(title, undefined, false)
    if (title.length < 600) sheets.y = 150
    sheets.heading(title, titleType(title), "H1", { after: 10 })
    for (const text of subtitles) sheets.paragraph(text, TYPES.subtitle, { after: 4 })
    for (const text of by) sheets.paragraph(text, TYPES.subtitle, { after: 4 })
    sheets.y = Math.max(sheets.y + 40, 330)
    for (const { name, range } of voices)
      sheets.paragraph(
        [{ text: name }, { text: range === "" ? "" : `   ${range}`, face: "figures-400", fill: SECOND }],
        TYPES.text,
        { after: 0 },
      )
    sheets.y += 30
    for (const { name, value } of facts)
      sheets.paragraph([{ text: `${name}: `, face: "words-400-italic", fill: SECOND }, { text: value }], TYPES.text)
    sheets.y = Math.max(sheets.y + 20, sheets.bottom - 20)
    sheets.ensure(20)
    sheets.paragraph(`Made with ${this.#options.maker}.`, TYPES.note)
  }

  /** Left open; the function writes it when all pages are known. */
  #contentsPage(): () => void {
    const sheets = this.#sheets
    sheets.section("Contents")
    sheets.heading("Contents", TYPES.section, "H1", { after: 12 })
    const page = sheets.page
    const top = sheets.y
    return () =>
      sheets.onPage(page, () => {
        const { leading } = TYPES.text
        const room = Math.floor((sheets.bottom - top) / leading)
        this.#entries.slice(0, room).forEach(({ name, page: at, inner }, i) => {
          const y = top + i * leading
          const x = sheets.left + 34 + (inner ? 16 : 0)
          const number = sheets.flow.lines(String(at), TYPES.figures, 30)[0]!
          const [words] = sheets.flow.lines(name, TYPES.text, sheets.width - 60)
          sheets.artifact(() => {
            sheets.flow.write(number, sheets.left + 22 - sheets.flow.width(number), y + leading * 0.76)
            if (words) sheets.flow.write(words, x, y + leading * 0.76)
          })
          sheets.pdf.goTo(sheets.left, y, sheets.width, leading, destination(at))
        })
      })
  }

  #preface(): void {
    const sheets = this.#sheets
    this.#section("Preface")
    sheets.heading("Preface", TYPES.section, "H1", { after: 6 })
    for (const { heading, paragraphs } of this.#options.book.preface) {
      sheets.heading(heading, TYPES.heading, "H2")
      for (const text of paragraphs) sheets.paragraph(text, TYPES.text)
    }
  }

  async #music(score: boolean, parts: boolean): Promise<void> {
    const { book, onProgress } = this.#options
    onProgress?.("Loading the engraver")
    const engraver = await openEngraver()
    try {
      if (score) {
        onProgress?.("Engraving the score")
        this.#section("Score")
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
        within = this.#section("Parts")
        this.#entries.push({ name, page: this.#sheets.page, inner: true })
        within.addItem(name)
      } else this.#section(name, within)
      this.#engraved(engraver, part, name, PART_SPACE)
    }
  }

  #engraved(engraver: Engraver, score: Score, heading: string, space: number): void {
    const sheets = this.#sheets
    const { page, conventions, prefatory } = this.#options
    sheets.heading(heading, TYPES.section, "H1", { after: 10 })
    // a part has its name as its heading
    const alone = score.voices.length === 1
    const show = prefatory ? (alone ? "incipits" : "full") : "names"
    const print = { page, score, conventions, prefatory: show, space } as const
    const engraved = engraveToFit(engraver, print, sheets.width, sheets.room)
    const names = score.voices.map(({ label, n }) => label || n).join(", ")
    writeScore(
      sheets,
      this.#letters,
      engraved,
      (from, to) => `Modern notation of ${names}: systems ${from + 1} to ${to + 1}.`,
    )
  }

  #texts(): void {
    const sheets = this.#sheets
    this.#section("Texts")
    sheets.heading("Texts", TYPES.section, "H1", { after: 6 })
    for (const text of this.#options.book.texts) this.#text(text)
  }

  #text({ voices, sections }: VoiceText): void {
    const sheets = this.#sheets
    if (sections.length === 0) {
      sheets.y += 10
      sheets.paragraph(`Without words: ${voices.join(", ")}.`, TYPES.note)
      return
    }
    sheets.heading(voices.join(", "), TYPES.heading, "H2")
    for (const { name, stanzas } of sections) {
      if (name !== undefined) sheets.paragraph(name, TYPES.note, { after: 2 })
      for (const { number, runs } of stanzas) {
        const spans = runs.map((run): Span => ({ text: run.text, ...(run.italic ? { face: "words-400-italic" } : {}) }))
        const counted: Span[] = stanzas.length > 1 ? [{ text: `${number}  `, face: "figures-400", fill: SECOND }] : []
        sheets.paragraph([...counted, ...spans], TYPES.text)
      }
    }
  }

  #report(): void {
    const sheets = this.#sheets
    const { report, reportPreamble } = this.#options.book
    this.#section("Critical report", undefined, true)
    sheets.heading("Critical report", TYPES.section, "H1", { after: 6 })
    for (const text of reportPreamble) sheets.paragraph(text, TYPES.text)
    if (report.length === 0)
      sheets.paragraph(
        "There is nothing to report: nothing was emended, supplied or decided, and no reading is open.",
        TYPES.text,
      )
    for (const section of report) this.#reportSection(section)
  }

  #reportSection({ kind, heading, about, entries }: ReportSection): void {
    const sheets = this.#sheets
    sheets.heading(heading, TYPES.heading, "H2", { after: 2, keep: 80 })
    sheets.paragraph(about, TYPES.note, { after: 5 })
    const { table, figures } = TYPES
    const [source, edition] = columnsFor(kind) ?? ["", ""]
    const middle: Column[] =
      kind === "parting"
        ? []
        : source === ""
          ? [{ name: "Here", part: 32, type: table }]
          : [
              { name: source, part: 16, type: table },
              { name: edition, part: 16, type: table },
            ]
    const columns: Column[] = [
      { name: "Bar", part: 6.5, type: figures },
      { name: "Voice", part: 14, type: table },
      { name: "No.", part: 7.5, type: figures },
      ...middle,
      { name: kind === "parting" ? "What" : "Why, and by whom", part: kind === "parting" ? 72 : 40, type: table },
    ]
    writeTable(
      sheets,
      columns,
      entries.map(entry => [
        entry.bar,
        entry.voice,
        entry.number,
        ...(middle.length === 2 ? [entry.source] : []),
        ...(middle.length > 0 ? [edited(entry)] : []),
        whyText(entry),
      ]),
    )
  }
}

/** Smaller, where it is so long that it would fill the page. */
function titleType({ length }: string): Type {
  const { title } = TYPES
  const size = length < 90 ? title.size : length < 220 ? 24 : length < 600 ? 16 : TYPES.text.size
  return { ...title, size, leading: size * 1.2 }
}

const edited = ({ edition }: ReportEntry): string => edition

/** The reason, who it is from, how doubtful it is, and where on the page it stands. */
function whyText({ why, who, place, doubt }: ReportEntry): string {
  const said = why === "" || /[.!?)”]$/.test(why) ? why : `${why}.`
  const parts = [
    said.charAt(0).toUpperCase() + said.slice(1),
    who === "" ? "" : `${who}.`,
    doubt === undefined ? "" : `Doubt ${doubtText(doubt)}.`,
    place === "" ? "" : `[${place}]`,
  ]
  return parts.filter(Boolean).join(" ")
}
