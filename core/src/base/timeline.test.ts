import { describe, expect, test } from "vitest"
import { lastBegun } from "./index.js"

describe("the last that has begun", () => {
  const all = [0, 2, 2, 5].map(onset => ({ onset }))
  test.each([
    [-1, -1],
    [0, 0],
    [1.9, 0],
    [2, 2],
    [4, 2],
    [5, 3],
    [Infinity, 3],
  ])("at %s is number %s", (time, at) => expect(lastBegun(all, time)).toBe(at))
  test("is none of nothing", () => expect(lastBegun([], 3)).toBe(-1))
})
