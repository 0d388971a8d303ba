/** The sheets of a book: pages with their heads and numbers, bookmarks, the structure that readers aloud go by. */
import PdfDocument, { type OutlineItem, type StructureElement } from "pdfkit"
import { joined } from "../bytes.js"
import { bytesOf, FACES, type Typefaces } from "../pictures/fonts.js"
import type { Paper } from "./papers.js"
import { Flow, type Line, type Span, type Type } from "./flow.js"
import type { Letters } from "./letters.js"
import { BOTTOM, HEAD_LINE, SIDE, TOP, TYPES } from "./style.js"

/** The same edition gives the same file: no clock is asked. */
const NO_DATE = new Date(0)

export interface BookWords {
  readonly title: string
  readonly editor: string
  /** "Resolutio 0.1.0". */
  readonly maker: string
}

interface PageNote {
  readonly section: string
  /** Has a running head and a number. */
  readonly headed: boolean
}

export class Sheets {
  readonly pdf: PdfDocument
  readonly flow: Flow
  readonly left = SIDE
  readonly width: number
  readonly top = TOP
  readonly bottom: number
  /** Next free height on the page. */
  y = TOP
  readonly #paper: Paper
  readonly #title: string
  readonly #notes: PageNote[] = []
  readonly #document: StructureElement
  readonly #bytes: Promise<Uint8Array>
  #element: StructureElement
  #section = ""

  constructor(paper: Paper, typefaces: Typefaces, letters: Letters, { title, editor, maker }: BookWords) {
    const info = {
      Title: title,
      ...(editor ? { Author: editor } : {}),
      Creator: maker,
      Producer: maker,
      CreationDate: NO_DATE,
      ModDate: NO_DATE,
    }
    const options = {
      // none but ours: the usual one is not in a browser
      font: null,
      autoFirstPage: false,
      bufferPages: true,
      tagged: true,
      displayTitle: true,
      lang: "en",
      pdfVersion: "1.7",
    } as const
    this.pdf = new PdfDocument({ ...options, info })
    this.#bytes = collected(this.pdf)
    for (const face of FACES) this.pdf.registerFont(face, bytesOf(typefaces, face))
    this.flow = new Flow(this.pdf, letters)
    this.#paper = paper
    this.#title = title
    this.width = paper.width - 2 * SIDE
    this.bottom = paper.height - BOTTOM
    this.#document = this.pdf.struct("Document")
    this.pdf.addStructure(this.#document)
    this.#element = this.#document
  }

  /** Room left on the page. */
  get room(): number {
    return this.bottom - this.y
  }
  /** Number of the page that is open, from 1. */
  get page(): number {
    return this.#notes.length
  }

  /** A page that continues the section. */
  addPage(headed = true): void {
    this.pdf.addPage({ size: [this.#paper.width, this.#paper.height], margin: 0 })
    this.#notes.push({ section: this.#section, headed })
    this.y = TOP
  }

  /**
   * A section of the book on a page of its own, with a bookmark (in `within`, if that is given) and a place to go to. `name` is for
   * heads and bookmarks; its first page has a number and no head. With `joined` it goes on under the section before, if there is
   * room enough.
   */
  section(name: string, within: OutlineItem = this.pdf.outline, headed = true, joined = false): OutlineItem {
    if (this.#element !== this.#document) this.#element.end()
    this.#section = name
    if (joined && this.page > 0 && this.room > (this.bottom - TOP) * 0.4) this.y += 24
    else this.addPage(headed)
    this.#element = this.pdf.struct("Sect", { title: name })
    this.#document.add(this.#element)
    this.pdf.addNamedDestination(destination(this.page))
    return within.addItem(name)
  }

  /** Draws something that readers aloud take for an element of this kind. */
  tagged(kind: string, draw: () => void, alt?: string): void {
    const element = this.pdf.struct(kind, alt === undefined ? {} : { alt })
    this.#element.add(element)
    element.add(draw)
    element.end()
  }

  /** Draws what is only for the eye. */
  artifact(draw: () => void): void {
    this.pdf.markContent("Artifact", { type: "Layout" })
    draw()
    this.pdf.endMarkedContent()
  }

  /** A new page unless so much room is left. */
  ensure(height: number): void {
    if (this.room < height && this.y > TOP) this.addPage()
  }

  /**
   * Something as high as so many lines, on as many pages as it takes: `draw` draws those from one number up to another, from the
   * height `y` on. For readers aloud it is one element of this kind.
   */
  runs(
    kind: string,
    count: number,
    leading: number,
    draw: (from: number, to: number) => void,
    turn = () => this.addPage(),
  ): void {
    const element = this.pdf.struct(kind)
    this.#element.add(element)
    for (let from = 0; from < count;) {
      if (this.room < leading && this.y > TOP) turn()
      const to = Math.min(count, from + Math.max(1, Math.floor(this.room / leading + 1e-6)))
      const first = from
      element.add(() => draw(first, to))
      this.y += (to - from) * leading
      from = to
    }
    element.end()
  }

  /** Lines one under another, on as many pages as they take. */
  #write(kind: string, lines: readonly Line[], { leading }: Type, x: number): void {
    this.runs(kind, lines.length, leading, (from, to) => {
      const y = this.y + leading * 0.76
      for (let i = from; i < to; i++) this.flow.write(lines[i]!, x, y + (i - from) * leading)
    })
  }

  /** A paragraph, then free space. */
  paragraph(
    content: string | readonly Span[],
    type: Type,
    { kind = "P", after = 4.5, width = this.width, x = this.left } = {},
  ): void {
    const lines = this.flow.lines(content, type, width)
    // no single line of a paragraph stays behind at the foot of a page
    this.ensure(Math.min(lines.length, 2) * type.leading)
    this.#write(kind, lines, type, x)
    this.y += after
  }

  /** A heading that stays with what follows. */
  heading(text: string, type: Type, kind: "H1" | "H2" | "H3", { before = 12, after = 4, keep = 44 } = {}): void {
    const lines = this.#balanced(text, type)
    if (this.y > TOP) this.y += before
    const needed = lines.length * type.leading + after + keep
    // one that is higher than a page begins where it is
    if (needed < this.bottom - TOP) this.ensure(needed)
    this.#write(kind, lines, type, this.left)
    this.y += after
  }

  /** Lines of about one length, so that no single word is left for the last. */
  #balanced(text: string, type: Type) {
    const usual = this.flow.lines(text, type, this.width)
    if (usual.length < 2) return usual
    for (let part = 0.5; part < 1; part += 0.05) {
      const lines = this.flow.lines(text, type, this.width * part)
      if (lines.length === usual.length) return lines
    }
    return usual
  }

  rule(y: number, x = this.left, width = this.width): void {
    this.artifact(() => this.pdf.addContent(`q 0.34 0.3 0.26 RG 0.4 w ${x} ${y} m ${x + width} ${y} l S Q`))
  }

  /** Goes back to a page that was left open, for numbers that were not known then. */
  onPage(page: number, draw: () => void): void {
    this.pdf.switchToPage(page - 1)
    draw()
    this.pdf.switchToPage(this.#notes.length - 1)
  }

  /** Heads and numbers, then the file. */
  async end(): Promise<Uint8Array> {
    this.#notes.forEach((note, i) => this.#head(note, i))
    if (this.#element !== this.#document) this.#element.end()
    this.#document.end()
    this.pdf.end()
    return this.#bytes
  }

  /** Even pages have the title and their number at the left, odd ones the section and their number at the right. */
  #head({ section, headed }: PageNote, i: number): void {
    if (!headed) return
    this.pdf.switchToPage(i)
    const even = i % 2 === 1
    const first = i === 0 || this.#notes[i - 1]!.section !== section
    const text = first ? "" : even ? this.#title : section
    const number = this.flow.lines(String(i + 1), TYPES.folio, this.width)[0]!
    const [words] = this.flow.lines(text, TYPES.head, this.width * 0.8)
    const end = this.left + this.width
    this.pdf.markContent("Artifact", { type: "Pagination" })
    this.flow.write(number, even ? this.left : end - this.flow.width(number), HEAD_LINE)
    if (words && text !== "") this.flow.write(words, even ? end - this.flow.width(words) : this.left, HEAD_LINE)
    this.pdf.endMarkedContent()
  }
}

/** Name of a page to go to. */
export const destination = (page: number): string => `page-${page}`

function collected(pdf: PdfDocument): Promise<Uint8Array> {
  const parts: Uint8Array[] = []
  return new Promise((resolve, reject) => {
    pdf.on("data", part => void parts.push(part))
    pdf.on("end", () => resolve(joined(parts)))
    pdf.on("error", reject)
  })
}
