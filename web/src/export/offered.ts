/** The files that are offered, without the code that makes them: that is loaded where they are made. */
import { BOOK_PARTS, DOUBT_FROM, type BookPart, type ConventionName, type SignId } from "@resolutio/core"
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
  /** Durations and meanings of dots that the file states in words are left out. */
  readonly ignoreGiven: boolean
  /** Each voice is read by itself, borrowing nothing from the others. */
  readonly alone: boolean
  /** Colours of drawings and figures, by the name of the theme. */
  readonly theme: string
  /** House style of the score, by name. */
  readonly style: string
  readonly paper: "a4" | "letter"
  /** All voices in one file of sound; a file for each; in each one voice loud and the others soft. */
  readonly files: "all" | "each" | "practice"
  /** With a file for each: as loud as the voices are in the whole. */
  readonly balance: boolean
  /** So many times without a gap. */
  readonly times: number
  /** Sound and drawings in time are only of the signs that are chosen. */
  readonly passage: boolean
  readonly figure: string
  readonly size: string
  /** In place of the figure's own headline. */
  readonly headline: string
  readonly caption: "inside" | "aside"
  /** Of trees and tables: "O. O C. C", and "3 2 3 2, 2 3 2 2". */
  readonly signs: string
  readonly levels: string
  /** By number; of none all. */
  readonly voices: readonly string[]
  /** Letters as outlines. */
  readonly outlines: boolean
  readonly set: "apart" | "under"
  readonly spacing: "shape" | "even"
  readonly lines: "source" | "fit"
  readonly staff: "" | "red" | "black" | "grey"
  /** In px; of undefined as usual. */
  readonly width?: number | undefined
  /** Px in the height of a sheet of time. */
  readonly height?: number | undefined
  readonly space?: number | undefined
  readonly compact: boolean
  readonly words: boolean
  readonly contents: readonly BookPart[]
  readonly editor: string
  readonly doubt: number
  readonly prefatory: boolean
  readonly repeats: "signs" | "written" | "stanzas"
  readonly reduction?: number | undefined
  /** "tenor=bass", or "treble, bass" to choose from. */
  readonly clefs: string
  /** What goes before the house style. */
  readonly conventions: Readonly<Partial<Record<ConventionName, string>>>
  readonly views: "both" | "page" | "time"
  readonly silent: boolean
}
export const USUAL_CHOICES: Choices = {
  ignoreGiven: false,
  alone: false,
  theme: "light",
  style: "own-bars",
  paper: "a4",
  files: "all",
  balance: false,
  times: 1,
  passage: false,
  figure: "old-over-new",
  size: "1920x1080",
  headline: "",
  caption: "inside",
  signs: "",
  levels: "",
  voices: [],
  outlines: false,
  set: "apart",
  spacing: "shape",
  lines: "source",
  staff: "",
  compact: false,
  words: true,
  contents: BOOK_PARTS,
  editor: "",
  doubt: DOUBT_FROM,
  prefatory: true,
  repeats: "signs",
  clefs: "",
  conventions: {},
  views: "both",
  silent: false,
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
