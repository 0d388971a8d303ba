/**
 * What an interval between two voices says about whether they have been laid together rightly: natural logarithms of
 * odds, how much rarer (+) or commoner (-) it is there than between voices laid together at random. All of it stands
 * here; docs/weights.md prints it.
 *
 * Shares of intervals behind the numbers are estimates from memory of the repertory, in the order of the treatises'
 * concords (Ars cantus mensurabilis, c. 1280, IX; De mensurabili musica, c. 1260, IX and XI; for the later periods common
 * practice as summed up in the handbooks); none was counted. Two laws bind them: a perfect concord never speaks against,
 * a second or seventh never for a place; and nothing is asked of parallels before 1400, so nothing is asked of them here.
 */

/** Kinds of interval by the number of steps between the two, octaves taken away. */
export type IntervalKind = "perfect" | "third" | "fourth" | "sixth" | "discord"

/** Where in its measure the note stands that begins: a perfection (breve from the Ars nova on), its first part, a smaller one. */
export type Strength = 0 | 1 | 2

export type IntervalCosts = Readonly<Record<IntervalKind, number>>

export interface CounterpointWeights {
  /** By strength, weakest first. */
  readonly costs: readonly [IntervalCosts, IntervalCosts, IntervalCosts]
  /** Two notes that begin together say so much more than one that begins while the other holds. */
  readonly together: number
  /** Between two upper voices so much of it counts: each is made to agree with the lowest first. */
  readonly upper: number
}

/** Voices laid together at random: the shares of each kind of interval. */
const RANDOM: Readonly<Record<IntervalKind, number>> = { perfect: 0.34, third: 0.18, fourth: 0.12, sixth: 0.12, discord: 0.24 }

/** Evidence from neighbouring notes is not independent; so much of each counts. */
const TEMPER = 0.8

function costsOf(shares: Readonly<Record<IntervalKind, number>>): IntervalCosts {
  const cost = (kind: IntervalKind): number => Math.round(TEMPER * Math.log(RANDOM[kind] / shares[kind]) * 100) / 100
  return { perfect: cost("perfect"), third: cost("third"), fourth: cost("fourth"), sixth: cost("sixth"), discord: cost("discord") }
}

const shares = (perfect: number, third: number, fourth: number, sixth: number, discord: number) =>
  costsOf({ perfect, third, fourth, sixth, discord })

/** The fourth a concord, the sixth none; upper voices agree with the tenor, less with each other. */
const THIRTEENTH: CounterpointWeights = {
  costs: [shares(0.4, 0.2, 0.12, 0.1, 0.18), shares(0.48, 0.19, 0.11, 0.08, 0.14), shares(0.72, 0.14, 0.06, 0.03, 0.05)],
  together: 1.3,
  upper: 0.4,
}
const FOURTEENTH: CounterpointWeights = {
  costs: [shares(0.37, 0.2, 0.1, 0.13, 0.2), shares(0.45, 0.22, 0.07, 0.13, 0.13), shares(0.62, 0.22, 0.03, 0.09, 0.04)],
  together: 1.3,
  upper: 0.5,
}
const WHITE: CounterpointWeights = {
  costs: [shares(0.36, 0.26, 0.08, 0.16, 0.14), shares(0.42, 0.3, 0.05, 0.17, 0.06), shares(0.44, 0.32, 0.04, 0.17, 0.03)],
  together: 1.3,
  upper: 0.7,
}

const BY_PRACTICE: Readonly<Record<string, CounterpointWeights>> = {
  "ars-antiqua": THIRTEENTH,
  "ars-nova": FOURTEENTH,
  white: WHITE,
}

/** The weights of a practice; of one that has none of its own, those of the fourteenth century. */
export const counterpointOf = (practice: string): CounterpointWeights => BY_PRACTICE[practice] ?? FOURTEENTH

/** A voice that misses the others at a final or another place where all meet (an estimate: voices do meet). */
export const MISSED_MEETING = 9

const KINDS: readonly IntervalKind[] = ["perfect", "discord", "third", "fourth", "perfect", "sixth", "discord"]

/** The kind of interval between two notes so many staff steps apart. */
export const kindOfInterval = (steps: number): IntervalKind => KINDS[Math.abs(steps) % 7]!
