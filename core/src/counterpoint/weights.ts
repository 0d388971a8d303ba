/**
 * What an interval between two voices says about whether they have been laid together rightly: natural logarithms of
 * odds, how much rarer (+) or commoner (-) it is there than between voices laid together at random. All of it stands
 * here; docs/weights.md prints it.
 *
 * The shares behind the costs of white notation, and those of voices laid together at random, were counted in two
 * five-part madrigals of 1582 and made a little less strict for the century before. Those of the older practices are
 * estimates in the order of their concords (Ars cantus mensurabilis, c. 1280, IX; De mensurabili musica, c. 1260, IX and
 * XI; for the fourteenth century common practice as the handbooks sum it up). Parallels weigh nothing before 1400 and are
 * not asked about here.
 */

/** Kinds of interval by the number of steps between the two, octaves taken away. */
export type IntervalKind = "perfect" | "third" | "fourth" | "sixth" | "discord"

/** Where the note begins: 2 with a perfection (a breve from the Ars nova on), 1 with one of its parts, 0 within them. */
export type Strength = 0 | 1 | 2

export type IntervalCosts = Readonly<Record<IntervalKind, number>>
/** By strength, weakest first. */
export type CostsByStrength = readonly [IntervalCosts, IntervalCosts, IntervalCosts]

/** Of two voices: both begin a note, or one begins while the other holds. */
export interface PairWeights {
  readonly together: CostsByStrength
  readonly against: CostsByStrength
}

export interface CounterpointWeights {
  /** With the lowest voice, and between two others. */
  readonly lowest: PairWeights
  readonly upper: PairWeights
}

type Shares = readonly [perfect: number, third: number, fourth: number, sixth: number, discord: number]

const KIND_NAMES: readonly IntervalKind[] = ["perfect", "third", "fourth", "sixth", "discord"]

/** Voices laid together at random (counted). */
const RANDOM: Shares = [0.31, 0.15, 0.15, 0.12, 0.27]

/** Evidence from neighbouring notes is not independent; so much of each counts (an estimate). */
const TEMPER = 0.7

/** `coincidence` is what the mere beginning together, or apart, says beside the interval. */
function costsOf(shares: Shares, coincidence: number): IntervalCosts {
  const cost = (i: number): number => Math.round((TEMPER * Math.log(RANDOM[i]! / shares[i]!) + coincidence) * 100) / 100
  return Object.fromEntries(KIND_NAMES.map((kind, i) => [kind, cost(i)])) as Record<IntervalKind, number>
}

/** Shares by strength, weakest first. */
const byStrength = (
  [weak, medium, strong]: readonly [Shares, Shares, Shares],
  coincidence: number,
): CostsByStrength => [costsOf(weak, coincidence), costsOf(medium, coincidence), costsOf(strong, coincidence)]

/** The fourth a concord, the sixth none; upper voices agree with the tenor first, less with each other. */
const THIRTEENTH: CounterpointWeights = {
  lowest: {
    together: byStrength(
      [
        [0.42, 0.18, 0.13, 0.1, 0.17],
        [0.5, 0.18, 0.12, 0.08, 0.12],
        [0.74, 0.13, 0.06, 0.03, 0.04],
      ],
      -0.2,
    ),
    against: byStrength(
      [
        [0.36, 0.17, 0.14, 0.11, 0.22],
        [0.42, 0.18, 0.13, 0.1, 0.17],
        [0.55, 0.16, 0.1, 0.07, 0.12],
      ],
      0.1,
    ),
  },
  upper: {
    together: byStrength(
      [
        [0.36, 0.17, 0.14, 0.11, 0.22],
        [0.42, 0.17, 0.13, 0.1, 0.18],
        [0.58, 0.15, 0.1, 0.05, 0.12],
      ],
      -0.2,
    ),
    against: byStrength(
      [
        [0.33, 0.16, 0.14, 0.12, 0.25],
        [0.34, 0.16, 0.14, 0.12, 0.24],
        [0.4, 0.17, 0.12, 0.09, 0.22],
      ],
      0.1,
    ),
  },
}

const FOURTEENTH: CounterpointWeights = {
  lowest: {
    together: byStrength(
      [
        [0.43, 0.24, 0.08, 0.13, 0.12],
        [0.52, 0.24, 0.06, 0.12, 0.06],
        [0.62, 0.22, 0.03, 0.1, 0.03],
      ],
      -0.2,
    ),
    against: byStrength(
      [
        [0.36, 0.2, 0.12, 0.13, 0.19],
        [0.42, 0.2, 0.1, 0.13, 0.15],
        [0.5, 0.2, 0.08, 0.12, 0.1],
      ],
      0.1,
    ),
  },
  upper: {
    together: byStrength(
      [
        [0.37, 0.2, 0.12, 0.13, 0.18],
        [0.42, 0.2, 0.12, 0.12, 0.14],
        [0.5, 0.2, 0.1, 0.1, 0.1],
      ],
      -0.2,
    ),
    against: byStrength(
      [
        [0.33, 0.17, 0.14, 0.13, 0.23],
        [0.34, 0.18, 0.14, 0.13, 0.21],
        [0.37, 0.18, 0.12, 0.13, 0.2],
      ],
      0.1,
    ),
  },
}

/** Beginning together: no discord; beginning against a held note: suspensions and passing notes. */
const WHITE: CounterpointWeights = {
  lowest: {
    together: byStrength(
      [
        [0.53, 0.35, 0.03, 0.06, 0.03],
        [0.56, 0.35, 0.02, 0.05, 0.02],
        [0.58, 0.35, 0.015, 0.04, 0.015],
      ],
      -0.4,
    ),
    against: byStrength(
      [
        [0.45, 0.23, 0.12, 0.08, 0.12],
        [0.5, 0.2, 0.11, 0.08, 0.11],
        [0.52, 0.18, 0.09, 0.06, 0.15],
      ],
      0.2,
    ),
  },
  upper: {
    together: byStrength(
      [
        [0.32, 0.36, 0.12, 0.17, 0.03],
        [0.32, 0.36, 0.12, 0.18, 0.02],
        [0.32, 0.36, 0.12, 0.18, 0.02],
      ],
      -0.4,
    ),
    against: byStrength(
      [
        [0.32, 0.22, 0.19, 0.16, 0.11],
        [0.34, 0.18, 0.18, 0.17, 0.13],
        [0.32, 0.18, 0.2, 0.17, 0.13],
      ],
      0.2,
    ),
  },
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
