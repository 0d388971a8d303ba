/**
 * What an interval between two voices says about whether they have been laid together rightly: natural logarithms of
 * odds, how much rarer (+) or commoner (-) it is there than between voices laid together at random. All of it stands
 * here; docs/weights.md prints it.
 *
 * The shares behind the costs of white notation, and those of voices laid together at random, were counted in two
 * five-part madrigals of 1582 and made a little less strict for the century before. Those of the older practices are
 * estimates in the order of their concords (Ars cantus mensurabilis, c. 1280, IX; De mensurabili musica, c. 1260, IX and
 * XI; for the fourteenth century common practice as the handbooks sum it up). Parallels weigh nothing before 1400; from then
 * on they are asked about where pitches are in question.
 *
 * A discord that is entered and left by step, or that makes a held note resolve by step downward, is another thing than
 * one that is leapt to or from: in the two madrigals there was none of the second sort among 2,700 pairs, though half of
 * all discords would be such at random. In the older practices leaps are freer (an estimate: notes of a minim or less
 * "freely" discordant, c. 1315 to 1400; anything but the beginning of a perfection before).
 */

/**
 * Kinds of interval by the number of steps between the two, octaves taken away; fourths and discords also by how the
 * voices come to them and go on (see `motionOf`).
 */
export type IntervalKind = "perfect" | "third" | "fourth" | "sixth" | "discord" | "fourthByStep" | "discordByStep"
export const INTERVAL_KINDS: readonly IntervalKind[] = [
  "perfect",
  "third",
  "fourth",
  "sixth",
  "discord",
  "fourthByStep",
  "discordByStep",
]

/** Where the note begins: 2 with a perfection (a breve from the Ars nova on), 1 with one of its parts, 0 within them. */
export type Strength = 0 | 1 | 2

export type IntervalCosts = Readonly<Record<IntervalKind, number>>
/** By strength, weakest first. */
export type CostsByStrength = readonly [IntervalCosts, IntervalCosts, IntervalCosts]

/** Of two voices: both begin a note, or one begins while the other holds. */
export interface PairWeights {
  readonly together: CostsByStrength
  readonly against: CostsByStrength
  /** What may stand where concord is asked. */
  readonly concords: readonly IntervalKind[]
}

export interface CounterpointWeights {
  /** With the lowest voice, and between two others. */
  readonly lowest: PairWeights
  readonly upper: PairWeights
  /** How far each single discord has to be accounted for, from 0 to 1: the freer a style, the more of them come together. */
  readonly strictness: number
  /** Fifths and octaves in a row are avoided, as from 1400 on (common practice). */
  readonly avoidsParallels: boolean
}

type Shares = readonly [perfect: number, third: number, fourth: number, sixth: number, discord: number]

/** Voices laid together at random (counted); half of what is discordant is by step. */
const RANDOM: Shares = [0.31, 0.15, 0.15, 0.12, 0.27]
const RANDOM_BY_STEP = 0.5

/** Evidence from neighbouring notes is not independent; so much of each counts (an estimate). */
export const TEMPER = 0.7

/** By kind, the shares of voices laid together at random. */
export const RANDOM_SHARES: IntervalCosts = {
  perfect: RANDOM[0],
  third: RANDOM[1],
  fourth: RANDOM[2] * (1 - RANDOM_BY_STEP),
  sixth: RANDOM[3],
  discord: RANDOM[4] * (1 - RANDOM_BY_STEP),
  fourthByStep: RANDOM[2] * RANDOM_BY_STEP,
  discordByStep: RANDOM[4] * RANDOM_BY_STEP,
}

/** How much of the discords is by step, and whether fourths are discords too. */
interface Handling {
  readonly byStep: number
  readonly fourths: "concords" | "discords"
}

/** `coincidence` is what the mere beginning together, or apart, says beside the interval. */
function costsOf(shares: Shares, coincidence: number, { byStep, fourths }: Handling): IntervalCosts {
  const rounded = (random: number, share: number): number =>
    Math.round((TEMPER * Math.log(random / share) + coincidence) * 100) / 100
  const cost = (i: number, part = 1, randomPart = part): number => rounded(RANDOM[i]! * randomPart, shares[i]! * part)
  const stepwise = (i: number, own: number) => cost(i, own, RANDOM_BY_STEP)
  const ofFourths = fourths === "discords" ? byStep : RANDOM_BY_STEP
  return {
    perfect: cost(0),
    third: cost(1),
    fourth: stepwise(2, 1 - ofFourths),
    sixth: cost(3),
    discord: stepwise(4, 1 - byStep),
    fourthByStep: stepwise(2, ofFourths),
    discordByStep: stepwise(4, byStep),
  }
}

/** Shares by strength, weakest first. */
const byStrength = (
  [weak, medium, strong]: readonly [Shares, Shares, Shares],
  coincidence: number,
  handling: Handling,
): CostsByStrength => [
  costsOf(weak, coincidence, handling),
  costsOf(medium, coincidence, handling),
  costsOf(strong, coincidence, handling),
]

const OLD_CONCORDS: readonly IntervalKind[] = ["perfect", "third", "fourth", "fourthByStep"]
const LATER_CONCORDS: readonly IntervalKind[] = ["perfect", "third", "sixth"]
/** Between upper voices a fourth will do. */
const UPPER_CONCORDS: readonly IntervalKind[] = [...LATER_CONCORDS, "fourth", "fourthByStep"]

const FREE: Handling = { byStep: 0.55, fourths: "concords" }
const FOURTEENTH_LOWEST: Handling = { byStep: 0.65, fourths: "discords" }
const FOURTEENTH_UPPER: Handling = { byStep: 0.65, fourths: "concords" }
const WHITE_LOWEST: Handling = { byStep: 0.94, fourths: "discords" }
const WHITE_UPPER: Handling = { byStep: 0.94, fourths: "concords" }

/** The fourth a concord, the sixth none; upper voices agree with the tenor first, less with each other. */
const THIRTEENTH: CounterpointWeights = {
  strictness: 0.65,
  avoidsParallels: false,
  lowest: {
    concords: OLD_CONCORDS,
    together: byStrength(
      [
        [0.42, 0.18, 0.13, 0.1, 0.17],
        [0.5, 0.18, 0.12, 0.08, 0.12],
        [0.74, 0.13, 0.06, 0.03, 0.04],
      ],
      -0.2,
      FREE,
    ),
    against: byStrength(
      [
        [0.36, 0.17, 0.14, 0.11, 0.22],
        [0.42, 0.18, 0.13, 0.1, 0.17],
        [0.55, 0.16, 0.1, 0.07, 0.12],
      ],
      0.1,
      FREE,
    ),
  },
  upper: {
    concords: OLD_CONCORDS,
    together: byStrength(
      [
        [0.36, 0.17, 0.14, 0.11, 0.22],
        [0.42, 0.17, 0.13, 0.1, 0.18],
        [0.58, 0.15, 0.1, 0.05, 0.12],
      ],
      -0.2,
      FREE,
    ),
    against: byStrength(
      [
        [0.33, 0.16, 0.14, 0.12, 0.25],
        [0.34, 0.16, 0.14, 0.12, 0.24],
        [0.4, 0.17, 0.12, 0.09, 0.22],
      ],
      0.1,
      FREE,
    ),
  },
}

const FOURTEENTH: CounterpointWeights = {
  strictness: 0.8,
  avoidsParallels: false,
  lowest: {
    concords: LATER_CONCORDS,
    together: byStrength(
      [
        [0.43, 0.24, 0.08, 0.13, 0.12],
        [0.52, 0.24, 0.06, 0.12, 0.06],
        [0.62, 0.22, 0.03, 0.1, 0.03],
      ],
      -0.2,
      FOURTEENTH_LOWEST,
    ),
    against: byStrength(
      [
        [0.36, 0.2, 0.12, 0.13, 0.19],
        [0.42, 0.2, 0.1, 0.13, 0.15],
        [0.5, 0.2, 0.08, 0.12, 0.1],
      ],
      0.1,
      FOURTEENTH_LOWEST,
    ),
  },
  upper: {
    concords: UPPER_CONCORDS,
    together: byStrength(
      [
        [0.37, 0.2, 0.12, 0.13, 0.18],
        [0.42, 0.2, 0.12, 0.12, 0.14],
        [0.5, 0.2, 0.1, 0.1, 0.1],
      ],
      -0.2,
      FOURTEENTH_UPPER,
    ),
    against: byStrength(
      [
        [0.33, 0.17, 0.14, 0.13, 0.23],
        [0.34, 0.18, 0.14, 0.13, 0.21],
        [0.37, 0.18, 0.12, 0.13, 0.2],
      ],
      0.1,
      FOURTEENTH_UPPER,
    ),
  },
}

/** Beginning together: no discord; beginning against a held note: suspensions and passing notes. */
const WHITE: CounterpointWeights = {
  strictness: 1,
  avoidsParallels: true,
  lowest: {
    concords: LATER_CONCORDS,
    together: byStrength(
      [
        [0.53, 0.35, 0.03, 0.06, 0.03],
        [0.56, 0.35, 0.02, 0.05, 0.02],
        [0.58, 0.35, 0.015, 0.04, 0.015],
      ],
      -0.4,
      WHITE_LOWEST,
    ),
    against: byStrength(
      [
        [0.45, 0.23, 0.12, 0.08, 0.12],
        [0.5, 0.2, 0.11, 0.08, 0.11],
        [0.52, 0.18, 0.09, 0.06, 0.15],
      ],
      0.2,
      WHITE_LOWEST,
    ),
  },
  upper: {
    concords: UPPER_CONCORDS,
    together: byStrength(
      [
        [0.32, 0.36, 0.12, 0.17, 0.03],
        [0.32, 0.36, 0.12, 0.18, 0.02],
        [0.32, 0.36, 0.12, 0.18, 0.02],
      ],
      -0.4,
      WHITE_UPPER,
    ),
    against: byStrength(
      [
        [0.32, 0.22, 0.19, 0.16, 0.11],
        [0.34, 0.18, 0.18, 0.17, 0.13],
        [0.32, 0.18, 0.2, 0.17, 0.13],
      ],
      0.2,
      WHITE_UPPER,
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
