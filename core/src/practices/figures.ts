/** What the rules look at: the notes and rests of one stretch of a voice under one mensuration, as plain numbers. */
import type { SignId } from "../base/index.js"

export interface Figure {
  readonly id: SignId
  /** Place in the stretch. */
  readonly index: number
  readonly level: number
  readonly rest: boolean
  /** Ticks of its full, undiminished value; for a rest its fixed value. */
  readonly full: number
  readonly coloured: boolean
  /** Ticks that coloration leaves it; undefined where colour does not act. */
  readonly colouredTicks?: number
  readonly colourRule?: string
  /** The dot after it. */
  readonly dot?: SignId
  /** What it is, where that is stated or decided: it adds, it parts, it keeps perfect. */
  readonly dotGiven?: "aug" | "div" | "perf"
  /** A stroke of division after it (after its dot, if both). */
  readonly stroke?: SignId
  readonly strokeGroup?: boolean
  /** A dot between a rhomb and a breve or long: parts breves, and likes to close a perfection. */
  readonly softWall?: boolean
  /** Stems that carry meaning. */
  readonly stemDown: boolean
  readonly stemOblique: boolean
  readonly duplex: boolean
  /** Index of its ligature in the voice, -1 outside; whether it begins or ends it. */
  readonly ligature: number
  readonly ligatureStart: boolean
  readonly ligatureEnd: boolean
  readonly conjunctura: boolean
  /** Its level was read from the drawn form of the ligature. */
  readonly drawn: boolean
  readonly syllable: boolean
  /** The voice has words. */
  readonly texted: boolean
  /** Ticks fixed by the file or by an editor. */
  readonly fixed?: number
  readonly fixedBy?: "given" | "decision"
  /** A two-breve rest in perfect modus: counts as a long, fills two. */
  readonly shortLongRest: boolean
  /** The final note of the voice. */
  readonly final: boolean
  readonly localShape: boolean
  /** A rest that stands closer to one neighbour. */
  readonly near?: "previous" | "next"
  /** Filled in by `countRuns`: for each perfect level, the run that follows. */
  readonly runs: (Run | undefined)[]
}

/**
 * What a rule may look at of the figure it speaks of. Its name, its exact place and its words are not among it: figures
 * that look alike here, between neighbours that look alike, are offered the same, and the rules are asked once for all.
 */
export interface Seen extends Pick<
  Figure,
  | "level"
  | "rest"
  | "full"
  | "coloured"
  | "colouredTicks"
  | "colourRule"
  | "dotGiven"
  | "strokeGroup"
  | "softWall"
  | "duplex"
  | "fixed"
  | "shortLongRest"
  | "localShape"
> {
  /** A dot, a stroke stands after it. */
  readonly dot?: unknown
  readonly stroke?: unknown
}

/** What it may look at of the figure that follows, of the one before, and of the one after the next. */
export type SeenNext = Pick<Seen, "level" | "rest" | "duplex" | "shortLongRest" | "dot"> & Pick<Figure, "near">
export type SeenBefore = Pick<Seen, "level" | "rest" | "dot" | "stroke" | "strokeGroup"> & Pick<Figure, "near">
export type SeenSecond = Pick<Seen, "level" | "dot">

/** What rules ask of a run. From ten on its units are told as seven, eight or nine, by what is left over threes. */
export type Counted = Omit<Run, "distance">

/** For each level the price of leaving a note whole, of shortening it; and what it may lose behind. */
export interface Prices {
  readonly whole: readonly number[]
  readonly short: readonly number[]
  readonly backs: readonly { readonly amount: number; readonly cost: number; readonly level: number }[]
}

/** The smaller figures between a note and the next boundary, counted in units of one level. */
export interface Run {
  /** How many units; may be a fraction. */
  readonly units: number
  /** The last of them could be doubled. */
  readonly alterable: boolean
  readonly startsWithRest: boolean
  /** How far on from the note the figure stands that ends it; -1 for a wall or the end. */
  readonly distance: number
}
