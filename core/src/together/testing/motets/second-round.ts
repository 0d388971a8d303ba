/**
 * More of what real motets have: the modus maior in tenors, red that crosses the borders of a talea,
 * hockets between two voices, entries long after the others, ends before them, and what stands after finals.
 */
import { ratio, times } from "../../../base/index.js"
import type { Random } from "../../../reading/testing/random.js"
import { cellFrom, isCell, type Cell, type Metre } from "./cells.js"
import { reddened, type Features } from "./features.js"
import type { Figure } from "./figures.js"
import { lengthOf, placeOf } from "./in-all-voices.js"

interface Voice {
  readonly metre: Metre
  cells: readonly Cell[]
}

const resting = (metre: Metre): Cell => cellFrom(`r${metre.divisions[0]}`, metre, 1)

/** A tenor that counts its longs in threes: maximae of two and of three longs, and no breves. */
export function inMaximodus(metre: Metre, breves: number, random: Random): Cell[] {
  const [modus] = metre.divisions
  const groups = Math.floor(breves / (3 * modus))
  const rests = Array.from({ length: 3 }, () => resting(metre))
  const longs = (count: number): Cell => wholeOf(count === 1 ? "L" : "X", count, metre)
  const make: Readonly<Record<string, () => Cell[]>> = {
    "X L": () => [longs(2), longs(1)],
    X: () => [longs(3)],
    "L L L": () => [longs(1), longs(1), longs(1)],
    rests: () => rests,
  }
  const made: Cell[] = []
  for (let i = 0, last = ""; i < groups; i++) {
    // three longs beside others of their kind would be counted otherwise, as more than three
    const crowded = last === "L L L" || last === "rests"
    const inside = i > 0 && i < groups - 1
    const weights = { "X L": 5, X: 3, "L L L": crowded ? 0 : 3, rests: crowded || !inside ? 0 : 3 }
    last = random.weighted(weights)
    made.push(...make[last]!())
  }
  return made
}

function wholeOf(letter: "L" | "X", longs: number, { divisions, breve }: Metre): Cell {
  const units = longs * divisions[0]
  return { level: 1, parts: [{ units, node: { letter, lasts: times(breve, ratio(units)) } }] }
}

/** Red wherever it falls in the whole of a tenor, not in each talea. */
export function redAnywhere(cells: readonly Cell[], metre: Metre, random: Random): Cell[] {
  if (cells.some(one => one.parts.some(({ node }) => !isCell(node) && node.red))) return [...cells]
  const kinds: Features = new Set(["red-modus", "red-longs"])
  return [...reddened(cells.slice(0, -1), metre, kinds, random), cells.at(-1)!]
}

/** In a few places one of the first two voices rests while the other sounds, breve by breve (Ars cantus mensurabilis, XIII). */
export function withTurns(voices: readonly Voice[], random: Random): void {
  const [one, two] = voices
  if (one === undefined || two === undefined || one.metre !== two.metre) return
  const [modus] = one.metre.divisions
  const ways = modus === 3 ? ["b r1 b", "r1 b r1"] : ["b r1", "r1 b"]
  for (let from = random.below(6); from < one.cells.length; from += 7 + random.below(6))
    for (let span = from; span < from + 2 + random.below(3); span++) {
      const places = [one, two].map(voice => [placeOf(voice, span * modus), placeOf(voice, (span + 1) * modus)])
      if (places.some(([a, b]) => a === undefined || b !== a + 1)) continue
      const first = random.below(2)
      ;[one, two].forEach((voice, v) => {
        const cell = cellFrom(ways[(first + v) % 2]!, voice.metre, 1)
        voice.cells = voice.cells.map((old, i) => (i === places[v]![0] ? cell : old))
      })
    }
}

/** One of the upper voices rests for a third or half of the piece before it comes in. */
export function enteringLate(voices: readonly Voice[], random: Random): void {
  const late = voices[random.below(Math.min(2, voices.length - 1))]!
  const spans = Math.floor(late.cells.length / random.of([2, 3]))
  const at = placeOf(late, spans * late.metre.divisions[0])
  if (at === undefined) return
  late.cells = [...Array.from({ length: spans }, () => resting(late.metre)), ...late.cells.slice(at)]
}

/** One of the upper voices has its last long before the others, and rests to their end. Returns which. */
export function endingEarly(voices: readonly Voice[], random: Random): number | undefined {
  const which = random.below(Math.min(2, voices.length - 1))
  const { cells, metre } = voices[which]!
  const spans = 2 + random.below(3)
  const [modus] = metre.divisions
  const kept = cells.slice(0, -spans)
  if (cells.slice(-spans).some(one => Math.abs(lengthOf([one], metre) - modus) > 1e-9)) return undefined
  voices[which]!.cells = [...kept, wholeOf("L", 1, metre), ...Array.from({ length: spans - 1 }, () => resting(metre))]
  return which
}

/** What stands at the end of voices: longer finals, pauses over them, rests after them. */
export function withEnd(figures: readonly Figure[], metre: Metre, features: Features, random: Random): Figure[] {
  const final = figures.at(-1)!
  const made = figures.slice(0, -1)
  const long = features.has("long-finals") && random.chance(0.5)
  const form = features.has("long-finals") ? random.of<Partial<Figure>>([{}, { fermata: true }]) : {}
  made.push({ ...final, ...(long && { letter: "X" as const }), ...form })
  const rests = features.has("rests-after") ? random.below(3) : 0
  const rest = resting(metre).parts[0]!.node as Figure
  return [...made, ...Array.from({ length: rests }, () => ({ ...rest }))]
}
