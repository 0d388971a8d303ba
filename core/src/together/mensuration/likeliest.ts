/** The likeliest of the mensurations tried for a voice, those that count its notes alike taken together. */
import { countsAlike, type Trial } from "./candidates.js"

/** What was tried of a voice. `grouped`: plain semibreves share a breve. */
export interface TriedAlone {
  readonly counting: { readonly grouped: boolean }
  readonly trials: readonly Trial[]
}

/** No note lasts otherwise; plain semibreves share a breve by its tempus. */
export const lastsAlike = (a: Trial, b: Trial, grouped: boolean): boolean =>
  countsAlike(a, b) && a.scale === b.scale && (!grouped || a.divisions.tempus === b.divisions.tempus)

/** The same, but for how the parts of a breve are called where no minim is written: that is all the prolation does there. */
export const sharesAlike = (a: Trial, b: Trial, grouped: boolean): boolean =>
  grouped
    ? countsAlike(a, b) && a.breves === b.breves && a.divisions.tempus === b.divisions.tempus
    : lastsAlike(a, b, grouped)

/** By trial, the chance of all that share the time of the voice alike. */
export const sharedChances = ({ counting, trials }: TriedAlone, chances: readonly number[]): number[] =>
  trials.map(one =>
    trials.reduce((sum, other, c) => sum + (sharesAlike(one, other, counting.grouped) ? chances[c]! : 0), 0),
  )

/**
 * Number of the likeliest trial; undefined where there is none. A mensuration that differs from others in what no note shows
 * has to share its chance with them, and is none the less likely for that: what the notes last is chosen first, and then the
 * name for it.
 */
export function likeliestOf(tried: TriedAlone, chances: readonly number[]): number | undefined {
  // sums of the same chances in another order differ by a hair
  const shared = sharedChances(tried, chances).map(one => Math.round(1e9 * one))
  const numbers = tried.trials.map((_, c) => c)
  return numbers.sort((a, b) => shared[b]! - shared[a]! || chances[b]! - chances[a]!)[0]
}
