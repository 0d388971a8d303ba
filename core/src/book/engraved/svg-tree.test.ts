import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { outlineBox, readOutline } from "./outline.js"
import { readSvg } from "./svg-tree.js"

describe("readSvg", () => {
  test("gives elements, attributes and text, references resolved", () => {
    const tree = readSvg(
      `<?xml version="1.0"?><!DOCTYPE svg>\n<svg a="1 &lt; 2"><g>\n <text x='no'/></g></svg>`.replace(/ x='no'/, ""),
    )
    expect(tree).toMatchObject({ name: "svg", attributes: { a: "1 < 2" } })
    expect(toXml(readSvg("<text>a &amp; b&#x2019;&#33;<tspan>c</tspan> d</text>"))).toBe(
      "<text>a &amp; b’!<tspan>c</tspan> d</text>",
    )
  })
  test.each(["", "no tags", "<g>", "<g></h>", "</g>"])("%j is no drawing", text => {
    expect(() => readSvg(text)).toThrow(/drawing/)
  })
})

describe("outlineBox", () => {
  test.each([
    ["M1 2L3 -4z", [1, -4, 3, 2]],
    ["M1 2l3 -4h-10v20", [-6, -2, 4, 18]],
    ["M0 0c1 1 2 5 3 0s4 -6 5 1", [0, -6, 8, 5]],
    ["m5 5q10 0 10 10z", [5, 5, 15, 15]],
  ])("%s", (d, [left, top, right, bottom]) => {
    expect(outlineBox(d)).toEqual({ left, top, right, bottom })
  })
})

test("readOutline: smooth curves go on as SVG 1.1 (8.3.6, 8.3.7) says; what follows a closed figure starts at its beginning", () => {
  expect(readOutline("M0 0C1 1 2 2 3 3S5 5 6 6")).toEqual([
    ["M", 0, 0],
    ["C", 1, 1, 2, 2, 3, 3],
    ["C", 4, 4, 5, 5, 6, 6],
  ])
  expect(readOutline("m5 5q10 0 10 10t0 10")).toEqual([
    ["M", 5, 5],
    ["Q", 15, 5, 15, 15],
    ["Q", 15, 25, 15, 25],
  ])
  expect(readOutline("M1 1h4v2zl1 0 1 1")).toEqual([
    ["M", 1, 1],
    ["L", 5, 1],
    ["L", 5, 3],
    ["Z"],
    ["L", 2, 1],
    ["L", 3, 2],
  ])
})
