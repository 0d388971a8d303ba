/**
 * What an editor decided, made ready for the lattice: for each sign the duration it is fixed to, the durations it must
 * not have, the meaning of a dot or stroke. What cannot be decided so, or was not kept, comes back as a problem.
 */
import { compare, equals, toText, ZERO, type Problem, type Rational, type SignId } from "../base/index.js"
import { flatSigns, type DecidedDot, type Decision, type Page } from "../page/index.js"
import { UNIT, type DotMeaning, type RuleId } from "../practices/index.js"
import type { Decided } from "./choices.js"
import type { ReadOptions } from "./settings.js"

/** All decisions on one sign, in the voice's unit. */
export interface SignRuling {
  readonly fixed?: Rational
  readonly not: readonly Rational[]
  readonly dot?: DecidedDot
  /** The last decision that says so. */
  readonly by: SignId
}

/** The same for a figure, in ticks: refused durations, and what its dot and its stroke are. */
export interface Ruling {
  readonly not?: readonly number[]
  readonly dot?: DecidedDot
  readonly stroke?: DecidedDot
}

/** A decision that cannot be, and why; the place is told later. */
export interface Misfit {
  readonly sign: SignId
  readonly by?: SignId
  readonly why: keyof typeof MISFITS
  readonly what?: string
}

export interface Rulings {
  readonly bySign: ReadonlyMap<string, SignRuling>
  readonly misfits: readonly Misfit[]
}

/** Longer durations and finer fractions are no values of notes; exact sums of them would burst. */
const LONGEST = 4096

const known = new WeakMap<readonly Decision[], Rulings>()

/** The decisions of a page sign by sign. A later one on the same sign goes before an earlier one. */
export function rulingsOf(decisions: readonly Decision[]): Rulings {
  let made = known.get(decisions)
  if (made === undefined) known.set(decisions, (made = gather(decisions)))
  return made
}

function gather(decisions: readonly Decision[]): Rulings {
  const bySign = new Map<string, SignRuling>()
  const misfits: Misfit[] = []
  for (const decision of decisions) {
    if (!(decision.duration ?? decision.not ?? decision.dot)) continue
    const { id: by, sign } = decision
    const wrong = unusable(decision)
    if (wrong !== undefined) misfits.push({ sign, by, why: "impossible", what: toText(wrong) })
    const old = bySign.get(sign) ?? { not: [], by }
    const now = wrong === undefined ? { ...old, ...whatIs(decision, old), by } : old
    if (contradicts(old, decision) || (now.fixed !== undefined && has(now.not, now.fixed)))
      misfits.push({ sign, by, why: "contradiction" })
    bySign.set(sign, now)
  }
  return { bySign, misfits }
}

function whatIs({ duration, not = [], dot }: Decision, old: SignRuling): Partial<SignRuling> {
  if (duration !== undefined) return { fixed: duration }
  return dot !== undefined ? { dot } : { not: [...old.not, ...not] }
}

const has = (all: readonly Rational[], one: Rational): boolean => all.some(other => equals(one, other))

const contradicts = (old: SignRuling, { duration, dot }: Decision): boolean =>
  (duration !== undefined && old.fixed !== undefined && !equals(old.fixed, duration)) ||
  (dot !== undefined && old.dot !== undefined && old.dot !== dot)

/** A duration that no figure can have: none at all, endless, or cut too fine. */
function unusable({ duration, not = [] }: Decision): Rational | undefined {
  return [...(duration === undefined ? [] : [duration]), ...not].find(
    one => !(compare(one, ZERO) > 0) || one.num / one.den > LONGEST,
  )
}

/** Ticks of a duration under a proportion; undefined where it is cut finer than any note. */
export function ticksUnder(duration: Rational, by: Rational): number | undefined {
  const ticks = (UNIT * duration.num * by.num) / (duration.den * by.den)
  const fine = UNIT % duration.den !== 0 && Math.abs(ticks - Math.round(ticks)) > 1e-6
  return fine ? undefined : ticks
}

/** Whether a figure may last so many ticks, less than one tick apart being the same. */
export const refuses = (ruling: Ruling, ticks: number): boolean =>
  ruling.not !== undefined && ruling.not.some(one => Math.abs(one - ticks) < 1)

/** Whether the dot and the stroke after a figure may be what an offer makes of them. */
export function fitsMarks({ dot, stroke }: Ruling, rule: RuleId, meaning: DotMeaning, dotted: boolean): boolean {
  if (dot !== undefined && meaning !== MEANINGS[dot] && !(dot === "division" && meaning === "none")) return false
  if (stroke === undefined) return true
  return stroke === (rule === "punctus-perfectionis" && !dotted ? "perfection" : "division")
}

/** What the rules call it. */
export const MEANINGS: Readonly<Record<DecidedDot, DotMeaning>> = {
  division: "division",
  addition: "augmentation",
  perfection: "perfection",
  alteration: "alteration",
}

/** Whether what was decided for a figure keeps to its ruling. */
export const isKept = (ruling: Ruling, { choice, ticks }: Decided, dotted: boolean): boolean =>
  !refuses(ruling, ticks) && fitsMarks(ruling, choice.rule, choice.dot, dotted)

const MISFITS = {
  impossible: (what: string) => ({
    what: `No sign can last ${what}.`,
    mend: "Decide on a duration above 0 that notes can have.",
  }),
  fine: (what: string) => ({
    what: `A duration of ${what} is cut finer than any note.`,
    mend: "Decide on a fraction that halves, thirds, fifths or sevenths of notes can give.",
  }),
  contradiction: () => ({
    what: "Two decisions on this sign contradict each other; the duration that is fixed, or else the later one, holds.",
    mend: "Take one of them back.",
  }),
  lengthless: () => ({
    what: "A duration was decided for a sign that does not last.",
    mend: "Decide on a note or a rest that is counted.",
  }),
  markless: () => ({
    what: "A meaning was decided for what is no dot or stroke after a note.",
    mend: "Decide on a dot that follows a note or rest.",
  }),
  mixed: () => ({
    what: "Both a duration and the meaning of a dot were decided for it.",
    mend: "Decide on durations of notes and rests, and on meanings of dots.",
  }),
  unkept: () => ({
    what: "Nothing is left here that the decision would allow; it was passed over.",
    mend: "Take the decision back, or fix the duration that is meant.",
  }),
} as const

/** The misfit as a problem; `place` says where its sign stands. */
export function misfitProblem({ sign, by, why, what = "" }: Misfit, place: string): Problem {
  const told = MISFITS[why](what)
  return {
    code: why === "unkept" ? "decision-not-kept" : "decision-impossible",
    what: `Decision ${by === undefined ? "" : `${by}, `}on ${place}: ${told.what}`,
    where: { sign, place },
    mend: told.mend,
  }
}

/** Decisions of the page on signs that it does not have. */
export function strayDecisions({ decisions, voices }: Page): Problem[] {
  if (decisions === undefined) return []
  const ids = new Set<string>(voices.flatMap(voice => flatSigns(voice).map(({ sign }) => sign.id)))
  return decisions
    .filter(({ sign }) => !ids.has(sign))
    .map(({ id, sign }) => ({
      code: "decision-impossible",
      what: `Decision ${id} is on “${sign}”, which the page does not have.`,
      where: { sign, place: `decision ${id}` },
      mend: "Take the decision back, or name a note, rest or dot of the page.",
    }))
}

/** The options with what the page itself says beside its voices: shapes of its own, decisions. */
export function withPageOptions({ shapes, decisions }: Page, options: ReadOptions): ReadOptions {
  if (shapes.length === 0 && decisions === undefined) return options
  return { ...options, ...(shapes.length > 0 && { shapes }), ...(decisions && { pageDecisions: decisions }) }
}
