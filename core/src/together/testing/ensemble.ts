/** Who sings in an invented piece: names, ranges, clefs, and the mensuration of every voice. */
import type { Clef } from "../../page/index.js"
import { BREVIS, LONGA } from "../../reading/testing/drafts.js"
import { kindOf, type Divisions, type Kind, type LawfulPractice } from "../../reading/testing/kinds.js"
import type { Random } from "../../reading/testing/random.js"

export interface Singer {
  readonly label: string
  /** The lowest pitch in steps above c0; a voice keeps within a tenth. */
  readonly low: number
  /** Moves in larger values than the others. */
  readonly slow: boolean
  readonly texted: boolean
}

type Place = readonly [label: string, low: number, slow?: "slow"]

/** In the order in which voices join, the one that carries the others first. */
const THIRTEENTH: readonly Place[] = [
  ["tenor", 22, "slow"],
  ["motetus", 25],
  ["triplum", 26],
  ["quadruplum", 27],
  ["quintus", 26],
  ["sextus", 25],
  ["septimus", 27],
  ["octavus", 24],
]
const FOURTEENTH: readonly Place[] = [
  ["tenor", 22, "slow"],
  ["motetus", 26],
  ["triplum", 28],
  ["contratenor", 21, "slow"],
  ["quintus", 27],
  ["sextus", 26],
  ["septimus", 24],
  ["octavus", 28],
]
const FIFTEENTH: readonly Place[] = [
  ["tenor", 22],
  ["cantus", 28],
  ["bassus", 17],
  ["altus", 24],
  ["quintus", 23],
  ["sextus", 27],
  ["septimus", 18],
  ["octavus", 25],
]

const PLACES: Record<LawfulPractice, readonly Place[]> = {
  "ars-antiqua": THIRTEENTH,
  "divided-breves": THIRTEENTH,
  "ars-nova-early": FOURTEENTH,
  "ars-nova": FOURTEENTH,
  white: FIFTEENTH,
}

/** Before 1400 tenors have no words. */
export function singers(practice: LawfulPractice, count: number, random: Random): readonly Singer[] {
  const allTexted = practice === "white" && random.chance(0.4)
  return PLACES[practice].slice(0, count).map(([label, low, slow], i) => ({
    label,
    low,
    slow: slow !== undefined,
    texted: allTexted || (slow === undefined && random.chance(i === 1 ? 0.9 : 0.7)),
  }))
}

/** A clef with which the tenth above `low` lies on the staff. */
export function clefFor(low: number): Pick<Clef, "shape" | "line"> {
  if (low < 18) return { shape: "F", line: 4 }
  if (low < 21) return { shape: "F", line: 3 }
  if (low < 23) return { shape: "C", line: 4 }
  if (low < 26) return { shape: "C", line: 3 }
  return low < 28 ? { shape: "C", line: 2 } : { shape: "C", line: 1 }
}

/** Divisions of the first voice (the tenor), and those the others may have. */
type Mixed = readonly (readonly [Divisions, readonly Divisions[]])[]

const TEMPUS: Divisions = [2, 2, 3, 2]
const PROLATIO: Divisions = [2, 2, 2, 3]
const TEMPUS_AGAINST_PROLATIO: Mixed = [
  [TEMPUS, [PROLATIO, TEMPUS]],
  [PROLATIO, [TEMPUS, PROLATIO]],
]
/** With the same minim and the same breve. */
const MIXED: Record<"ars-nova-early" | "ars-nova" | "white", Mixed> = {
  "ars-nova-early": [
    [[2, 3, 2, 2], [[2, 2, 2, 2]]],
    [[2, 3, 3, 2], [[2, 2, 3, 2]]],
    [[2, 2, 3, 2], [[2, 3, 3, 2]]],
  ],
  "ars-nova": [
    ...TEMPUS_AGAINST_PROLATIO,
    [[2, 3, 2, 2], [[2, 2, 2, 2]]],
    [[2, 3, 2, 3], [[2, 2, 2, 3]]],
    [[2, 3, 2, 3], [[2, 2, 3, 2]]],
  ],
  white: [...TEMPUS_AGAINST_PROLATIO, [[2, 3, 2, 2], [[2, 2, 2, 2]]]],
}

/** One kind for every voice: the same for all, or different mensurations of one minim. Ars antiqua has but one. */
export function kindsFor(practice: LawfulPractice, count: number, mixed: boolean, random: Random): readonly Kind[] {
  if (!mixed || practice === "ars-antiqua" || practice === "divided-breves") {
    const kind = kindOf(practice, random)
    return Array.from({ length: count }, () => kind)
  }
  const [tenor, others] = random.of(MIXED[practice])
  // The first of the others always differs from the tenor, so that two voices suffice.
  return Array.from({ length: count }, (_, i) =>
    kindOf(practice, random, i === 0 ? tenor : others[(i - 1) % others.length]),
  )
}

/** The same kind as a voice in larger values is written. */
export function slowed(kind: Kind): Kind {
  const { patterns, small, longer } = kind.habits
  const habits = {
    ...kind.habits,
    patterns: { ...patterns, whole: patterns.whole * 4 },
    longer: Math.max(0.25, longer),
    small: small * 4,
    single: 0.95,
    rest: 0.12,
  }
  return { ...kind, habits }
}

/** The level whose spans are filled one after the other: at least breves, in slow voices longs. */
export function spanLevel(kind: Kind, slow: boolean): number {
  const top = kind.measure.perfect[0] ?? (kind.measure.groups ? LONGA : BREVIS)
  return Math.min(top, slow ? LONGA : BREVIS)
}
