/**
 * The rhythm of a voice as a tree: perfections (or pairs) of one level, filled with figures or with perfections of the level
 * below. Which patterns there are is chosen by weight; whether a pattern may be written so where it stands, the treatises say.
 */
import { times, ratio, type Rational } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import type { Figure, Letter } from "./figures.js"

/** A figure, or a whole smaller perfection in its place, and how many units of the level it fills. */
export interface Part {
  readonly units: number
  readonly node: Figure | Cell
}

export interface Cell {
  /** 1: the long is the whole, 2 the breve, 3 the semibreve. */
  readonly level: number
  readonly parts: readonly Part[]
}

/** How a voice divides its values. `lasts` by level: long, breve, semibreve, minim when whole. */
export interface Metre {
  readonly divisions: readonly [modus: 2 | 3, tempus: 2 | 3, prolatio: 2 | 3]
  /** Of a breve. */
  readonly breve: Rational
  readonly repertory: Repertory
}

export type Repertory = "c1300" | "c1320" | "c1350"

export const isCell = (node: Figure | Cell): node is Cell => "parts" in node

const LETTERS: readonly Letter[] = ["X", "L", "B", "S", "M", "s"]

export const levelOf = ({ letter }: Figure): number => LETTERS.indexOf(letter)

/** Length of one unit of the level: of a breve where longs are counted. */
export function unitOf({ divisions, breve }: Metre, level: number): Rational {
  let unit = breve
  for (let k = 2; k <= level; k++) unit = times(unit, ratio(1, divisions[k - 1]!))
  return unit
}

/**
 * Patterns and how often they are meant to come. `x3` is a whole larger note, `x2` one without a third, `u` a unit, `a` an altered
 * unit, `r` rests of so many units; `d` a larger note with a dot and the half unit that completes it.
 */
type Patterns = Readonly<Record<string, number>>

const PERFECT_MODUS: Readonly<Record<Repertory, Patterns>> = {
  c1300: {
    x3: 10,
    "x2 u": 30,
    "u x2": 9,
    "u a": 9,
    "u u u": 30,
    r3: 2,
    "x2 r1": 8,
    "r1 x2": 2,
    "u r2": 1,
    "u u r1": 3,
    "r1 u u": 2,
    "u r1 u": 1,
  },
  c1320: {
    x3: 8,
    "x2 u": 28,
    "u x2": 5,
    "u a": 9,
    "u u u": 36,
    r3: 4,
    "x2 r1": 6,
    "u r2": 1,
    "u u r1": 2,
    "r1 u u": 2,
    "r1 u a": 0,
  },
  c1350: { x3: 3, "x2 u": 14, "u x2": 3, "u a": 3, "u u u": 60, r3: 4, "x2 r1": 3, "u u r1": 4, "r1 u u": 4 },
}
const IMPERFECT_MODUS: Patterns = { x2: 14, "u u": 70, r2: 4, "u r1": 5, "r1 u": 5 }
const PERFECT_TEMPUS: Patterns = {
  x3: 12,
  "x2 u": 20,
  "u x2": 4,
  "u a": 6,
  "u u u": 44,
  r3: 4,
  "x2 r1": 2,
  "u u r1": 2,
  "r1 u u": 3,
}
const IMPERFECT_TEMPUS: Patterns = { x2: 18, "u u": 60, r2: 5, "u r1": 4, "r1 u": 5 }
const MAJOR: Patterns = {
  x3: 24,
  "x2 u": 22,
  "u x2": 4,
  "u a": 7,
  "u u u": 38,
  r3: 2,
  "x2 r1": 1,
  "r1 u u": 3,
  "u u r1": 1,
}
const MINOR: Patterns = { x2: 40, "u u": 48, "u r1": 2, "r1 u": 4 }

function patternsOf({ divisions, repertory }: Metre, level: number): Patterns {
  const perfect = divisions[level - 1] === 3
  if (level === 1) return perfect ? PERFECT_MODUS[repertory] : IMPERFECT_MODUS
  if (level === 2) return perfect ? PERFECT_TEMPUS : IMPERFECT_TEMPUS
  return perfect ? MAJOR : MINOR
}

/** A cell of the level, drawn by weight. `slow`: it is that of a tenor, and nothing smaller than a breve stands in it. */
export function drawn(metre: Metre, level: number, random: Random, patterns = patternsOf(metre, level)): Cell {
  return cellFrom(random.weighted(patterns), metre, level, random)
}

export function cellFrom(pattern: string, metre: Metre, level: number, random?: Random): Cell {
  return { level, parts: pattern.split(" ").map(word => partFrom(word, metre, level, random)) }
}

function partFrom(word: string, metre: Metre, level: number, random: Random | undefined): Part {
  const unit = unitOf(metre, level)
  const letter = LETTERS[level]!
  const count = Number(word[1] ?? 1)
  const lasting = (units: number): Rational => times(unit, ratio(units))
  if (word[0] === "x") return { units: count, node: { letter, lasts: lasting(count) } }
  if (word === "a") return { units: 2, node: { letter: LETTERS[level + 1]!, lasts: lasting(2) } }
  if (word[0] === "r") return { units: count, node: restOf(count, metre, level, lasting(count)) }
  if (word === "b" || random === undefined) return { units: 1, node: { letter: LETTERS[level + 1]!, lasts: unit } }
  return { units: 1, node: unitFrom(metre, level, random) }
}

function restOf(count: number, { divisions }: Metre, level: number, lasts: Rational): Figure {
  const whole = count === divisions[level - 1]
  const letter = LETTERS[count > 1 || whole ? level : level + 1]!
  return level === 1 && count > 1
    ? { letter, lasts, rest: true, breves: count as 2 | 3 }
    : { letter, lasts, rest: true }
}

/** Share of units that are one figure, by level of the whole. */
const SINGLE: Readonly<Record<Repertory, readonly number[]>> = {
  c1300: [1, 0.55, 1],
  c1320: [1, 0.35, 1],
  c1350: [1, 0.12, 0.45],
}

function unitFrom(metre: Metre, level: number, random: Random): Figure | Cell {
  const plain: Figure = { letter: LETTERS[level + 1]!, lasts: unitOf(metre, level) }
  if (random.chance(SINGLE[metre.repertory][level]!) || level === 3) return plain
  if (metre.repertory !== "c1350") return groupFrom(metre, random)
  return drawn(metre, level + 1, random)
}

/** How many semibreves stand on a breve. */
const SIZES: Readonly<Record<"c1300" | "c1320", Readonly<Record<string, number>>>> = {
  c1300: { 2: 50, 3: 36, 4: 8, 5: 4, 6: 2 },
  c1320: { 2: 46, 3: 30, 4: 17, 5: 4, 6: 3 },
}

/** Semibreves for a breve, as readers of real sources measure them (observed.md). */
function groupFrom(metre: Metre, random: Random): Cell {
  const size = Number(random.weighted(SIZES[metre.repertory as "c1300"]))
  const least = metre.divisions[1] === 3 ? 2 : 3
  const stemmed = metre.repertory === "c1320" && size >= least && size <= 3 && random.chance(0.06)
  const shares = sharesOf(size, metre.divisions[1] === 3 || metre.repertory === "c1300", stemmed)
  const parts = shares.map((share, i): Part => {
    const figure: Figure = { letter: "S", lasts: times(metre.breve, share) }
    return { units: 0, node: { ...figure, ...(stemmed && i === 0 && { stemDown: true }) } }
  })
  return { level: 2, parts }
}

function sharesOf(size: number, perfect: boolean, stemmed: boolean): readonly Rational[] {
  const [third, half] = [ratio(1, 3), ratio(1, 2)]
  if (size === 2 && perfect) return stemmed ? [ratio(2, 3), third] : [third, ratio(2, 3)]
  if (size === 3 && stemmed) return perfect ? [ratio(2, 3), ratio(1, 6), ratio(1, 6)] : [half, ratio(1, 4), ratio(1, 4)]
  return Array.from({ length: size }, () => ratio(1, size))
}
