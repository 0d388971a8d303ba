/** Costs are found again by kind and time, however many there are. */
import { expect, test } from "vitest"
import { KeptCosts, type Kind } from "./kept-costs.js"

const kindOf = (step: number, lasts: number): Kind => {
  const tone = { step, byStep: false, falls: false }
  return {
    tone,
    lasts,
    isFinal: false,
    strong: 6,
    medium: 3,
    origin: 0,
    shape: lasts > 2 ? "note brevis" : "note minima",
  }
}

test("costs of each kind at each time are kept apart", () => {
  const kept = new KeptCosts(undefined)
  const kinds = Array.from({ length: 1500 }, (_, i) => kept.kindOf(kindOf(i % 50, 1 + Math.floor(i / 50))))
  expect(new Set(kinds).size).toBe(1500)
  kinds.forEach((kind, i) => kept.put(kind, 60480 * (i % 9), i - 700))
  const found = kinds.map((kind, i) => kept.costs[kept.find(kind, 60480 * (i % 9))])
  expect(found).toEqual(kinds.map((_, i) => i - 700))
  expect(kinds.map((_, i) => kept.kindOf(kindOf(i % 50, 1 + Math.floor(i / 50))))).toEqual(kinds)
  expect(kinds.every(kind => kept.find(kind, 60480 * 9) === -1)).toBe(true)
})

test("rests are one kind, whatever is not a number", () => {
  const kept = new KeptCosts(undefined)
  expect(kept.kindOf(kindOf(Number.NaN, 4))).toBe(kept.kindOf(kindOf(Number.NaN, 4)))
})
