/** How the runs of semibreves in all stretches of a voice may be cut, by what the whole voice shows of its scribe. */
import type { SettledStretch } from "./assemble.js"
import type { DraftFigure } from "./draft-figure.js"
import { NO_ENDS } from "./ends.js"
import type { Kept, KeptCut } from "./recut.js"
import {
  countRunsOf,
  DEAREST,
  habitsOf,
  noRuns,
  sameCounts,
  samePrices,
  SHORTEST_CUT,
  SIZES_EARLY,
  SIZES_MANY,
  type CountedRuns,
  type Habits,
} from "./semibreve-habits.js"
import {
  isMarkedAfter,
  isMarkedBefore,
  planGroups,
  withHabits,
  type GroupPlan,
  type StretchPlan,
} from "./semibreve-plan.js"
import type { Chosen } from "./settings.js"
import type { Cut, Stretch } from "./stretches.js"

/** What was counted in a voice, and what it changes. */
export interface VoiceHabits {
  readonly counted: CountedRuns
  /** How far it could change a price. */
  readonly dearest: number
  readonly habits: Habits
}

/** A voice before an edit, and how much of it is kept. */
export interface PlannedBefore {
  readonly settled: readonly SettledStretch[]
  readonly habits: VoiceHabits
  readonly kept: KeptCut | undefined
}

export interface PlannedVoice {
  readonly cut: Cut
  readonly plans: readonly (GroupPlan | undefined)[]
  readonly habits: VoiceHabits
}

/** How much of the stretch is as it was, and in which of those before. */
export const keptOf = (kept: KeptCut | undefined, stretch: number): Kept =>
  kept?.stretches[stretch] ?? { of: stretch, ...NO_ENDS }

/** `steady`: the habits are those from before, whatever is written now. `together`: to be read with other voices. */
export function planVoice(
  cut: Cut,
  chosen: Chosen,
  before: PlannedBefore | undefined,
  { steady, together }: { steady: boolean; together: boolean },
): PlannedVoice {
  const dearest = together ? DEAREST.together : DEAREST.alone
  const were = cut.stretches.map((_, i) => before?.settled[keptOf(before.kept, i).of])
  const plans = cut.stretches.map((stretch, i) => planOf(stretch, chosen, were[i], keptOf(before?.kept, i)))
  const habits =
    steady && before !== undefined ? before.habits : habitsIn(cut.stretches, plans, before?.habits, dearest)
  const same = habits.habits === before?.habits.habits
  return {
    // figures that were counted by other habits belong to the reading from before
    cut: same
      ? cut
      : { ...cut, stretches: cut.stretches.map((one, i) => (were[i]?.stretch === one ? apart(one) : one)) },
    plans: plans.map((plan, i) => {
      if (plan === undefined) return undefined
      const was = were[i]?.plan
      return same && plan === was ? was : withHabits(plan, habits.habits)
    }),
    habits,
  }
}

const apart = (stretch: Stretch): Stretch => ({ ...stretch, figures: stretch.figures.slice() })

function planOf(
  stretch: Stretch,
  { practice, settings, inferred }: Chosen,
  was: SettledStretch | undefined,
  { head, tail }: Kept,
): StretchPlan | undefined {
  if (was?.stretch === stretch) return was.plan
  const { figures } = stretch
  const before = was?.plan && { runs: was.plan, figures: was.stretch.figures, head, tail }
  return planGroups(figures, practice, settings, !inferred.has("breveDivision"), before)
}

function habitsIn(
  stretches: readonly Stretch[],
  plans: readonly (StretchPlan | undefined)[],
  before: VoiceHabits | undefined,
  dearest: number,
): VoiceHabits {
  const counted = noRuns()
  plans.forEach((plan, i) => {
    if (plan?.many) countRunsOf(counted, plan, (from, to) => isPlain(stretches[i]!.figures, plan, from, to))
  })
  if (before?.dearest === dearest && sameCounts(before.counted, counted)) return before
  const early = plans.some(plan => plan?.early)
  const habits = habitsOf(counted, early ? SIZES_EARLY : SIZES_MANY, early, dearest)
  return {
    counted,
    dearest,
    habits: before !== undefined && samePrices(before.habits, habits) ? before.habits : habits,
  }
}

/** Only the lack of dots tells how the run may be cut: no stem, no ligature, and about 1300 neither words nor dots around it. */
function isPlain(figures: readonly DraftFigure[], plan: StretchPlan, from: number, to: number): boolean {
  if (to - from < SHORTEST_CUT) return true
  if (!plan.early && (isSyllabic(plan, from, to) || (isMarkedBefore(plan, from) && isMarkedAfter(plan, from))))
    return false
  for (let i = from + 1; i < to; i++)
    if (figures[i]!.stemDown || figures[i]!.ligatureStart || figures[i - 1]!.ligatureEnd) return false
  return true
}

const isSyllabic = ({ syllables }: StretchPlan, from: number, to: number): boolean =>
  to - from === syllables[to]! - syllables[from]!
