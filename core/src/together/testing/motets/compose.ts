/**
 * For tests: invented motets of c. 1300, of 1315-25 and of the fourteenth century with minims, made independently of the lawful
 * pieces: perfections are drawn by what such voices mostly have, the tenor goes round and round, voices come in late, rest in turn,
 * and a scribe writes all down (`scribe.ts`). How often what comes is estimated from the habits that theory counts; nothing looks
 * at how a reader decides. The same seed gives the same motet.
 */
import { ONE, ratio, times, type Rational } from "../../../base/index.js"
import { randomFrom, type Random } from "../../../reading/testing/random.js"
import { cellFrom, drawn, isCell, type Cell, type Metre, type Repertory } from "./cells.js"
import type { Figure, Mensuration, Motet, MotetVoice } from "./figures.js"
import { written, type ScribeHabits } from "./scribe.js"

export const REPERTORIES: readonly Repertory[] = ["c1300", "c1320", "c1350"]

const LABELS = ["triplum", "motetus", "contratenor", "tenor"]
const LOWS = [28, 25, 22, 21]

/** About so many breves a voice: whole perfections of both kinds of modus. */
export function motet(seed: number, repertory: Repertory, breves = 60): Motet {
  const random = randomFrom(seed)
  const count = random.of(repertory === "c1300" ? [2, 3, 3, 3, 4] : [3, 3, 3, 4])
  const common = metreOf(repertory, random)
  const length = Math.max(24, Math.round(breves / 12) * 12)
  const habits: ScribeHabits = { dotted: 0.66 + random.next() * 0.14, careless: 0.06, ligatures: 0.4 }
  const names = count === 4 ? [0, 1, 2, 3] : count === 3 ? [0, 1, 3] : [1, 3]
  const voices = names.map((name): MotetVoice => {
    const slow = name >= 2
    const metre = slow && random.chance(0.25) ? otherModus(common, random) : common
    const made = slow ? tenor(metre, length, habits, random) : upper(metre, length, habits, random)
    const label = LABELS[name]!
    return { label, low: LOWS[name]!, mensuration: mensurationOf(metre), figures: made.figures, color: made.color }
  })
  const early = repertory === "c1320"
  return {
    name: `Invented motet ${seed} (${repertory})`,
    practice: repertory === "c1300" ? "ars-antiqua" : "ars-nova",
    options: early
      ? { minims: "unwritten", plainGroups: "equal" }
      : repertory === "c1300"
        ? { breveDivision: "equal" }
        : {},
    voices,
  }
}

function metreOf(repertory: Repertory, random: Random): Metre {
  if (repertory === "c1300") return { repertory, divisions: [3, 3, 2], breve: ONE }
  const modus = random.chance(repertory === "c1320" ? 0.7 : 0.4) ? 3 : 2
  if (repertory === "c1320") {
    const tempus = random.chance(0.35) ? 3 : 2
    return { repertory, divisions: [modus, tempus, 2], breve: ratio(tempus * 2) }
  }
  const [tempus, prolatio] = random.of([
    [2, 3],
    [2, 3],
    [2, 2],
    [3, 2],
    [3, 3],
  ] as const)
  return { repertory, divisions: [modus, tempus, prolatio], breve: ratio(tempus * prolatio) }
}

function otherModus(metre: Metre, random: Random): Metre {
  if (metre.repertory === "c1300" || !random.chance(0.6)) return metre
  const [modus, tempus, prolatio] = metre.divisions
  return { ...metre, divisions: [modus === 3 ? 2 : 3, tempus, prolatio] }
}

function mensurationOf({ repertory, divisions: [modusminor, tempus, prolatio] }: Metre): Mensuration {
  if (repertory === "c1300") return { modusminor, tempus }
  return repertory === "c1320" ? { modusminor, tempus } : { modusmaior: 2, modusminor, tempus, prolatio }
}

interface Made {
  readonly figures: readonly Figure[]
  readonly color?: number
}

/** A texted voice: it may come in late, and rests between its lines. */
function upper(metre: Metre, breves: number, habits: ScribeHabits, random: Random): Made {
  const spans = breves / metre.divisions[0]
  const late = random.chance(0.15) ? 1 + random.below(4) : 0
  const cells: Cell[] = Array.from({ length: late }, () => silence(metre))
  while (cells.length < spans) {
    const hocket = metre.repertory === "c1350" && random.chance(0.04)
    if (hocket) cells.push(...hocketed(metre, random).slice(0, spans - cells.length))
    else cells.push(drawn(metre, 1, random))
  }
  return { figures: [...written(withFinal(cells, metre), metre, habits, random)] }
}

const silence = (metre: Metre): Cell => cellFrom(`r${metre.divisions[0]}`, metre, 1)

/** Single notes and rests in turn for a few spans. */
function hocketed(metre: Metre, random: Random): Cell[] {
  const ways = metre.divisions[0] === 3 ? ["u r1 u", "r1 u r1", "b r1 b"] : ["b r1", "r1 b", "u r1"]
  return Array.from({ length: 2 + random.below(3) }, () => cellFrom(random.of(ways), metre, 1, random))
}

/** The final is a long of whatever length, and stands where a perfection begins. */
function withFinal(cells: readonly Cell[], metre: Metre): Cell[] {
  return [...cells, cellFrom("x" + metre.divisions[0], metre, 1)]
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

/** A talea that comes again to the end, or not quite; longs of two that are joined; now and then red. */
function tenor(metre: Metre, breves: number, habits: ScribeHabits, random: Random): Made {
  const spans = breves / metre.divisions[0]
  const talea = taleaOf(metre, spans, random)
  const cells = Array.from({ length: spans }, (_, i) => copyOf(talea[i % talea.length]!))
  if (cells.at(-1)!.parts.at(-1)!.units === 2) cells[spans - 1] = cellFrom("x" + metre.divisions[0], metre, 1)
  const plain = written(withFinal(withMaximas(cells, metre, random), metre), metre, habits, random)
  const notes = talea.flatMap(cell => cell.parts).filter(({ node }) => !isCell(node) && !node.rest).length
  return { figures: joined(plain, random), color: Math.max(4, Math.round(notes * random.of([1, 1.5, 2]))) }
}

function taleaOf(metre: Metre, spans: number, random: Random): Cell[] {
  if (metre.repertory === "c1300" && random.chance(0.75))
    return random.of(ORDINES).map(pattern => cellFrom(pattern, metre, 1))
  const length = random.of([4, 5, 6, 8].filter(n => n <= spans))
  const patterns = metre.divisions[0] === 3 ? SLOW_PERFECT : SLOW_IMPERFECT
  const cells = Array.from({ length: length - 1 }, () => drawn(metre, 1, random, patterns))
  return random.chance(0.6) ? [...cells, silence(metre)] : [...cells, drawn(metre, 1, random, patterns)]
}

const copyOf = (cell: Cell): Cell => ({
  ...cell,
  parts: cell.parts.map(part => ({ ...part, node: { ...part.node } as typeof part.node })),
})

/** Two whole longs in one body, now and then. */
function withMaximas(cells: readonly Cell[], { divisions, breve, repertory }: Metre, random: Random): Cell[] {
  if (repertory === "c1300" || !random.chance(0.3)) return [...cells]
  const whole = ({ parts }: Cell): boolean =>
    parts.length === 1 && !isCell(parts[0]!.node) && !parts[0]!.node.rest && parts[0]!.node.letter === "L"
  const made: Cell[] = []
  for (let i = 0; i < cells.length; i++) {
    // a breve after a maxima could be taken from it as well as from what follows
    const breveNext = cells[i + 2] !== undefined && !whole(cells[i + 2]!)
    if (!breveNext && cells[i + 1] && whole(cells[i]!) && whole(cells[i + 1]!) && random.chance(0.5)) {
      const lasts: Rational = times(breve, ratio(2 * divisions[0]))
      made.push({ level: 1, parts: [{ units: divisions[0], node: { letter: "X", lasts } }] })
      i++
    } else made.push(cells[i]!)
  }
  return made
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
