/**
 * What real motets are full of and the plain ones lack: colour, remote imperfection, dots that add, rests among semibreves,
 * rests in all voices, a beginning for one voice, a rhythm that comes again. Each puts whole spans in the place of others, so that
 * voices stay as long as they were. The durations come first; how they are written, `scribe.ts` says.
 */
import { ratio, times } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import { cellFrom, isCell, unitOf, type Cell, type Metre, type Part } from "./cells.js"
import type { Figure } from "./figures.js"
import { departing, syncopated } from "./departing.js"
import { figured } from "./figured.js"

export const FEATURES = [
  "red-modus",
  "red-threes",
  "red-longs",
  "diminution",
  "plicas",
  "conjuncturae",
  "opposite-propriety",
  "semibreve-rests",
  "general-rests",
  "introitus",
  "added-dots",
  "remote",
  "hocket",
  "isorhythm",
  "signa",
  "departs",
  "maximodus",
  "thirds",
  "red-borders",
  "turns",
  "late",
  "early",
  "long-finals",
  "rests-after",
  "syncopated",
  "encoders",
] as const
export type Feature = (typeof FEATURES)[number]
export type Features = ReadonlySet<Feature>

/** What an upper voice has of all this; `cells` are whole spans, and stay as many as they are in breves. */
export function enriched(cells: readonly Cell[], metre: Metre, features: Features, random: Random): Cell[] {
  let made = [...cells]
  if (features.has("isorhythm")) made = isorhythmic(made, random)
  if (features.has("hocket")) made = withHockets(made, metre, random)
  if (features.has("syncopated")) made = replaced(made, metre, random, 0.15, syncopated)
  if (features.has("added-dots")) made = replaced(made, metre, random, 0.3, addedDots)
  if (features.has("remote")) made = inUnits(made, metre, random, 0.1, remote)
  if (features.has("red-threes")) made = inUnits(made, metre, random, 0.08, threes)
  if (features.has("semibreve-rests")) made = inUnits(made, metre, random, 0.1, restingGroup)
  return features.has("departs") ? departing(made, metre, random) : made
}

/** The rhythm of the first third comes again to the end. */
function isorhythmic(cells: readonly Cell[], random: Random): Cell[] {
  const talea = Math.max(2, Math.floor(cells.length / random.of([2, 3, 4])))
  return cells.map((_, i) => copied(cells[i % talea]!))
}

export const copied = (cell: Cell): Cell => ({
  ...cell,
  parts: cell.parts.map(part => ({ ...part, node: isCell(part.node) ? copied(part.node) : { ...part.node } })),
})

type Making = (metre: Metre, random: Random) => readonly Cell[] | undefined

/** Here and there spans are replaced by as many others. */
function replaced(cells: readonly Cell[], metre: Metre, random: Random, share: number, make: Making): Cell[] {
  const made: Cell[] = []
  for (let i = 0; i < cells.length;) {
    const others = random.chance(share) ? make(metre, random) : undefined
    const length = others && breves(others, metre) / metre.divisions[0]
    if (others === undefined || i + length! > cells.length) made.push(cells[i++]!)
    else {
      made.push(...others)
      i += length!
    }
  }
  return made
}

/** Of a few cells of the modus. */
function breves(cells: readonly Cell[], metre: Metre): number {
  const units = cells.flatMap(cell => cell.parts.map(part => part.units))
  return units.reduce((total, one) => total + one, 0) || metre.divisions[0]
}

/** Here and there a unit of a span is replaced by a breve of another making. */
function inUnits(
  cells: readonly Cell[],
  metre: Metre,
  random: Random,
  share: number,
  make: (metre: Metre, random: Random) => Cell | undefined,
): Cell[] {
  return cells.map(cell => ({
    ...cell,
    parts: cell.parts.map((part): Part => {
      const rests = !isCell(part.node) && (part.node.rest || part.node.dotted || part.node.red)
      if (cell.level !== 1 || part.units !== 1 || rests || !random.chance(share)) return part
      const made = make(metre, random)
      return made ? { units: 1, node: made } : part
    }),
  }))
}

/** Where the larger is imperfect a dot adds half to it (Libellus, c. 1340, 7); the half that is lacking follows. */
const addedDots: Making = (metre, random) => {
  const [modus, tempus, prolatio] = metre.divisions
  const ways: (() => readonly Cell[])[] = []
  if (modus === 2) ways.push(() => [figured(metre, 1, "L.3 B1")])
  if (metre.repertory === "c1350" && modus === 2 && tempus === 2)
    ways.push(() => {
      const unit = unitOf(metre, 2)
      const figures: Figure[] = [
        { letter: "B", lasts: times(unit, ratio(3)), dotted: true, adds: true },
        { letter: "S", lasts: unit },
      ]
      return [{ level: 1, parts: figures.map((node, i) => ({ units: i === 0 ? 2 : 0, node })) }]
    })
  if (metre.repertory === "c1350" && prolatio === 2)
    ways.push(() => {
      const dotted = figured(metre, 2, tempus === 3 ? random.of(["S.3/2 M1/2 S1", "S1 S.3/2 M1/2"]) : "S.3/2 M1/2")
      const parts = Array.from({ length: modus }, (): Part => ({ units: 1, node: copied(dotted) }))
      return [{ level: 1, parts }]
    })
  return ways.length > 0 ? random.of(ways)() : undefined
}

/**
 * A part of a part is lost to a minim after (Libellus, c. 1340, 3). Before the breve it would need a dot after the note before, which
 * adds to most; in perfect tempus it is left out, for its rules differ.
 */
function remote(metre: Metre): Cell | undefined {
  const [, tempus, prolatio] = metre.divisions
  if (metre.repertory !== "c1350" || tempus !== 2 || prolatio !== 3) return undefined
  return figured(metre, 2, "B5/3 M1/3")
}

/** Red within a breve: three for two where all is imperfect, a third less elsewhere (Ars nova, c. 1320, 19; Libellus 6). */
function threes(metre: Metre, random: Random): Cell | undefined {
  const [, tempus, prolatio] = metre.divisions
  if (metre.repertory !== "c1350" || (tempus === 3 && prolatio === 3)) return undefined
  const red = { red: true }
  if (tempus === 3) return figured(metre, 2, random.of(["B2 S1", "S1 B2"]), red)
  const ways = prolatio === 3 ? ["S2/3 S2/3 S2/3", "B4/3 S2/3", "S2/3 B4/3"] : ["S2/3 S2/3 S2/3"]
  return figured(metre, 2, random.of(ways), red)
}

/** Semibreves with a rest among them: by their place, as if it were a note (observed.md). */
function restingGroup(metre: Metre, random: Random): Cell | undefined {
  if (metre.repertory === "c1350") return undefined
  const third = metre.repertory === "c1300" || metre.divisions[1] === 3
  const pairs = third ? ["s1/3 S2/3", "S1/3 s2/3"] : ["s1/2 S1/2", "S1/2 s1/2"]
  const words = random.chance(0.7) ? random.of(pairs) : random.of(["s1/3 S1/3 S1/3", "S1/3 S1/3 s1/3"])
  const breve = metre.breve
  const parts = words.split(" ").map((word): Part => {
    const [num, den] = word.slice(1).split("/").map(Number)
    const rest = word.startsWith("s")
    return {
      units: 0,
      node: { letter: "S", lasts: times(breve, ratio(num!, den!)), ...(rest && { rest: true }) },
    }
  })
  return { level: 2, parts }
}

/** Single notes and rests in turn for a few spans. */
function withHockets(cells: readonly Cell[], metre: Metre, random: Random): Cell[] {
  const ways = metre.divisions[0] === 3 ? ["b r1 b", "r1 b r1", "b r1 u", "r1 b b"] : ["b r1", "r1 b"]
  const made = [...cells]
  for (let from = random.below(6); from < made.length; from += 6 + random.below(8)) {
    const length = 2 + random.below(3)
    for (let i = from; i < Math.min(made.length, from + length); i++)
      made[i] =
        metre.repertory === "c1350" && random.chance(0.5)
          ? small(metre, random)
          : cellFrom(random.of(ways), metre, 1, random)
  }
  return made
}

/** A span of breves in which semibreves and their rests take turns. */
function small(metre: Metre, random: Random): Cell {
  const words = metre.divisions[1] === 3 ? ["S1 s1 S1", "s1 S1 s1"] : ["S1 s1", "s1 S1"]
  const parts = Array.from({ length: metre.divisions[0] }, (): Part => ({
    units: 1,
    node: figured(metre, 2, random.of(words)),
  }))
  return { level: 1, parts }
}

/** Spans of a tenor in red: six breves in the other modus, or three longs without a third each. */
export function reddened(talea: readonly Cell[], metre: Metre, features: Features, random: Random): Cell[] {
  const kinds = (["red-modus", "red-longs"] as const).filter(one => features.has(one))
  if (kinds.length === 0 || metre.repertory === "c1300") return [...talea]
  const kind = random.of(kinds)
  const [modus] = metre.divisions
  const length = 6 / modus
  if (talea.length <= length || (kind === "red-longs" && modus === 2)) return [...talea]
  const from = random.below(talea.length - length + 1)
  const red = kind === "red-longs" ? [figured(metre, 1, "L2 L2 L2", { red: true })] : otherModus(metre, random)
  return [...talea.slice(0, from), ...red, ...talea.slice(from + length)]
}

/** Six breves counted in red by the other modus; breves stay as they are (Ars nova, c. 1320, 19). */
function otherModus(metre: Metre, random: Random): Cell[] {
  const cells =
    metre.divisions[0] === 3
      ? [0, 1, 2].map(() => figured(metre, 1, random.of(["L2", "L2", "B1 B1"]), { red: true }))
      : [0, 1].map(() => figured(metre, 1, random.of(["L2 B1", "L2 B1", "B1 B1 B1"]), { red: true }))
  const hasLong = cells.some(cell => cell.parts.some(({ node }) => !isCell(node) && node.letter === "L"))
  return hasLong ? cells : otherModus(metre, random)
}
