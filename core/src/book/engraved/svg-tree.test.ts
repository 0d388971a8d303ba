import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { outlineBox } from "./outline-box.js"
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
    ["m5 5q10 0 10 10t0 10z", [5, 5, 15, 25]],
  ])("%s", (d, [left, top, right, bottom]) => {
    expect(outlineBox(d)).toEqual({ left, top, right, bottom })
  })
})
