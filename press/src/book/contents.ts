/** Sections of a book with their bookmarks, and the list of contents, which is written when all pages are known. */
import type { OutlineItem } from "pdfkit"
import { destination, type Sheets } from "./sheets.js"
import { TYPES } from "./style.js"

interface Entry {
  readonly name: string
  readonly page: number
  readonly inner: boolean
}
interface Reserved {
  readonly page: number
  readonly top: number
}

export class Contents {
  readonly #sheets: Sheets
  readonly #entries: Entry[] = []
  readonly #reserved: Reserved[] = []

  constructor(sheets: Sheets) {
    this.#sheets = sheets
  }

  /** On a new page, or if `joined` under what stands on this one, where there is enough room. */
  section(name: string, within?: OutlineItem, joined = false): OutlineItem {
    const item = this.#sheets.section(name, within, true, joined)
    this.entry(name, within !== undefined)
    return item
  }

  /** A further line for the page that is open. */
  entry(name: string, inner: boolean): void {
    this.#entries.push({ name, page: this.#sheets.page, inner })
  }

  /** Pages for so many lines. */
  reserve(lines: number): void {
    const sheets = this.#sheets
    sheets.section("Contents")
    sheets.heading("Contents", TYPES.section, "H1", { after: 12 })
    for (let left = lines; ;) {
      this.#reserved.push({ page: sheets.page, top: sheets.y })
      left -= this.#linesFrom(sheets.y)
      if (left <= 0) return
      sheets.addPage()
    }
  }

  #linesFrom(top: number): number {
    return Math.floor((this.#sheets.bottom - top) / TYPES.text.leading)
  }

  /** Into the pages that were reserved. */
  write(): void {
    let from = 0
    for (const { page, top } of this.#reserved) {
      const own = this.#entries.slice(from, from + this.#linesFrom(top))
      this.#sheets.onPage(page, () => own.forEach((entry, i) => this.#line(entry, top + i * TYPES.text.leading)))
      from += own.length
    }
  }

  #line({ name, page, inner }: Entry, y: number): void {
    const sheets = this.#sheets
    const { leading } = TYPES.text
    const [number] = sheets.flow.lines(String(page), TYPES.figures, 30)
    const [words] = sheets.flow.lines(name, TYPES.text, sheets.width - 60)
    sheets.artifact(() => {
      if (number) sheets.flow.write(number, sheets.left + 22 - sheets.flow.width(number), y + leading * 0.76)
      if (words) sheets.flow.write(words, sheets.left + (inner ? 50 : 34), y + leading * 0.76)
    })
    sheets.pdf.goTo(sheets.left, y, sheets.width, leading, destination(page))
  }
}
