/** Pages that are trusted otherwise are compared with their intervals counting alike. */
import { expect, test } from "vitest"
import { figuresOf } from "./emend/figures.js"
import { readTogether } from "./read-together.js"
import { lawfulPiece } from "./testing/lawful-piece.js"

test("a note written longer lets the piece be trusted in full, which says nothing for the change", () => {
  const { page } = lawfulPiece(361029, { practice: "white", voices: 4, notes: 50 })
  const altus = page.voices.find(({ label }) => label === "altus")!
  const { sign } = figuresOf(altus)[23]!
  expect(sign.level).toBe("semibrevis")
  const signs = altus.signs.map(one => (one === sign ? { ...sign, level: "brevis" as const } : one))
  const voices = page.voices.map(one => (one === altus ? { ...one, signs } : one))
  const [before, after] = [page, { ...page, voices }].map(one => readTogether(one))
  expect(before!.cost - after!.cost).toBeGreaterThan(20)
  expect(Math.abs(before!.inFull - after!.inFull)).toBeLessThan(3)
  expect(after!.inFull).toBeCloseTo(after!.cost)
})
