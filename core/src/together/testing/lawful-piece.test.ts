/** The invented pieces are what they say: their voices meet, sound together, and obey their rules. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, ratio, toText, type Rational } from "../../base/index.js"
import { flatSigns, type MensurationSign, type Page } from "../../page/index.js"
import { readPage } from "../../reading/index.js"
import { stepNumber } from "../../reading/pitches.js"
import { PieceTally, trueLengths } from "./compare.js"
import { concordance } from "./consonance.js"
import { LAWFUL_PRACTICES, lawfulPiece, type LawfulPiece, type LawfulPractice } from "./lawful-piece.js"
import { runs } from "../../base/testing/runs.js"

const share = fc.constantFrom(0, 0.3, 1)
const asked = fc.record({
  seed: fc.integer({ min: 0, max: 2 ** 31 - 1 }),
  practice: fc.constantFrom(...LAWFUL_PRACTICES),
  voices: fc.integer({ min: 2, max: 8 }),
  notes: fc.integer({ min: 1, max: 60 }),
  doubtful: share,
  careless: share,
  mixed: fc.boolean(),
})

describe("a piece", () => {
  test("is the same for the same seed, has the voices asked for, and all reach their finals together", () => {
    fc.assert(
      fc.property(asked, of => {
        const piece = lawfulPiece(of.seed, of)
        expect(lawfulPiece(of.seed, of)).toEqual(piece)
        expect(piece.page.voices.length).toBe(of.voices)
        expect(piece.finals.size).toBe(of.voices)
        expect(new Set(trueLengths(piece).map(toText)).size).toBe(1)
      }),
      { numRuns: runs(25) },
    )
  })

  test("gives every note and rest of the page a duration, and nothing else", () => {
    fc.assert(
      fc.property(asked, of => {
        const { page, durations } = lawfulPiece(of.seed, of)
        const lasting = readPage(page).flatMap(reading => reading.signs.filter(sign => sign.number > 0))
        expect(lasting.map(sign => sign.id).toSorted()).toEqual([...durations.keys()].toSorted())
      }),
      { numRuns: runs(15) },
    )
  })

  test("has tenors in larger values before 1400, and voices with words beside voices without", () => {
    for (const practice of LAWFUL_PRACTICES.filter(name => name !== "white")) {
      const counts = many({ practice }, 10).map(piece => countsOf(piece))
      const [tenor, motetus] = ["tenor", "motetus"].map(label => counts.reduce((sum, one) => sum + one.get(label)!, 0))
      expect(tenor! * 1.5, practice).toBeLessThan(motetus!)
    }
    const texted = many({ voices: 4 }, 10).flatMap(({ page }) => page.voices.map(voice => isTexted(voice.signs)))
    expect(new Set(texted).size).toBe(2)
  })

  test("has voices that keep within a tenth and move by step or stay, mostly", () => {
    let [near, moves] = [0, 0]
    for (const { page } of many({ voices: 4 }, 20))
      for (const voice of page.voices) {
        const heights = flatSigns(voice).flatMap(({ sign }) => (sign.kind === "note" ? [stepNumber(sign.pitch!)] : []))
        expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(10)
        const steps = heights.slice(1).map((height, i) => Math.abs(height - heights[i]!))
        near += steps.filter(step => step < 2).length
        moves += steps.length
      }
    console.log(`${Math.round((100 * near) / moves)} % of the moves by step or none`)
    expect(near / moves).toBeGreaterThan(0.75)
  })

  test("may have voices of different mensurations with the same breve", () => {
    for (const piece of many({ practice: "ars-nova", mixed: true }, 10)) {
      const signs = piece.page.voices.map(voice => signOf(voice.signs))
      expect(new Set(signs.map(sign => JSON.stringify({ ...sign, id: "" }))).size).toBeGreaterThan(1)
      expect(new Set(signs.map(sign => sign!.tempus! * sign!.prolatio!)).size).toBe(1)
    }
  })
})

describe("the voices sound together as those of their time", () => {
  test.each(LAWFUL_PRACTICES)("%s", practice => {
    const total = { perfection: [0, 0], unit: [0, 0], small: [0, 0] }
    for (const piece of many({ practice }, 20)) {
      const counts = concordance(piece.page, piece.durations, practice, partsOf(piece.page))
      for (const place of ["perfection", "unit", "small"] as const) {
        total[place][0]! += counts[place].concords
        total[place][1]! += counts[place].all
      }
    }
    const [perfection, unit, small] = [total.perfection, total.unit, total.small].map(([some, all]) => some! / all!)
    // nothing but a suspension, or a tenor that returns, is discordant there
    expect(perfection).toBeGreaterThan(0.985)
    expect(perfection).toBeLessThan(1)
    expect(unit).toBeGreaterThan(0.82)
    expect(unit).toBeLessThan(perfection!)
    expect(small).toBeGreaterThan(0.55)
    expect(small).toBeLessThan(unit!)
  })

  test("and the count that says so sees voices that do not: the same pitches a step higher in one voice", () => {
    const piece = lawfulPiece(1, { practice: "ars-nova", voices: 2 })
    const [upper, tenor] = piece.page.voices
    const shifted = upper!.signs.map(sign =>
      sign.kind === "note" && sign.pitch ? { ...sign, pitch: { ...sign.pitch, step: NEXT[sign.pitch.step] } } : sign,
    )
    const page = { ...piece.page, voices: [{ ...upper!, signs: shifted }, tenor!] }
    const { perfection } = concordance(page, piece.durations, piece.practice, partsOf(page))
    expect(perfection.concords / perfection.all).toBeLessThan(0.7)
  })
})
const NEXT = { c: "d", d: "e", e: "f", f: "g", g: "a", a: "b", b: "c" } as const

describe("voices read alone", () => {
  test.each(LAWFUL_PRACTICES)("%s: nearly all right, but far less where phrases are doubtful", practice => {
    const [plain, half, doubtful] = [0, 0.3, 1].map(doubtful => rightAlone(practice, doubtful))
    console.log(`${practice}: ${plain} % right, ${half} % with 30 % of the phrases doubtful, ${doubtful} % with all`)
    expect(plain).toBeGreaterThan(98)
    expect(half).toBeLessThan(98)
    expect(doubtful).toBeLessThan(93)
  })
})

function rightAlone(practice: LawfulPractice, doubtful: number): number {
  const tally = new PieceTally()
  for (const piece of many({ practice, doubtful }, 15)) tally.add(piece, readPage(piece.page))
  return Math.round(1000 * (1 - tally.wrong / tally.notes)) / 10
}

function many(options: Parameters<typeof lawfulPiece>[1], count: number): LawfulPiece[] {
  return Array.from({ length: count }, (_, i) => lawfulPiece(i + 1, options))
}

function countsOf({ durations }: LawfulPiece): Map<string, number> {
  const counts = new Map<string, number>()
  for (const id of durations.keys()) {
    const label = id.slice(0, id.lastIndexOf("."))
    counts.set(label, (counts.get(label) ?? 0) + 1)
  }
  return counts
}

type Signs = Page["voices"][number]["signs"]
const isTexted = (signs: Signs): boolean => signs.some(sign => sign.kind === "note" && sign.syllables.length > 0)
const signOf = (signs: Signs): MensurationSign | undefined => signs.find(sign => sign.kind === "mensuration")

/** Length of a perfection (later: a breve) and of its parts, from the signs of the page. */
function partsOf(page: Page): readonly [Rational, Rational] {
  const sign = signOf(page.voices[0]!.signs)
  if (sign === undefined) return [ratio(3), ratio(1)]
  const by = sign.strokes ? 2 : 1
  return [ratio(sign.tempus! * sign.prolatio!, by), ratio(sign.prolatio!, by)]
}

test("two lengths that differ are seen", () => {
  const piece = lawfulPiece(3)
  const [id, duration] = [...piece.durations][0]!
  const longer = new Map(piece.durations).set(id, ratio(duration.num + duration.den, duration.den))
  const [first, ...others] = trueLengths({ ...piece, durations: longer })
  expect([first!, ...others].every(length => equals(length, first!))).toBe(false)
})
