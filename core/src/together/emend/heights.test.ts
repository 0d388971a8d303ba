/** What tells that a passage stands at a wrong height: its compass, and perfect concords in a row. */
import { expect, test } from "vitest"
import { evidenceOf, gainOf } from "./rank.js"
import { SHIFT_DEARER } from "./weights.js"
import { Parallels } from "./parallels.js"
import { Range } from "./range.js"

const LOW = [30, 31, 32, 33, 34, 33, 32, 31, 30, 31, 32, 33, 34, 33]

test("a passage beyond the compass of the rest comes nearer to it by so many steps", () => {
  const steps = [...LOW, 36, 37, 36, Number.NaN, ...LOW]
  const down = new Range(steps).from(LOW.length, -2)
  expect(down(LOW.length + 1)).toBe(0)
  expect(down(LOW.length + 3)).toBe(2)
  expect(new Range(steps).from(LOW.length, 2)(LOW.length + 3)).toBe(-2)
  expect(new Range(steps).from(LOW.length, -4)(LOW.length + 3)).toBe(3)
  expect(new Range(steps).from(0, 1)(3)).toBe(0)
})

test("a voice of few notes has no compass", () => {
  expect(new Range([30, 31, 36, 37, 31]).from(2, -2)(4)).toBe(0)
})

const beside = (steps: readonly number[], other: readonly number[]) => ({ steps, others: other.map(one => [one]) })
const climbing = (from: number): number[] => Array.from({ length: 24 }, (_, i) => from + (i % 8))

test("where voices go in thirds a passage in fifths is strange, a third lower it is not", () => {
  const voice = beside(climbing(30), climbing(28))
  const parallels = new Parallels([voice])
  expect(parallels.cost(voice, 5, 2)).toBeGreaterThan(0.3)
  expect(parallels.cost(voice, 5, 0)).toBeLessThan(0)
})

test("where one voice stays or is silent nothing is parallel", () => {
  const voice = beside([30, 31, 31, 32, Number.NaN, 33], [26, 26, 27, Number.NaN, 28, 29])
  for (let at = 1; at < 6; at++) expect(new Parallels([voice]).cost(voice, at, 0)).toBe(0)
})

test("where all voices together are much dearer with a shift of pitches, that speaks against it; a little says nothing", () => {
  const terms = {
    kind: "pitch-shifted",
    laid: 30,
    habit: 0,
    alike: 0,
    agree: 0,
    meets: false,
    regret: 0,
    heard: 0,
    price: 4.5,
  } as const
  expect(evidenceOf({ ...terms, anew: 12 })).toBe(30)
  expect(evidenceOf({ ...terms, anew: -SHIFT_DEARER })).toBe(30)
  expect(evidenceOf({ ...terms, anew: -42 })).toBeLessThan(0)
})

test("where the voices do not meet, what makes them meet comes before a shift of pitches that sounds better", () => {
  const terms = { habit: 0, alike: 0, agree: 0, anew: 9, regret: 0, heard: 0, price: 6 } as const
  const shift = { ...terms, kind: "pitch-shifted", laid: 14 } as const
  const lost = gainOf({ ...terms, kind: "rest-changed", laid: 9, meets: true })
  expect(lost).toBeGreaterThan(gainOf({ ...shift, meets: false }))
  expect(lost).toBeLessThan(gainOf({ ...shift, meets: true }))
  expect(lost).toBeLessThan(gainOf({ ...shift, laid: 20, meets: false }))
})

test("a passage that would rather go back than it was moved is not moved; what would not go back is as likely as before", () => {
  const terms = {
    kind: "pitch-shifted",
    laid: 8,
    anew: 0,
    habit: 0,
    alike: 0,
    agree: 0,
    meets: true,
    heard: 0,
    price: 5.5,
  } as const
  expect(evidenceOf({ ...terms, regret: 20 })).toBe(-12)
  expect(evidenceOf({ ...terms, regret: -5 })).toBe(8)
})
