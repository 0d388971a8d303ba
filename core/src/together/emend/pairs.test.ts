/** Two slips of one voice that make up for each other: no single change mends either. */
import { expect, test } from "vitest"
import type { Sign } from "../../page/index.js"
import { fitOf } from "../../score/index.js"
import { readTogether } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { emend } from "./emend.js"
import { figuresOf } from "./figures.js"
import { propose } from "./propose.js"
import type { Emendation } from "./types.js"

test("two lost stems after which the voices meet all the same are found one after the other, and made together mend it", () => {
  const { page } = lawfulPiece(420007, { practice: "white", voices: 3, notes: 50 })
  const cantus = page.voices.find(voice => voice.label === "cantus")!
  const figures = figuresOf(cantus)
  const lost = new Set([13, 45].map(at => figures[at]!.sign.id))
  expect([13, 45].map(at => figures[at]!.sign.level)).toEqual(["minima", "minima"])
  const withoutStem = (sign: Sign): Sign =>
    sign.kind === "note" && lost.has(sign.id) ? { ...sign, level: "semibrevis" } : sign
  const voices = page.voices.map(one => (one === cantus ? { ...one, signs: one.signs.map(withoutStem) } : one))
  const spoiled = { ...page, voices }
  expect(fitOf(readTogether(spoiled).readings).together).toBe(true)

  const { emendations } = propose(spoiled, { steps: 2, most: 300 })!
  const [first] = emendations as [Emendation]
  const second = emendations.find(one => one.step === 2)!
  expect([first.meets, second.meets]).toEqual([false, true])
  const places = [first, second].map(({ place }) => Number(place.split(" ")[1])).sort((a, b) => a - b)
  expect(Math.abs(places[0]! - 14)).toBeLessThanOrEqual(3)
  expect(Math.abs(places[1]! - 46)).toBeLessThanOrEqual(3)
  const made = emend(spoiled, first)
  const both = made.ok ? emend(made.value.page, second) : made
  expect(both.ok && fitOf(readTogether(both.value.page).readings).together).toBe(true)
})
