import { describe, expect, test } from "vitest"
import { systemBreaks } from "./breaking.js"

const even = (count: number) => Array.from({ length: count }, () => 10)
const breaks = (bars: readonly number[], firstOpening = 0, opening = 0) =>
  systemBreaks({ bars, firstOpening, opening, line: 40 })

describe("systems of about the same fullness", () => {
  test("as many bars as fit", () => {
    expect(breaks(even(12))).toEqual([4, 8])
    expect(breaks(even(3))).toEqual([])
    expect(breaks([])).toEqual([])
  })
  test("what opens a line takes room", () => {
    expect(breaks(even(12), 20, 0)).toEqual([2, 6, 10])
    expect(breaks(even(9), 10, 10)).toEqual([3, 6])
  })
  test("no bar stands alone at the end if others can be spared", () => {
    expect(breaks(even(9))).toEqual([4, 7])
  })
  test("a bar longer than a line has one of its own", () => {
    expect(breaks([10, 90, 10])).toEqual([1, 2])
  })
  test("a line is rather squeezed a little than left half empty", () => {
    expect(breaks([10, 10, 10, 13, 20, 20])).toEqual([4])
  })
})
