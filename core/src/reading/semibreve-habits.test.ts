import { describe, expect, test } from "vitest"
import { readVoice } from "./index.js"
import { DEAREST, habitsOf, NO_HABITS, noRuns, SIZES_EARLY, SIZES_MANY, type Habits } from "./semibreve-habits.js"
import { Tally } from "./testing/compare.js"
import { lawfulVoice } from "./testing/lawful.js"
import { randomFrom } from "./testing/random.js"
import { parseShorthand } from "../page/shorthand/index.js"

function early(runs: Readonly<Record<number, number>>, dots: number): Habits {
  const counted = noRuns()
  for (const [length, n] of Object.entries(runs)) counted.lengths[Number(length)] = n
  counted.dots = dots
  return habitsOf(counted, SIZES_EARLY, true, DEAREST.alone)
}

describe("what runs and dots show", () => {
  test("nothing shown changes no price", () => {
    expect(early({}, 0)).toEqual(NO_HABITS)
  })

  test("the average voice reads an undotted four as it was counted: one breve 27 to 7", () => {
    const [pair, four] = [SIZES_EARLY[2]! / 100, SIZES_EARLY[4]! / 100]
    // groups follow each other as often as not, and 4 of 15 dots are left out
    const pairs = (pair * pair * 0.5 * 4) / 15 / four
    expect(pairs).toBeGreaterThan(0.85 * (7 / 27))
    expect(pairs).toBeLessThan(1.15 * (7 / 27))
  })

  test("of as many boundaries, the more have their dot the dearer is one without", () => {
    const prices = [0, 2, 5, 10].map(bare => early({ 2: 20 - bare, 3: 20 - bare, 7: bare }, 20 - bare).boundary)
    expect(prices).toEqual(prices.toSorted((a, b) => b - a))
    expect(new Set(prices).size).toBe(prices.length)
  })

  test("a run that is too long for one breve shows that dots are left out", () => {
    const dotted = early({ 2: 10, 3: 10 }, 10).boundary
    const once = early({ 2: 10, 3: 10, 7: 1 }, 10).boundary
    const often = early({ 2: 10, 3: 10, 7: 5, 8: 5 }, 0).boundary
    expect(once).toBeLessThan(dotted)
    expect(often).toBeLessThan(0)
  })

  test("where pairs are rare, a group of two is dearer beside one of four", () => {
    const [rare, usual] = [early({ 3: 12, 4: 12 }, 6).sizes, early({ 2: 20, 3: 4 }, 6).sizes]
    expect(rare[2]! - rare[4]!).toBeGreaterThan(0)
    expect(usual[2]! - usual[4]!).toBeLessThan(0)
  })

  test("runs of any length and number give prices within bounds", () => {
    for (const runs of [{ 24: 500 }, { 2: 100_000, 24: 100_000 }, { 6: 1000 }])
      for (const dots of [0, 100_000])
        for (const bySize of [false, true]) {
          const counted = noRuns()
          for (const [length, n] of Object.entries(runs)) counted.lengths[Number(length)] = n
          counted.dots = dots
          const { boundary, sizes } = habitsOf(counted, bySize ? SIZES_EARLY : SIZES_MANY, bySize, DEAREST.alone)
          expect([boundary, ...sizes].every(price => Math.abs(price) <= 4)).toBe(true)
        }
  })
})

describe("an undotted four", () => {
  const doubtIn = (others: string): number => {
    const read = parseShorthand(
      `voice motetus black practice=ars-nova(minims=unwritten)\nmens:modus=2:tempus=2\nL c4 S d4 e4 d4 e4 L c4 ${others} L c4`,
    )
    if (!read.ok) throw new Error(read.problems[0]?.what)
    return readVoice(read.value.voices[0]!).signs.find(sign => sign.kind === "note" && sign.number === 2)!.doubt
  }
  const groups = (parted: string): string =>
    Array.from({ length: 20 }, () => `S d4 e4 ${parted} f4 e4 d4 ${parted} e4 f4 e4 d4 L c4`).join(" ")

  test("is hardly in doubt where every other boundary has its dot, and more than by itself where none has", () => {
    const [alone, dotted, bare] = [doubtIn(""), doubtIn(groups(".")), doubtIn(groups(""))]
    expect(alone).toBeGreaterThan(0.1)
    expect(dotted).toBeLessThan(0.05)
    expect(bare).toBeGreaterThan(alone)
  })
})

describe("doubt where scribes leave out dots, each by his habit", () => {
  test.each(["divided-breves", "ars-nova-early"] as const)("%s: of the notes under 0.05 few are wrong", practice => {
    const tally = new Tally()
    for (let seed = 1; seed <= 60; seed++) {
      const undotted = randomFrom(seed ^ 0x2545f491).next() ** 2.75
      const lawful = lawfulVoice(seed, { practice, notes: 100, undotted })
      tally.add(lawful, readVoice(lawful.voice))
    }
    expect(tally.wrong).toBeGreaterThan(0)
    expect(tally.sureWrong / tally.sure).toBeLessThan(0.01)
    expect(tally.sure / tally.notes).toBeGreaterThan(0.7)
  })

  test.each(["divided-breves", "ars-nova-early"] as const)(
    "%s: where none is left out, most notes are sure",
    practice => {
      const tally = new Tally()
      for (let seed = 1; seed <= 40; seed++) {
        const lawful = lawfulVoice(seed, { practice, notes: 100 })
        tally.add(lawful, readVoice(lawful.voice))
      }
      expect(tally.sureWrong).toBe(0)
      expect(tally.sure / tally.notes).toBeGreaterThan(0.85)
    },
  )
})
