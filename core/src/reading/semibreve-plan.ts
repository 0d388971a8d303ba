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
}

/** For each figure the run of semibreves without a mark inside in which it stands. */
interface Runs {
  /** First figure of the run, and the one after its last; from === to outside. */
  readonly from: readonly number[]
  readonly to: readonly number[]
  /** Whether a dot or stroke stands right before the run, and right after it. */
  readonly markedBefore: readonly boolean[]
  readonly markedAfter: readonly boolean[]
}

export interface GroupPlan extends Runs {
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
  /** Offers worked out so far, by their first figure. */
  readonly offers: Map<number, readonly GroupOffer[]>
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
  const marks = figures.map(f => f.dot !== undefined || f.stroke !== undefined)
  return {
    ...runsOf(figures, marks, early),
    early,
    rules,
    voiceDots: dotsBetween(figures, marks, early) >= HABIT,
    byRule: !early && divisionStated && settings["breveDivision"] !== "two-or-three",
    many: early || settings["breveDivision"] !== "two-or-three",
    undividedAllowed: early || practice.rules.some(rule => rule.id === "semibreves-undivided"),
    offers: new Map(),
  }
}

function runsOf(figures: readonly DraftFigure[], marks: readonly boolean[], early: boolean): Runs {
  const runs = { from: [] as number[], to: [] as number[], markedBefore: [] as boolean[], markedAfter: [] as boolean[] }
  for (let i = 0; i < figures.length;) {
    let end = i
    while (end < figures.length && isGrouped(figures[end]!, early) && (end === i || !marks[end - 1]!)) end++
    const stop = Math.max(end, i + 1)
    for (let at = i; at < stop; at++) {
      runs.from.push(i)
      runs.to.push(end)
      runs.markedBefore.push(i > 0 && marks[i - 1]!)
      runs.markedAfter.push(end > i && marks[end - 1]!)
    }
    i = stop
  }
  return runs
}

function dotsBetween(figures: readonly DraftFigure[], marks: readonly boolean[], early: boolean): number {
  const grouped = (f: DraftFigure | undefined): boolean => f !== undefined && isGrouped(f, early)
  return figures.filter((f, i) => marks[i] && grouped(f) && grouped(figures[i + 1])).length
}

const isGrouped = (f: DraftFigure, early: boolean): boolean =>
  f.fixed === undefined && (early ? f.level === SEMIBREVIS && f.colouredTicks === undefined : f.level >= SEMIBREVIS)
