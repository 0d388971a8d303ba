/** Margins, colours and sizes of type of a book. */
import type { Type } from "./flow.js"

export const SIDE = 56.7
export const TOP = 68
export const BOTTOM = 52
/** Heads stand on this line. */
export const HEAD_LINE = 44

export const INK = "#000"
export const SECOND = "#574d42"
export const RED = "#9c2014"

export const TYPES = {
  title: { face: "words-700", size: 34, leading: 40, fill: INK },
  subtitle: { face: "words-400-italic", size: 17, leading: 23, fill: SECOND },
  section: { face: "words-700", size: 21, leading: 27, fill: RED },
  heading: { face: "words-700", size: 13, leading: 18, fill: INK },
  text: { face: "words-400", size: 10.8, leading: 14.6, fill: INK },
  note: { face: "words-400-italic", size: 10.5, leading: 14.4, fill: SECOND },
  table: { face: "words-400", size: 9.5, leading: 12.4, fill: INK },
  tableHead: { face: "words-400-italic", size: 9.5, leading: 12.4, fill: SECOND },
  figures: { face: "figures-400", size: 9, leading: 12.4, fill: INK },
  head: { face: "words-400-italic", size: 9.5, leading: 12, fill: SECOND },
  folio: { face: "figures-400", size: 9.5, leading: 12, fill: SECOND },
} as const satisfies Record<string, Type>
