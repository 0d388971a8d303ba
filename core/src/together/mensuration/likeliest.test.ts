import { expect, test } from "vitest"
import type { Divisions } from "../../practices/index.js"
import type { Trial } from "./candidates.js"
import type { Foretold } from "./forward.js"
import { lastsAlike, likeliestOf, sharedChances } from "./likeliest.js"

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
