/** The parts of three packages that are used here; they bring no types of their own that fit. */
declare module "pdfkit" {
  interface PdfOptions {
    readonly autoFirstPage?: boolean
    /** Null: none is there before one is registered. */
    readonly font?: null
    readonly bufferPages?: boolean
    readonly lang?: string
    readonly tagged?: boolean
    readonly displayTitle?: boolean
    readonly pdfVersion?: "1.7"
    readonly info?: Readonly<Record<string, string | Date>>
  }
  interface TextOptions {
    readonly lineBreak?: boolean
    readonly baseline?: "alphabetic"
  }
  export interface PdfReference {
    readonly id: number
    end(content?: string): void
  }
  /** An element of the tagged structure, or what draws its content. */
  export interface StructureElement {
    add(child: StructureElement | (() => void)): this
    end(): void
  }
  interface StructureOptions {
    readonly alt?: string
    readonly title?: string
  }
  export interface OutlineItem {
    addItem(title: string, options?: { readonly pageNumber?: number; readonly expanded?: boolean }): OutlineItem
  }
  export default class PdfDocument {
    constructor(options?: PdfOptions)
    readonly outline: OutlineItem
    readonly page: { readonly width: number; readonly height: number; readonly xobjects: Record<string, PdfReference> }
    registerFont(name: string, bytes: Uint8Array): this
    font(name: string, size?: number): this
    fontSize(size: number): this
    fillColor(colour: string): this
    widthOfString(text: string): number
    text(text: string, x: number, y: number, options?: TextOptions): this
    addPage(options: { size: readonly [number, number]; margin: number }): this
    switchToPage(number: number): unknown
    bufferedPageRange(): { readonly start: number; readonly count: number }
    /** Into the content of the page as it is; the page runs downwards. */
    addContent(operators: string): this
    ref(data: Readonly<Record<string, unknown>>): PdfReference
    struct(type: string, options?: StructureOptions): StructureElement
    addStructure(element: StructureElement): this
    markContent(tag: "Artifact", options?: Readonly<Record<string, unknown>>): this
    endMarkedContent(): this
    addNamedDestination(name: string): void
    goTo(x: number, y: number, width: number, height: number, name: string): this
    on(event: "data", take: (part: Uint8Array) => void): this
    on(event: "end", done: () => void): this
    on(event: "error", fail: (error: Error) => void): this
    end(): void
  }
}
declare module "svg-to-pdfkit" {
  import type PdfDocument from "pdfkit"
  interface Options {
    readonly width?: number
    readonly height?: number
    readonly assumePt?: boolean
    readonly fontCallback?: (family: string, bold: boolean, italic: boolean, options: object) => string
    readonly warningCallback?: (warning: string) => void
  }
  export default function svgToPdf(pdf: PdfDocument, svg: string, x: number, y: number, options?: Options): void
}
declare module "fontkit" {
  export interface Glyph {
    readonly advanceWidth: number
    readonly path: { readonly commands: readonly { readonly command: string; readonly args: readonly number[] }[] }
  }
  export interface Font {
    readonly unitsPerEm: number
    /** Code points that it has. */
    readonly characterSet: readonly number[]
    layout(text: string): {
      readonly glyphs: readonly Glyph[]
      readonly positions: readonly { readonly xAdvance: number; readonly xOffset: number; readonly yOffset: number }[]
    }
  }
  export function create(bytes: Uint8Array): Font
}
