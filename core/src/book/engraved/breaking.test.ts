import { describe, expect, test } from "vitest"
import { endsLonely, systemBreaks } from "./breaking.js"
import type { EngravedScore } from "./compose.js"
import { readSvg } from "./svg-tree.js"

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

describe("the last system", () => {
  /** Systems 2000 wide with bars that end at these places. */
  const score = (...systems: readonly (readonly number[])[]): EngravedScore => ({
    glyphs: new Map(),
    width: 2100,
    margin: 50,
    head: [],
    systems: systems.map(ends => ({
      content: readSvg(
        `<g class="system">${ends
          .map((end, i) => {
            const line = `<path d="M${ends[i - 1] ?? 0} 100 L${end} 100"/>`
            return `<g class="measure"><g class="staff">${line}</g></g>`
          })
          .join("")}</g>`,
      ),
      extent: { left: 0, top: 0, right: 2000, bottom: 1000 },
      staves: [{ left: 0, top: 100 }],
      openingEnd: 300,
    })),
  })
  const full = [600, 1200, 2000]
  test.each([
    ["with one bar", [full, [2000]], true],
    ["less than two fifths full", [full, [300, 780]], true],
    ["well filled", [full, [500, 820]], false],
    ["the only one, however short", [[300]], false],
    ["after another short one", [[700], [500, 1900]], false],
  ] as const)("%s", (_, systems, lonely) => {
    expect(endsLonely(score(...systems))).toBe(lonely)
  })
  test("of a score without music there is none", () => {
    expect(endsLonely(score())).toBe(false)
  })
})
