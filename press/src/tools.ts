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

export interface Tools {
  readonly typefaces: () => Promise<Typefaces>
  /** An SVG of ours as PNG, its words in our typefaces. */
  readonly png: (svg: string, how: Raster) => Promise<Uint8Array>
  readonly bank: Bank
}
