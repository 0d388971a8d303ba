/**
 * What is known of the runs of semibreves in a stretch before any is cut into breves: where each begins and ends, what
 * marks stand around it, which rules share out a group.
 */
import {
  SEMIBREVIS,
  type Mensuration,
  type Practice,
  type Rule,
  type RuleId,
  type Settings,
} from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Proposal } from "./proposal.js"

/** A stretch of semibreves that might be one breve (or one altera), with what each of them lasts then. */
export interface GroupOffer {
  readonly size: number
  readonly ticks: number
  readonly counted: number
  readonly cost: number
  /** The rule for each figure, and its part of `ticks`. */
  readonly rules: readonly RuleId[]
  readonly parts: readonly (readonly [number, number])[]
  /** Fills the breve; false for a semibreve alone, which is an error and moves nothing. */
  readonly fills: boolean
  /** What the lattice made of it. */
  proposals?: (Proposal | undefined)[] | undefined
}

/** For each figure the run of semibreves without a mark inside in which it stands. */
interface Runs {
  /** First figure of the run, and the one after its last; from === to outside. */
  readonly from: Int32Array
  readonly to: Int32Array
}

export interface GroupPlan extends Runs {
  /** 1 for each figure that a dot or stroke stands after. */
  readonly marks: Uint8Array
  /** How many syllables stand before each figure, and before the end. */
  readonly syllables: Int32Array
  /** The plain semibreves of c. 1315-25: a semibreve may also stand by itself. */
  readonly early: boolean
  /** A breve may hold four and more. */
  readonly many: boolean
  readonly undividedAllowed: boolean
  /** The scribe parts breves by dots. */
  readonly voiceDots: boolean
  /** It is stated that breves hold many: without words the rule for undivided runs holds. */
  readonly byRule: boolean
  /** Rules that share out a group, the first to speak is heard. */
  readonly rules: readonly Rule[]
  /** The offers worked out last, and their first figure: the lattice asks place by place, so older ones are let go. */
  offers: readonly GroupOffer[]
  offersFrom: number
  /** Offers made so far, by their cost: few are different, and those that are alike are one. */
  readonly made: Map<number, GroupOffer[]>
}

/** What groups are read from; `plan` undefined where semibreves are read singly. */
export interface GroupInput {
  readonly practice: Practice
  readonly settings: Settings
  readonly mensuration: Mensuration
  readonly figures: readonly DraftFigure[]
  readonly plan?: GroupPlan | undefined
}
/** The same where there is a plan. */
export type PlannedInput = GroupInput & { readonly plan: GroupPlan }

export const hasPlan = (input: GroupInput): input is PlannedInput => input.plan !== undefined

/** Semibreves that one breve may hold at the most (rule brevis-divisa). */
export const MOST = 9
/** Rules that are asked before all others, since they look at stems. */
const PRIORITY = ["stem-lengthens", "via-artis"]
/** So many dots between semibreves are a habit of the scribe. */
const HABIT = 2

/** The plan of a stretch; undefined where semibreves are read singly. `divisionStated`: option breveDivision was not inferred. */
export function planGroups(
  figures: readonly DraftFigure[],
  practice: Practice,
  settings: Settings,
  divisionStated: boolean,
): GroupPlan | undefined {
  const early = practice.unit === "minima"
  if (early && settings["minims"] !== "unwritten") return undefined
  const rules = practice.rules.filter(rule => rule.group !== undefined)
  rules.sort((a, b) => (PRIORITY.includes(b.id) ? 1 : 0) - (PRIORITY.includes(a.id) ? 1 : 0))
  const marks = new Uint8Array(figures.length)
  for (const { index, dot, stroke } of figures) if (dot !== undefined || stroke !== undefined) marks[index] = 1
  return {
    ...runsOf(figures, marks, early),
    marks,
    syllables: syllablesBefore(figures),
    early,
    rules,
    voiceDots: dotsBetween(figures, marks, early) >= HABIT,
    byRule: !early && divisionStated && settings["breveDivision"] !== "two-or-three",
    many: early || settings["breveDivision"] !== "two-or-three",
    undividedAllowed: early || practice.rules.some(rule => rule.id === "semibreves-undivided"),
    offers: [],
    offersFrom: -1,
    made: new Map(),
  }
}

/** Whether a dot or stroke stands right before the run of figure `i`, and right after it. */
export const isMarkedBefore = ({ from, marks }: GroupPlan, i: number): boolean => marks[from[i]! - 1] === 1
export const isMarkedAfter = ({ from, to, marks }: GroupPlan, i: number): boolean =>
  to[i]! > from[i]! && marks[to[i]! - 1] === 1

function runsOf(figures: readonly DraftFigure[], marks: Uint8Array, early: boolean): Runs {
  const from = new Int32Array(figures.length)
  const to = new Int32Array(figures.length)
  for (let i = 0; i < figures.length;) {
    let end = i
    while (end < figures.length && isGrouped(figures[end]!, early) && (end === i || marks[end - 1] === 0)) end++
    const stop = Math.max(end, i + 1)
    from.fill(i, i, stop)
    to.fill(end, i, stop)
    i = stop
  }
  return { from, to }
}

function syllablesBefore(figures: readonly DraftFigure[]): Int32Array {
  const before = new Int32Array(figures.length + 1)
  for (let i = 0; i < figures.length; i++) before[i + 1] = before[i]! + (figures[i]!.syllable ? 1 : 0)
  return before
}

function dotsBetween(figures: readonly DraftFigure[], marks: Uint8Array, early: boolean): number {
  const grouped = (f: DraftFigure | undefined): boolean => f !== undefined && isGrouped(f, early)
  return figures.filter((f, i) => marks[i] === 1 && grouped(f) && grouped(figures[i + 1])).length
}

const isGrouped = (f: DraftFigure, early: boolean): boolean =>
  f.fixedBy !== "given" && (early ? f.level === SEMIBREVIS && f.colouredTicks === undefined : f.level >= SEMIBREVIS)
