/** Motets written as those of three repertories are, from MEI of several hands. */
import { describe, expect, test } from "vitest"
import { sum, toText } from "../../../base/index.js"
import { readMei } from "../../../formats/mei/index.js"
import { readTogether } from "../../read-together.js"
import { FEATURES } from "./features.js"
import { motet, REPERTORIES } from "./compose.js"
import { measured } from "./measured.js"
import { meiOf, type Hand } from "./mei.js"

const HANDS: readonly Hand[] = [
  { mensur: "child" },
  { mensur: "layer", syllables: true },
  { order: [1, 0, 2] },
  { order: [2, 1, 0], mensur: "layer" },
]

/** What each voice is read as, by its label. */
function lengths(mei: string): string[] {
  const document = readMei(mei)
  if (!document.ok) throw new Error(document.problems[0]!.what)
  const { readings } = readTogether(document.value.page)
  return readings.map(({ label, signs }) => `${label}: ${signs.map(one => toText(one.duration)).join(" ")}`).sort()
}

describe.each(REPERTORIES)("motets as of %s", repertory => {
  test("the voices are meant to be equally long", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const features = seed > 10 ? new Set(FEATURES) : undefined
      const ends = motet(seed, repertory, 60, features).voices.map(({ figures, end }) =>
        toText(sum(figures.slice(0, end).map(f => f.lasts))),
      )
      expect(new Set(ends).size).toBe(1)
    }
  })

  test("nearly all is read as it was meant, the voices meet, and what is sure is right", () => {
    const all = Array.from({ length: 6 }, (_, i) => measured(301 + i, repertory))
    const total = (name: "notes" | "wrong" | "sure" | "sureWrong"): number => all.reduce((n, one) => n + one[name], 0)
    expect(all.every(one => one.meets)).toBe(true)
    expect(total("wrong") / total("notes")).toBeLessThan(repertory === "c1320" ? 0.05 : 0.02)
    expect(total("sureWrong") / total("sure")).toBeLessThan(0.003)
    expect(total("sure") / total("notes")).toBeGreaterThan(0.88)
  })

  test("colour, diminution, hockets, rests in all voices and their kin are read as they are meant", () => {
    const all = Array.from({ length: 3 }, (_, i) => measured(501 + i, repertory, { features: FEATURES }))
    const total = (name: "notes" | "wrong" | "sure" | "sureWrong"): number => all.reduce((n, one) => n + one[name], 0)
    expect(all.filter(one => one.meets).length).toBeGreaterThan(1)
    expect(total("wrong") / total("notes")).toBeLessThan(repertory === "c1320" ? 0.05 : 0.02)
    expect(total("sureWrong") / total("sure")).toBeLessThan(0.01)
    expect(total("sure") / total("notes")).toBeGreaterThan(0.85)
  })

  test("where the practice is not named, what either would read alike is in no doubt", () => {
    const all = Array.from({ length: 4 }, (_, i) => measured(401 + i, repertory, { unnamed: true }))
    const total = (name: "notes" | "sure" | "sureWrong"): number => all.reduce((n, one) => n + one[name], 0)
    expect(total("sure") / total("notes")).toBeGreaterThan(0.85)
    expect(total("sureWrong") / total("sure")).toBeLessThan(0.003)
  })

  test("the same whoever encoded it, and in whatever order the voices stand", () => {
    const piece = [1, 2, 3, 4, 5, 6].map(seed => motet(seed, repertory)).find(one => one.voices.length === 3)!
    const usual = lengths(meiOf(piece, { named: true }))
    for (const hand of HANDS) expect(lengths(meiOf(piece, { named: true, ...hand }))).toEqual(usual)
  })
})

test("plicas and running semibreves put no note in doubt that Ars antiqua too would read so, where the file states an imperfect tempus", () => {
  const all = [7001, 7005, 7006].map(seed =>
    measured(seed, "c1320", { unnamed: true, features: ["plicas", "conjuncturae", "opposite-propriety"] }),
  )
  for (const { sure, notes } of all) expect(sure / notes).toBeGreaterThan(0.9)
})

const RED = FEATURES.slice(0, FEATURES.indexOf("departs"))

test("with no mensuration stated a red tenor is as long as the others by what its colour means, not by another measure", () => {
  const all = [9002, 9003, 9008].map(seed => measured(seed, "c1350", { bare: true, features: RED }))
  for (const { wrong, notes, meets } of all) expect([meets, wrong / notes < 0.02]).toEqual([true, true])
})
