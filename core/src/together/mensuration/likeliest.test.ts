import { expect, test } from "vitest"
import type { Divisions } from "../../practices/index.js"
import type { Trial } from "./candidates.js"
import type { Foretold } from "./forward.js"
import type { Common } from "./joint.js"
import { lastsAlike, likeliestOf, likeliestTogether, sharedChances } from "./likeliest.js"

const foretold = [{} as Foretold]

const trialIn = (tempus: 2 | 3, prolatio: 2 | 3, scale: number): Trial => ({
  divisions: { modusMaior: 2, modusMinor: 3, tempus, prolatio } satisfies Divisions,
  fit: 0,
  foretold,
  signs: [],
  scale,
  breves: scale / (tempus * prolatio),
})

// tempus is what a group of plain semibreves shows, and prolation is not (Ars nova, c. 1320, on semibreves without stems)
const trials = [trialIn(3, 2, 6), trialIn(2, 2, 4), trialIn(2, 3, 6)]
const chances = [0.4, 0.35, 0.25]

test("among plain semibreves the tempus is chosen first, and then the prolation that no note shows", () => {
  const grouped = { counting: { grouped: true }, trials }
  expect(likeliestOf(grouped, chances)).toBe(1)
  expect(sharedChances(grouped, chances)).toEqual([0.4, expect.closeTo(0.6), expect.closeTo(0.6)])
})

test("where minims are written notes last alike if they are counted alike and of one scale", () => {
  const written = { counting: { grouped: false }, trials }
  expect(likeliestOf(written, chances)).toBe(0)
  expect(sharedChances(written, chances)).toEqual([0.65, 0.35, 0.65])
})

test("breves of as many minims are not shared alike in perfect and imperfect tempus", () => {
  expect(lastsAlike(trials[0]!, trials[2]!, true)).toBe(false)
  expect(lastsAlike(trials[0]!, trials[2]!, false)).toBe(true)
})

test("a voice without trials has no likeliest", () => {
  expect(likeliestOf({ counting: { grouped: true }, trials: [] }, [])).toBeUndefined()
})

test("where the voices lean this way and that by a hair, one common measure is chosen for all", () => {
  const counting = { grouped: true } as Parameters<typeof likeliestTogether>[0][number]["counting"]
  const seen = { ...trials[1]!, foretold: [{} as Foretold] }
  const tried = [0, 1, 2].map(() => ({ counting, trials: [{ ...trials[0]!, foretold: [{} as Foretold] }, seen] }))
  const common = (trial: number, rows: number[][]): Common => ({
    divisions: tried[0]!.trials[trial]!.divisions,
    chance: rows[0]![0]! + rows[0]![1]!,
    trials: [trial, trial, trial],
    rows,
  })
  const perfect = [0.45, 0.46, 0.4].map(most => [most, 0.5 - most])
  const imperfect = [0.06, 0.01, 0.02].map(least => [least, 0.5 - least])
  const commons = [common(0, perfect), common(1, imperfect)]
  const chances = perfect.map((row, v) => row.map((one, c) => one + imperfect[v]![c]!))
  expect(tried.map((one, v) => likeliestOf(one, chances[v]!))).toEqual([0, 1, 1])
  expect(likeliestTogether(tried, { chances, commons })).toEqual([1, 1, 1])
})
