/** A figure for the rules while it is being drawn up: laid out sign by sign, with the sign it comes from. */
import type { Note, Rest } from "../page/index.js"
import type { Figure } from "../practices/index.js"

type Mutable<T> = { -readonly [K in keyof T]: T[K] }
export type DraftFigure = Mutable<Figure> & {
  note?: Note
  restSign?: Rest
  /** Index of its sign among the flat signs of the voice. */
  flat: number
  /** A rest whose length in spaces says what it is worth. */
  restKnown: boolean
  /** What stands in `stroke` is a dot, or a small circle. */
  strokeIsDot?: boolean
  strokeIsRound?: boolean
}

const UNCOUNTED: DraftFigure["runs"] = []
const DOWN: ReadonlySet<string> = new Set(["down", "sw", "se"])

/** What is known of a figure when its sign is met. */
type FigureStart = Pick<DraftFigure, "id" | "index" | "level" | "rest" | "full" | "flat" | "texted">

/** A figure of which nothing more is known. All have the same fields in the same order, which keeps the reading fast. */
export function draftFigure(start: FigureStart): DraftFigure {
  return {
    id: start.id,
    index: start.index,
    level: start.level,
    rest: start.rest,
    full: start.full,
    coloured: false,
    stemDown: false,
    stemOblique: false,
    duplex: false,
    ligature: -1,
    ligatureStart: false,
    ligatureEnd: false,
    conjunctura: false,
    drawn: false,
    syllable: false,
    texted: start.texted,
    shortLongRest: false,
    final: false,
    localShape: false,
    runs: UNCOUNTED,
    flat: start.flat,
    restKnown: false,
    // fields that few figures fill are laid out at once: an object that grows later is a slower one of another shape
    note: undefined,
    restSign: undefined,
    dot: undefined,
    dotGiven: undefined,
    stroke: undefined,
    strokeGroup: undefined,
    softWall: undefined,
    strokeIsDot: undefined,
    strokeIsRound: undefined,
    colouredTicks: undefined,
    colourRule: undefined,
    fixed: undefined,
    fixedBy: undefined,
    near: undefined,
    prices: undefined,
  }
}

/** Sets down what the note's own form says; a stem down means nothing within a ligature. */
export function drawAs(figure: DraftFigure, note: Note, inLigature: boolean): void {
  figure.note = note
  figure.coloured = note.coloration !== "none"
  figure.duplex = note.duplex === true
  figure.stemDown = !inLigature && note.stems.some(s => s.direction === "down")
  figure.stemOblique = note.stems.some(s => s.form === "oblique" && DOWN.has(s.direction))
  figure.syllable = note.syllables.length > 0
}
