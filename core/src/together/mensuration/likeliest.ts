/** The likeliest of the mensurations tried for a voice, those that count its notes alike taken together. */
import { countsAlike, type Trial } from "./candidates.js"
import type { Joint } from "./joint.js"
import { alikeCommons, type Tried } from "./sounds.js"

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

/**
 * The likeliest trial of every voice such that all go together: each by itself, two voices of which the one is a little more
 * likely in this measure and the other in that would be read so that they do not meet. Of all common measures the one in
 * which most voices may be expected to be right.
 */
export function likeliestTogether(tried: readonly Tried[], { chances, commons }: Joint): (number | undefined)[] {
  const apart = tried.map((one, v) => likeliestOf(one, chances[v]!))
  const shared = tried.map((one, v) => sharedChances(one, chances[v]!))
  const inCommon = alikeCommons(tried, commons).map(({ all }) => {
    const same = commons.filter(one => all.includes(one.divisions))
    return tried.map((one, v) => {
      const sums = one.trials.map((_, c) => same.reduce((sum, { rows }) => sum + (rows[v]![c] ?? 0), 0))
      return sums.some(sum => sum > 0) ? likeliestOf(one, sums) : apart[v]
    })
  })
  const rightIn = (trials: readonly (number | undefined)[]): number =>
    trials.reduce<number>((sum, c, v) => sum + (c === undefined ? 0 : shared[v]![c]!), 0)
  // the first of those that are as good is that of the likeliest common measure
  return inCommon.toSorted((a, b) => Math.round(1e9 * (rightIn(b) - rightIn(a))))[0] ?? apart
}
