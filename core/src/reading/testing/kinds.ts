/** The kinds of voices that are made: mensurations, habits of the practice, how groups of semibreves are shared. */
import { measureOf, TICKS, type Measure } from "./drafts.js"
import type { Habits } from "./fill.js"
import type { Random } from "./random.js"

export type LawfulPractice = "ars-antiqua" | "divided-breves" | "ars-nova-early" | "ars-nova" | "white"
export const LAWFUL_PRACTICES: readonly LawfulPractice[] = [
  "ars-antiqua",
  "divided-breves",
  "ars-nova-early",
  "ars-nova",
  "white",
]

export interface Kind {
  readonly practice: string
  readonly options: Readonly<Record<string, string>>
  readonly notation: "black" | "white"
  readonly measure: Measure
  readonly habits: Habits
  /** Divisions as the page states them; undefined where it states none. */
  readonly sign: { readonly divisions: Divisions; readonly strokes?: 1 } | undefined
}
export type Divisions = readonly [2 | 3, 2 | 3, 2 | 3, 2 | 3]

const equal = (size: number, breve: number): number[] => Array.from({ length: size }, () => breve / size)
/** Two on a perfect breve are minor and maior; all other groups are even (the default of every practice here). */
const shared = (size: number, breve: number, perfect: boolean): number[] =>
  size === 2 && perfect ? [breve / 3, (2 * breve) / 3] : equal(size, breve)

const MODUS: Habits = {
  patterns: { whole: 3, post: 4, ante: 1, units: 3, altered: 2 },
  rest: 0.1,
  part: 0,
  dot: 0,
  colour: 0,
  colourPairs: 0,
  carry: 0,
  longer: 0.04,
  shortRest: 0.06,
  small: 1,
}
const NOVA: Habits = {
  patterns: { whole: 3, post: 3, ante: 1, units: 3.5, altered: 1.2 },
  rest: 0.07,
  part: 0.04,
  dot: 0.05,
  colour: 0.015,
  colourPairs: 0,
  carry: 0.02,
  longer: 0.08,
  shortRest: 0,
  small: 1.3,
}
const WHITE: Habits = { ...NOVA, part: 0.015, dot: 0.12, colour: 0.015, colourPairs: 0.4, carry: 0.004 }
const PLAIN: Habits = { ...MODUS, rest: 0.08, dot: 0 }

function antiqua(options: Readonly<Record<string, string>>, weights: Readonly<Record<string, number>>): Kind {
  const full = [6, 3, 1, 1 / 3, 1 / 9, 1 / 18, 1 / 36, 1 / 72].map(tempora => tempora * TICKS)
  const groups = { weights, shares: (size: number) => shared(size, TICKS, true) }
  const measure: Measure = { divisions: [2, 3, 3, 3, 2, 2, 2, 2], full, perfect: [1], doubleLong: true, groups }
  return { practice: "ars-antiqua", options, notation: "black", measure, habits: MODUS, sign: undefined }
}

/** Plain semibreves without minims, c. 1315-25. */
function early(random: Random, wanted: Divisions | undefined): Kind {
  const usual: Divisions[] = [
    [2, 2, 3, 2],
    [2, 2, 2, 2],
    [2, 3, 2, 2],
    [2, 3, 3, 2],
    [2, 3, 2, 3],
  ]
  const divisions = wanted ?? random.of(usual)
  const measure = measureOf(divisions)
  const breve = measure.full[2]!
  const weights = { "2": 4, "3": 4, "4": 3, "5": 1, "6": 1 }
  const groups = { weights, shares: (size: number) => shared(size, breve, divisions[2] === 3) }
  return {
    practice: "ars-nova",
    options: { minims: "unwritten" },
    notation: "black",
    habits: PLAIN,
    measure: { ...measure, perfect: measure.perfect.filter(k => k < 2), groups },
    sign: { divisions },
  }
}

function mensural(random: Random, practice: "ars-nova" | "white", wanted: Divisions | undefined): Kind {
  const nova: Divisions[] = [
    [2, 2, 3, 2],
    [2, 2, 2, 3],
    [2, 2, 3, 3],
    [2, 2, 2, 2],
    [2, 3, 2, 2],
    [2, 3, 2, 3],
    [2, 2, 3, 2],
    [2, 2, 2, 3],
  ]
  const late: Divisions[] = [
    [2, 2, 3, 2],
    [2, 2, 2, 2],
    [2, 2, 2, 3],
    [2, 2, 3, 3],
    [2, 2, 3, 2],
  ]
  const divisions = wanted ?? random.of(practice === "white" ? late : nova)
  const cut =
    wanted === undefined && practice === "white" && divisions[2] === 2 && divisions[3] === 2 && random.chance(0.4)
  return {
    practice,
    options: practice === "white" ? {} : { minims: "written" },
    notation: practice === "white" ? "white" : "black",
    measure: measureOf(divisions),
    habits: practice === "white" ? WHITE : NOVA,
    sign: { divisions, ...(cut ? { strokes: 1 } : {}) },
  }
}

/** A kind of voice of the practice; its divisions are drawn where none are wanted (in Ars antiqua they are always the same). */
export function kindOf(practice: LawfulPractice, random: Random, wanted?: Divisions): Kind {
  if (practice === "ars-antiqua") return antiqua({ breveDivision: "two-or-three" }, { "2": 3, "3": 2 })
  if (practice === "divided-breves")
    return antiqua({ breveDivision: "equal" }, { "2": 3, "3": 3, "4": 2, "5": 1, "6": 1, "7": 0.3 })
  return practice === "ars-nova-early" ? early(random, wanted) : mensural(random, practice, wanted)
}
