/** Lost passages near each other are one, placed where they most surely are. */
import { expect, test } from "vitest"
import type { EmendationKind } from "./types.js"
import type { Candidate } from "./candidates.js"
import { gathered } from "./gathered.js"

const one = (kind: EmendationKind, from: number, gain: number, voice = "cantus") => ({
  candidate: { kind, voice, from, to: from } as unknown as Candidate,
  gain,
})
const lost = (from: number, gain: number, voice?: string) => one("passage-missing", from, gain, voice)
const placed = (all: readonly { readonly candidate: Candidate; readonly gain: number }[]): (string | number)[][] =>
  all.map(({ candidate: { kind, from }, gain }) => [kind, from, Math.round(10 * gain) / 10])

test("gaps a few signs apart are one, in their midst, with the odds of all of them", () => {
  const gaps = [10, 11, 12, 13, 14].map(from => lost(from, from === 12 ? 5.1 : 5))
  const found = gathered([one("level-changed", 8, 6), ...gaps])
  expect(placed(found)).toEqual([
    ["passage-missing", 12, 6.6],
    ["level-changed", 8, 6],
  ])
})

test("what stands further off, or in another voice, stays by itself", () => {
  const all = [lost(10, 5), lost(14, 4), lost(11, 3, "tenor")]
  expect(placed(gathered(all))).toEqual(placed(all))
})

test("other changes are as they were", () => {
  const all = [one("note-missing", 4, 7), one("note-missing", 5, 6.5), one("dot-added", 5, 6)]
  expect(placed(gathered(all))).toEqual(placed(all))
})

test("it stands where the odds of all around it are best, though one at the edge is the likeliest by itself", () => {
  const found = gathered([lost(10, 5), lost(13, 4.9), lost(16, 4.9)])
  expect(placed(found)).toEqual([["passage-missing", 13, 6]])
})
