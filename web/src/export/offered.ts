/** The files that are offered, without the code that makes them: that is loaded where they are made. */
import type { SignId } from "@resolutio/core"
import type { Hearing } from "../sound/hearing.js"

export const GROUPS = {
  whole: ["html"],
  page: ["mei", "figurae", "json", "csv", "pageSvg", "pagePng", "pagePdf"],
  time: ["timeSvg", "timePng", "timePdf"],
  score: ["book", "parts", "musicxml", "mxl", "modern", "midi", "scoreSvg", "scorePng"],
  findings: ["reportMd", "reportTxt", "reportCsv", "fit", "mensuration", "tenor", "ficta"],
  sound: ["wav", "markersCsv", "markersJson", "markersVtt"],
  figures: ["figureSvg", "figurePng", "figurePdf"],
} as const
export type GroupName = keyof typeof GROUPS
export type FormatName = (typeof GROUPS)[GroupName][number]

/** What is chosen among forms of a file. */
export interface Choices {
  /** Colours of drawings and figures, by the name of the theme. */
  readonly theme: string
  /** House style of the score, by name. */
  readonly style: string
  readonly paper: "a4" | "letter"
  /** All voices in one file of sound; a file for each; in each one voice loud and the others soft. */
  readonly files: "all" | "each" | "practice"
  readonly figure: string
  readonly size: string
}
export const USUAL_CHOICES: Choices = {
  theme: "light",
  style: "own-bars",
  paper: "a4",
  files: "all",
  figure: "old-over-new",
  size: "1920x1080",
}

/** What files are made for: how the piece is heard, and which sign is asked about. */
export interface Wishes extends Choices {
  readonly hearing: Hearing
  readonly selected?: SignId
  /** Several signs of one voice: figures and drawings are of these. */
  readonly chosen?: readonly SignId[]
  /** What stands in a book for the program. */
  readonly maker: string
}
