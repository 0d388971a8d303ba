import { expect, test } from "vitest"
import type { Divisions } from "../../practices/index.js"
import { likelyCost, rarerBy } from "./sounds.js"
import { SOUND } from "./weights.js"

const measure = (modusMinor: 2 | 3, tempus: 2 | 3): Divisions => ({ modusMaior: 2, modusMinor, tempus, prolatio: 2 })

test("a measure that was not heard costs what the best of those like it does: a wrong modus speaks against no tempus", () => {
  const heard = [
    { divisions: measure(3, 2), cost: -12 },
    { divisions: measure(3, 3), cost: -14 },
    { divisions: measure(2, 2), cost: -27 },
  ]
  expect(likelyCost({ divisions: measure(2, 3) }, heard)).toBe(-27)
  expect(likelyCost({ divisions: { ...measure(3, 2), prolatio: 3 } }, heard)).toBe(-12)
  expect(likelyCost({ divisions: measure(2, 3) }, [])).toBeUndefined()
})

test("that voices do not meet in a measure speaks against it, but not beyond all doubt", () => {
  expect(rarerBy(2.5)).toBe(2.5)
  expect(rarerBy(57)).toBe(SOUND.counts)
})
