import { describe, expect, test } from "vitest"
import { counterpointOf, kindOfInterval } from "./index.js"

test.each([
  // steps  kind
  [0, "perfect"],
  [1, "discord"],
  [2, "third"],
  [3, "fourth"],
  [4, "perfect"],
  [5, "sixth"],
  [6, "discord"],
  [7, "perfect"],
  [9, "third"],
  [-9, "third"],
  [-11, "perfect"],
])("%i steps are a %s, octaves taken away", (steps, kind) => {
  expect(kindOfInterval(steps)).toBe(kind)
})

describe.each(["ars-antiqua", "ars-nova", "white"])("%s", practice => {
  const { lowest, upper } = counterpointOf(practice)
  test("at the beginning of a perfection a perfect concord speaks for a reading in every pair of voices", () => {
    for (const { together } of [lowest, upper]) expect(together[2].perfect).toBeLessThan(0)
  })
  test("with the lowest voice a discord speaks against it there, most of all intervals", () => {
    const { discord, ...others } = lowest.together[2]
    for (const cost of Object.values(others)) expect(discord).toBeGreaterThanOrEqual(cost)
    expect(discord).toBeGreaterThan(1)
  })
  test("a discord there costs less against a held note, and no more within the parts of a perfection", () => {
    for (const { together, against } of [lowest, upper]) {
      expect(against[2].discord).toBeLessThan(together[2].discord)
      expect(together[0].discord).toBeLessThanOrEqual(together[2].discord)
    }
  })
})

test("the fourth with the lowest voice is a concord of the thirteenth century and no longer of the later ones; the sixth becomes one", () => {
  const dearer = (practice: string) => {
    const { fourth, sixth } = counterpointOf(practice).lowest.together[2]
    return fourth - sixth
  }
  expect(dearer("ars-antiqua")).toBeLessThan(0)
  expect(dearer("ars-nova")).toBeGreaterThan(0)
  expect(dearer("white")).toBeGreaterThan(0)
})

test("a practice without weights of its own is heard as the fourteenth century", () => {
  expect(counterpointOf("another")).toBe(counterpointOf("ars-nova"))
})
