/**
 * A figure for the rules while it is being drawn up: laid out sign by sign, with the sign it comes from.
 *
 * A voice keeps all its figures until it is read, so in a long one their size decides how fast it is read: what is either
 * true or false is a bit, and what few figures have lies apart. Both are read and set like any other field.
 */
import type { SignId } from "../base/index.js"
import type { Note, Rest } from "../page/index.js"
import type { Figure, Inked } from "../practices/index.js"
import type { Ruling } from "./rulings.js"

type Mutable<T> = { -readonly [K in keyof T]: T[K] }
export type DraftFigure = Mutable<Figure> &
  Pick<Inked, "coloration" | "dotted"> & {
    note?: Note
    restSign?: Rest
    /** Index of its sign among the flat signs of the voice. */
    flat: number
    /** A rest whose length in spaces says what it is worth. */
    restKnown: boolean
    /** What stands in `stroke` is a dot, or a small circle. */
    strokeIsDot: boolean
    strokeIsRound: boolean
    /** What an editor decided beside a fixed duration. */
    ruling?: Ruling
  }

const BITS = [
  "rest",
  "coloured",
  "stemDown",
  "stemOblique",
  "duplex",
  "ligatureStart",
  "ligatureEnd",
  "conjunctura",
  "drawn",
  "syllable",
  "texted",
  "shortLongRest",
  "final",
  "localShape",
  "restKnown",
  "strokeGroup",
  "softWall",
  "strokeIsDot",
  "strokeIsRound",
] as const satisfies readonly (keyof DraftFigure)[]
const COLOURED = 1 << BITS.indexOf("coloured")
const RARE = ["dotGiven", "fixedBy", "colourRule", "near", "ruling"] as const satisfies readonly (keyof DraftFigure)[]

type Rare = Partial<Pick<DraftFigure, (typeof RARE)[number]>>

/** Of a figure that is drawn up, but stands in no stretch that was counted. */
export const UNCOUNTED: DraftFigure["runs"] = []
/** Downwards and aside: a slanting tail, whatever its form. */
const SLANTING: ReadonlySet<string> = new Set(["sw", "se"])

/** The fields that are there for every figure, from the start: an object that grows later is a slower one of another shape. */
class Laid {
  readonly id: SignId
  readonly index: number
  level: number
  full: number
  readonly flat: number
  ligature = -1
  runs = UNCOUNTED
  sign: Note | Rest | undefined = undefined
  dot: DraftFigure["dot"] = undefined
  stroke: DraftFigure["stroke"] = undefined
  colouredTicks: number | undefined = undefined
  fixed: number | undefined = undefined
  bits = 0
  rare: Rare | undefined = undefined

  constructor(id: SignId, index: number, level: number, full: number, flat: number) {
    this.id = id
    this.index = index
    this.level = level
    this.full = full
    this.flat = flat
  }

  get coloration(): Inked["coloration"] {
    return (this.bits & COLOURED) === 0 ? "none" : this.note?.coloration.startsWith("half") ? "half" : "full"
  }
  get dotted(): boolean {
    return this.dot !== undefined
  }
  get note(): Note | undefined {
    return this.sign?.kind === "note" ? this.sign : undefined
  }
  set note(note: Note | undefined) {
    this.sign = note
  }
  get restSign(): Rest | undefined {
    return this.sign?.kind === "rest" ? this.sign : undefined
  }
  set restSign(rest: Rest | undefined) {
    this.sign = rest
  }
}

BITS.forEach((name, n) => {
  const bit = 1 << n
  Object.defineProperty(Laid.prototype, name, {
    get(this: Laid): boolean {
      return (this.bits & bit) !== 0
    },
    set(this: Laid, is: boolean) {
      this.bits = is ? this.bits | bit : this.bits & ~bit
    },
  })
})
for (const name of RARE)
  Object.defineProperty(Laid.prototype, name, {
    get(this: Laid) {
      return this.rare?.[name]
    },
    set(this: Laid, is: Rare[typeof name]) {
      this.rare = { ...this.rare, [name]: is }
    },
  })

/** A figure of which no more is known than when its sign is met: its place in the stretch, and among the flat signs. */
export function draftFigure(id: SignId, index: number, level: number, full: number, flat: number): DraftFigure {
  // the fields that are bits, or rare, are laid on the prototype above
  return new Laid(id, index, level, full, flat) as Laid & DraftFigure
}

/** Sets down what the note's own form says; a stem down means nothing within a ligature. */
export function drawAs(figure: DraftFigure, note: Note, inLigature: boolean): void {
  figure.note = note
  figure.coloured = note.coloration !== "none"
  figure.duplex = note.duplex === true
  if (note.stems.length > 0) {
    figure.stemDown = !inLigature && note.stems.some(s => s.direction === "down")
    figure.stemOblique = note.stems.some(
      s => SLANTING.has(s.direction) || (s.form === "oblique" && s.direction === "down"),
    )
  }
  figure.syllable = note.syllables.length > 0
}

/** By how much a figure moves in its stretch, among the flat signs of the voice, and its ligature among the others. */
export interface Move {
  readonly index: number
  readonly flat: number
  readonly ligature: number
}

export const isMoved = ({ ligature }: DraftFigure, by: Move): boolean =>
  by.index !== 0 || by.flat !== 0 || (by.ligature !== 0 && ligature >= 0)

/** The figure at another place; the same where it does not move. */
export function movedFigure(figure: DraftFigure, by: Move): DraftFigure {
  return isMoved(figure, by) ? copied(figure, by) : figure
}

const NO_MOVE: Move = { index: 0, flat: 0, ligature: 0 }

/** A figure of its own, to be changed without changing this one. */
export function copied(figure: DraftFigure, by: Move = NO_MOVE): DraftFigure {
  const from = figure as Laid & DraftFigure
  const copy = new Laid(from.id, from.index + by.index, from.level, from.full, from.flat + by.flat)
  copy.ligature = from.ligature < 0 ? -1 : from.ligature + by.ligature
  copy.runs = from.runs
  copy.sign = from.sign
  copy.dot = from.dot
  copy.stroke = from.stroke
  copy.colouredTicks = from.colouredTicks
  copy.fixed = from.fixed
  copy.bits = from.bits
  copy.rare = from.rare
  return copy as Laid & DraftFigure
}
