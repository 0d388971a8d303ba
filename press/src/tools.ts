/** What the machine has to bring: it is had from the disk by the command line, from the site in the browser. */
import type { Typefaces } from "./pictures/fonts.js"
import type { Bank } from "./sound/sources.js"

/** How an SVG becomes points. */
export interface Raster {
  /** So many times as large as it is shown; 1 without it. */
  readonly scale?: number
  /** Colour of the ground; without it there is none. */
  readonly ground?: string
}

/** A typeface for a page on the screen. */
export interface PageFont {
  readonly family: "Alegreya" | "Source Sans 3"
  readonly weight: 400 | 600 | 700
  readonly italic: boolean
  readonly woff2: Uint8Array
}

export interface Tools {
  readonly typefaces: () => Promise<Typefaces>
  /** An SVG of ours as PNG, its words in our typefaces. */
  readonly png: (svg: string, how: Raster) => Promise<Uint8Array>
  readonly bank: Bank
  readonly pageFonts: () => Promise<readonly PageFont[]>
}
