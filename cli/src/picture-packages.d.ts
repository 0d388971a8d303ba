/** The parts of three packages that are used here; they bring no types of their own that fit. */
declare module "pdfkit" {
  interface PdfOptions {
    readonly autoFirstPage?: boolean
    readonly lang?: string
    readonly info?: Readonly<Record<string, string | Date>>
  }
  export default class PdfDocument {
    constructor(options?: PdfOptions)
    readonly outline: { addItem(title: string): unknown }
    registerFont(name: string, file: string): this
    addPage(options: { size: readonly [number, number]; margin: number }): this
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
    layout(text: string): {
      readonly glyphs: readonly Glyph[]
      readonly positions: readonly { readonly xAdvance: number; readonly xOffset: number; readonly yOffset: number }[]
    }
  }
  export function openSync(file: string): Font
}
