import { expect, test } from "vitest"
import { groupChances } from "./groups.js"

const IMPERFECT = [2, 2, 2, 2]
const PERFECT = [2, 3, 3, 2]

test.each([2, 3, 4, 5, 9, 30])("the ways to part %i semibreves into breves are all of them", members => {
  const chances = groupChances({ 2: 1, 3: 0.8, 4: 0.2 })(members, IMPERFECT, false)
  expect(chances.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1)
})
test("pairs and threes only: five are two breves, six are two or three", () => {
  const chances = groupChances({ 2: 1, 3: 1 })
  expect(chances(5, IMPERFECT, false)).toEqual([0, 0, 1])
  expect(chances(6, IMPERFECT, false)).toEqual([0, 0, 0.5, 0.5])
})
test("one by itself shortens a breve, in perfect tempus only", () => {
  const chances = groupChances({ 2: 1 })
  expect(chances(1, PERFECT, true)[0]).toBeGreaterThan(0.5)
  expect(chances(1, PERFECT, false)[0]).toBe(0)
  expect(chances(1, IMPERFECT, true)[0]).toBe(0)
})
