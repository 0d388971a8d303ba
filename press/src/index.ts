/** Files for which a library is needed: pictures, PDF, sound. What is large is loaded when a file is wanted. */
import type { BookFile, BookWanted } from "./book/print-book.js"
import type { ShowWanted } from "./show/show.js"
import type { Rest } from "./sound/render.js"
import type { Tools } from "./tools.js"

export type { PageFont, Raster, Tools } from "./tools.js"
export { FACES, type Face, type Typefaces } from "./pictures/fonts.js"
export { PICTURE_ENDINGS, lettersLacking, pictureOf, type PictureOptions } from "./pictures/pictures.js"
export { openEngraver, type Engraver } from "./pictures/engrave.js"
export { scorePng, scoreSvg, type ScorePicture } from "./pictures/score-picture.js"
export { PAPER_NAMES, type PaperName } from "./book/papers.js"
export type { BookFile, BookWanted } from "./book/print-book.js"
export { PIECE, RATE, renderedInMemory, renderingOf, wavOf, type Rendering, type Rest } from "./sound/render.js"
export type { ShowView, ShowWanted } from "./show/show.js"
export type { Bank, Source } from "./sound/sources.js"

/** MusicXML packed as .mxl. */
export async function compressed(musicXml: string): Promise<Uint8Array> {
  return (await import("./mxl.js")).compressed(musicXml)
}

/** The whole edition as a PDF. */
export async function printBook(wanted: BookWanted, tools: Tools): Promise<BookFile> {
  return (await import("./book/print-book.js")).printBook(wanted, tools)
}

/** One HTML file that shows, explains and plays the piece by itself. */
export async function showPiece(wanted: ShowWanted, tools: Tools, rest: Rest): Promise<string> {
  return (await import("./show/show.js")).showPiece(wanted, tools, rest)
}
