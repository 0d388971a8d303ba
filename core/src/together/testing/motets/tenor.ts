/** Tenors: a talea that comes again to the end, or not quite; longs of two that are joined; red stretches; a second, faster statement. */
import { over, ratio, times, type Rational } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import { cellFrom, drawn, isCell, type Cell, type Metre } from "./cells.js"
import { copied, reddened, type Features } from "./features.js"
import type { Figure } from "./figures.js"
import { lengthOf } from "./in-all-voices.js"
import { inMaximodus, redAnywhere } from "./second-round.js"
import { written, type ScribeHabits } from "./scribe.js"

export interface Tenor {
  readonly cells: readonly Cell[]
  readonly color: number
  /** All is sung a second time, so many times as fast, and written out again. */
  readonly faster?: number
  /** The modus maior is perfect. */
  readonly maior?: boolean
}

const SLOW_PERFECT = { x3: 40, "x2 b": 20, "b x2": 6, "b a": 8, "b b b": 3, r3: 16, "x2 r1": 7, "r1 a": 0 }
const SLOW_IMPERFECT = { x2: 60, "b b": 12, r2: 22, "b r1": 3, "r1 b": 3 }
/** Ordines of the modes, which tenors of about 1300 keep (De mensurabili musica, c. 1260). */
const ORDINES: readonly (readonly string[])[] = [
  ["x2 b", "x2 r1"],
  ["x3", "x3", "x3", "r3"],
  ["x3", "x3", "r3"],
  ["b x2", "b r2"],
  ["x3", "b a", "x3", "r3"],
  ["x2 b", "x2 b", "x2 r1"],
  ["x3", "x2 r1"],
]

export function tenor(metre: Metre, breves: number, features: Features, random: Random): Tenor {
  const faster = fasterBy(metre, features, random)
  const length = faster ? (breves * faster) / (faster + 1) : breves
  const maior = isInMaximodus(metre, length, features, random)
  if (maior)
    return { cells: inMaximodus(metre, length, random), color: 4 + random.below(6), maior, ...(faster && { faster }) }
  const talea = reddened(taleaOf(metre, length / metre.divisions[0], random), metre, features, random)
  const plain = filled(talea, metre, length)
  const cells = features.has("red-borders") && metre.repertory !== "c1300" ? redAnywhere(plain, metre, random) : plain
  const notes = talea.flatMap(cell => cell.parts).filter(({ node }) => !isCell(node) && !node.rest).length
  const color = Math.max(4, Math.round(notes * random.of([1, 1.5, 2])))
  return { cells: withMaximas(cells, metre, random), color, ...(faster && { faster }) }
}

/** Each note is sung as the next smaller: a third where modus and tempus are perfect (Libellus, c. 1340, 11), else half. */
function fasterBy({ repertory, divisions }: Metre, features: Features, random: Random): 2 | 3 | undefined {
  if (repertory === "c1300") return undefined
  if (features.has("thirds") && divisions[0] === 3 && divisions[1] === 3 && random.chance(0.5)) return 3
  return features.has("diminution") ? 2 : undefined
}

/** Its longs are counted in threes too, and nothing is left over at its end. */
function isInMaximodus({ repertory, divisions }: Metre, breves: number, features: Features, random: Random): boolean {
  return features.has("maximodus") && repertory !== "c1300" && breves % (3 * divisions[0]) === 0 && random.chance(0.4)
}

/** The talea again and again; what is left at the end is filled with plain longs. */
function filled(talea: readonly Cell[], metre: Metre, breves: number): Cell[] {
  const cells: Cell[] = []
  for (let i = 0; lengthOf(cells, metre) < breves; i++) cells.push(copied(talea[i % talea.length]!))
  while (lengthOf(cells, metre) > breves || isRed(cells.at(-1)) || lengthOf(cells, metre) % metre.divisions[0] !== 0)
    cells.pop()
  const last = cells.at(-1)!
  if (last.parts.at(-1)!.units === 2) cells[cells.length - 1] = whole(metre)
  while (lengthOf(cells, metre) < breves) cells.push(whole(metre))
  return cells
}

const whole = (metre: Metre): Cell => cellFrom("x" + metre.divisions[0], metre, 1)
const isRed = (cell: Cell | undefined): boolean => {
  const node = cell?.parts[0]!.node
  return node !== undefined && !isCell(node) && node.red === true
}

function taleaOf(metre: Metre, spans: number, random: Random): Cell[] {
  if (metre.repertory === "c1300" && random.chance(0.75))
    return random.of(ORDINES).map(pattern => cellFrom(pattern, metre, 1))
  const length = random.of([4, 5, 6, 8].filter(n => n <= spans))
  const patterns = metre.divisions[0] === 3 ? SLOW_PERFECT : SLOW_IMPERFECT
  const cells = Array.from({ length: length - 1 }, () => drawn(metre, 1, random, patterns))
  return random.chance(0.6)
    ? [...cells, cellFrom(`r${metre.divisions[0]}`, metre, 1)]
    : [...cells, drawn(metre, 1, random, patterns)]
}

/** Two whole longs in one body, now and then. */
function withMaximas(cells: readonly Cell[], { divisions, breve, repertory }: Metre, random: Random): Cell[] {
  if (repertory === "c1300" || !random.chance(0.3)) return [...cells]
  const plain = (cell: Cell): boolean => {
    const node = cell.parts[0]!.node
    return cell.parts.length === 1 && !isCell(node) && !node.rest && !node.red && node.letter === "L"
  }
  const made: Cell[] = []
  for (let i = 0; i < cells.length; i++) {
    // a breve after a maxima could be taken from it as well as from what follows
    const breveNext = cells[i + 2] !== undefined && !plain(cells[i + 2]!)
    if (!breveNext && cells[i + 1] && plain(cells[i]!) && plain(cells[i + 1]!) && random.chance(0.5)) {
      const lasts: Rational = times(breve, ratio(2 * divisions[0]))
      made.push({ level: 1, parts: [{ units: divisions[0], node: { letter: "X", lasts } }] })
      i++
    } else made.push(cells[i]!)
  }
  return made
}

/** Written down, with its final; a second statement has the same signs as the first. */
export function writtenTenor(
  { cells, faster, maior }: Tenor,
  metre: Metre,
  habits: ScribeHabits,
  random: Random,
): Figure[] {
  const plain = written([...cells, whole(metre)], metre, habits, random)
  const once: readonly Figure[] = maior ? [...plain.slice(0, -1), { ...plain.at(-1)!, letter: "X" }] : plain
  if (faster === undefined) return joined(once, random)
  const first = joined(once.slice(0, -1), random)
  const bound = Math.max(0, ...first.map(one => one.ligature ?? 0)) + 1
  const again = [...first, once.at(-1)!].map((figure, i): Figure => ({
    ...figure,
    lasts: over(figure.lasts, ratio(faster)),
    ...(figure.ligature !== undefined && { ligature: figure.ligature + bound }),
    ...(i === 0 && { faster }),
  }))
  return [...first, ...again]
}

/** Neighbours of a tenor without words stand in ligatures of two to four. */
function joined(figures: readonly Figure[], random: Random): Figure[] {
  let number = 0
  let left = 0
  return figures.map((figure, i) => {
    if (figure.rest || figure.letter === "X" || i === figures.length - 1) left = 0
    else if (left > 0) left--
    else {
      number++
      left = random.below(4)
    }
    const inside = !figure.rest && figure.letter !== "X" && i < figures.length - 1
    return inside ? { ...figure, ligature: number } : figure
  })
}
