/** How the voices of a piece move, and what that says of a note that was left out. */
import { expect, test } from "vitest"
import { parseShorthand } from "../../page/index.js"
import { Melody } from "./melody.js"

const read = parseShorthand(
  "voice cantus white practice=white\nclef:C1\nS c5 d e d c b4 c5 d e f e d c d e d c b4 c5 d B c",
)
if (!read.ok) throw new Error(JSON.stringify(read.problems))
const byStep = new Melody(read.value.voices)

test("where voices go by step, a leap of a third has lost the note between, two like notes or a step have not", () => {
  expect(byStep.filling(30, 32)).toBeLessThan(-1)
  expect(byStep.filling(30, 31)).toBeGreaterThan(0)
  expect(byStep.filling(30, Number.NaN)).toBe(0)
})

test("the steps from a note, up and down, make up all there is", () => {
  let chance = 0
  for (let step = 30 - 14; step <= 30 + 14; step++) chance += Math.exp(-byStep.towards(30, step))
  expect(chance).toBeCloseTo(1, 9)
})

test("a note between is asked with all its pitches: several that would do say more than the best of them", () => {
  const best = byStep.towards(30, 31) + byStep.towards(31, 30)
  expect(byStep.filling(30, 30)).toBeLessThan(best - byStep.towards(30, 30) - 0.5)
})
