import { array, assert, constantFrom, integer, property, tuple } from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, fromText, plus, ratio, sum, times, ZERO, type Rational } from "../base/index.js"
import { lasting, splitPieces, type Piece, type SplitItem } from "./split.js"
import { shownSigns } from "./testing/shown.js"
import type { ScoreEvent } from "./types.js"

const GRIDS = {
  "3/4": [ratio(3, 4), ratio(1, 4)],
  "6/8": [ratio(3, 4), ratio(3, 8), ratio(1, 8)],
  "9/8": [ratio(9, 8), ratio(3, 8), ratio(1, 8)],
  "2/4": [ratio(1, 2), ratio(1, 4), ratio(1, 8)],
  none: [],
}

/** Durations in whole notes; "r" before one makes it a rest. */
function pieces(durations: readonly (readonly [Rational, boolean])[]): Piece[] {
  let start = ZERO
  return durations.map(([duration, rest]) => {
    const end = plus(start, duration)
    const event = (rest ? { kind: "rest" } : { kind: "note" }) as ScoreEvent
    const piece = { event, start, end }
    start = end
    return piece
  })
}

function split(text: string, grid: keyof typeof GRIDS): string {
  const durations = text.split(" ").map(part => [fromText(part.replace("r", ""))!, part.startsWith("r")] as const)
  return shownSigns(splitPieces(pieces(durations), GRIDS[grid]))
}

describe("signs that halving reaches", () => {
  test.each([
    // durations in whole notes   bar     written
    ["3/4", "3/4", "2."],
    ["1/2 1/4", "3/4", "2 4"],
    ["1/8 1/2 1/8", "3/4", "8 2 8"],
    ["1/8 3/8 1/4", "3/4", "8 4. 4"],
    ["1/16 3/8 5/16", "3/4", "16 8.~ 8. 16~ 4"],
    ["5/8 1/8", "6/8", "4.~ 4 8"],
    ["1/8 5/8", "6/8", "8 4~ 4."],
    ["1/4 1/4 1/4", "6/8", "4 4 4"],
    ["1/2 1/4", "6/8", "2 4"],
    ["9/8", "9/8", "2.~ 4."],
    ["1/8 3/8", "2/4", "8 4."],
    ["7/16 1/16", "2/4", "4~ 8. 16"],
    ["r5/8 1/8", "6/8", "r4. r4 8"],
    ["2 3 4", "none", "breve breve. breve.~ 1"],
  ] as const)("%s in %s is %s", (durations, grid, written) => {
    expect(split(durations, grid)).toBe(written)
  })
})

describe("tuplets", () => {
  test.each([
    ["1/12 1/6 1/2", "3/4", "(3:2 8 4) 2"],
    ["1/12 1/12 1/12 1/2", "3/4", "(3:2 8 8 8) 2"],
    // five and seven to a brevis, six as one group
    ["1/20 1/20 1/20 1/20 1/20 1/2", "3/4", "(5:4 16 16 16 16 16) 2"],
    ["1/24 1/24 1/24 1/24 1/24 1/24 1/2", "3/4", "(6:4 16 16 16 16 16 16) 2"],
    ["1/28 1/28 1/28 1/28 1/28 1/28 1/28 1/2", "3/4", "(7:4 16 16 16 16 16 16 16) 2"],
    // three coloured semibreves through a whole bar are one tuplet, without ties
    ["1/6 1/6 1/6", "2/4", "(3:2 4 4 4)"],
    // a brevis between two semibreves of one pair
    ["1/12 1/4 1/6 1/4", "3/4", "(3:2 8 4. 4) 4"],
    // what does not fit into one clean tuplet is cut at the beat
    ["1/12 1/2 1/6", "3/4", "(3:2 8 4~) (3:2 2 4)"],
    // five equal notes in a bar of three beats: their unit is plain
    ["3/20 3/20 3/20 3/20 3/20", "3/4", "(5:3 4 4 4 4 4)"],
    ["1/4 1/5 1/20 1/4", "3/4", "4 (5:4 4 16) 4"],
    ["r1/12 1/6 1/2", "3/4", "(3:2 r8 4) 2"],
    // three and five within one beat
    ["1/12 1/20 7/60 1/2", "3/4", "(15:8 8~ 32 16. 8.~ 32) 2"],
  ] as const)("%s in %s is %s", (durations, grid, written) => {
    expect(split(durations, grid)).toBe(written)
  })
})

const duration = tuple(integer({ min: 1, max: 12 }), constantFrom(2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 20, 24)).map(
  ([num, den]) => ratio(num, den),
)

test("every duration comes out exactly, whatever it is", () => {
  assert(
    property(array(duration, { minLength: 1, maxLength: 8 }), constantFrom(...Object.values(GRIDS)), (all, grid) => {
      const given = pieces(all.map(one => [one, false] as const))
      const written = splitPieces(given, grid)
      for (const piece of given) {
        const total = sum(written.flatMap(item => partsOf(item, piece)))
        expect(equals(plus(piece.start, total), piece.end)).toBe(true)
      }
    }),
  )
})

/** How long the signs of one note last, tuplets reckoned in. */
function partsOf(item: SplitItem, piece: Piece): Rational[] {
  if (item.kind === "sign") return item.event === piece.event ? [lasting(item.value)] : []
  const share = ratio(item.numbase, item.num)
  return item.signs.filter(sign => sign.event === piece.event).map(sign => times(lasting(sign.value), share))
}
