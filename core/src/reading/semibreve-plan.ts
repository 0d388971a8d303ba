/**
 * What is known of the runs of semibreves in a stretch before any is cut into breves: where each begins and ends, what
 * marks stand around it, which rules share out a group.
 */
import { type Mensuration, type Practice, type Rule, type RuleId, type Settings } from "../practices/index.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Habits } from "./semibreve-habits.js"
import type { Proposal } from "./proposal.js"
import { semibreveRuns, type RunsBefore, type SemibreveRuns } from "./semibreve-runs.js"

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

/** A plan but for what the whole voice shows. */
export interface StretchPlan extends SemibreveRuns {
  /** The plain semibreves of c. 1315-25: a semibreve may also stand by itself. */
  readonly early: boolean
  /** A breve may hold four and more. */
  readonly many: boolean
  readonly undividedAllowed: boolean
  /** The scribe parts breves by dots: said only where a breve holds two or three, else the habits tell how often. */
  readonly voiceDots: boolean
  /** It is stated that breves hold many: without words the rule for undivided runs holds. */
  readonly byRule: boolean
  /** Rules that share out a group, the first to speak is heard. */
  readonly rules: readonly Rule[]
}

export interface GroupPlan extends StretchPlan {
  readonly habits: Habits
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

/**
 * The plan of a stretch by itself; undefined where semibreves are read singly. `divisionStated`: option breveDivision was not
 * inferred. `before`: how its runs were, as far as it is as it was.
 */
export function planGroups(
  figures: readonly DraftFigure[],
  practice: Practice,
  settings: Settings,
  divisionStated: boolean,
  before?: RunsBefore,
): StretchPlan | undefined {
  const early = practice.unit === "minima"
  if (early && settings["minims"] !== "unwritten") return undefined
  const rules = practice.rules.filter(rule => rule.group !== undefined)
  rules.sort((a, b) => (PRIORITY.includes(b.id) ? 1 : 0) - (PRIORITY.includes(a.id) ? 1 : 0))
  const runs = semibreveRuns(figures, early, before)
  return {
    ...runs,
    early,
    rules,
    voiceDots: runs.dots >= HABIT,
    byRule: !early && divisionStated && settings["breveDivision"] !== "two-or-three",
    many: early || settings["breveDivision"] !== "two-or-three",
    undividedAllowed: early || practice.rules.some(rule => rule.id === "semibreves-undivided"),
  }
}

/** The plan for the lattice. */
export const withHabits = (plan: StretchPlan, habits: Habits): GroupPlan => ({
  ...plan,
  habits,
  offers: [],
  offersFrom: -1,
  made: new Map(),
})

/** Whether a dot or stroke stands right before the run of figure `i`, and right after it. */
export const isMarkedBefore = ({ from, marks }: StretchPlan, i: number): boolean => marks[from[i]! - 1] === 1
export const isMarkedAfter = ({ from, to, marks }: StretchPlan, i: number): boolean =>
  to[i]! > from[i]! && marks[to[i]! - 1] === 1
