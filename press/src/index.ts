/** Files for which a library is needed: pictures, PDF, sound. What is large is loaded when a file is wanted. */
import type { BookFile, BookWanted } from "./book/print-book.js"
import type { Tools } from "./tools.js"

export type { Raster, Tools } from "./tools.js"
export { FACES, type Face, type Typefaces } from "./pictures/fonts.js"
export { PICTURE_ENDINGS, lettersLacking, pictureOf, type PictureOptions } from "./pictures/pictures.js"
export { openEngraver, type Engraver } from "./pictures/engrave.js"
export { scorePng, scoreSvg, type ScorePicture } from "./pictures/score-picture.js"
export { PAPER_NAMES, type PaperName } from "./book/papers.js"
export type { BookFile, BookWanted } from "./book/print-book.js"
export { PIECE, RATE, renderedInMemory, renderingOf, wavOf, type Rendering, type Rest } from "./sound/render.js"
export type { Bank, Source } from "./sound/sources.js"

/** MusicXML packed as .mxl. */
export async function compressed(musicXml: string): Promise<Uint8Array> {
  return (await import("./mxl.js")).compressed(musicXml)
}

/** The whole edition as a PDF. */
export async function printBook(wanted: BookWanted, tools: Tools): Promise<BookFile> {
  return (await import("./book/print-book.js")).printBook(wanted, tools)
}
