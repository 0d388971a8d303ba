import { describe, expect, test } from "vitest"
import { withOldSign } from "./old-signs.js"
import { readSvg } from "./svg-tree.js"
import { extentOf, markPoints } from "./extents.js"

const path = (d: string) => readSvg(`<path d="${d}"/>`)

describe("how far marks reach", () => {
  test.each([
    ["M100 200 L150 260", [100, 200, 150, 260]],
    ["M100,200l50,60h-20v-5z", [100, 200, 150, 260, 130, 260, 130, 255]],
  ])("points of %s are told from the drawing's own zero", (d, points) => {
    expect(markPoints(path(d))).toEqual(points)
  })
  test("an old sign over a staff reaches no higher than it is", () => {
    const direction = '<g class="dir mensuration sign:C"><text x="1000" y="4000"><tspan>x</tspan></text></g>'
    const { left, top, right, bottom } = extentOf(withOldSign(readSvg(direction)), new Map())
    expect([left, bottom]).toEqual([expect.closeTo(1000, 0), expect.closeTo(4000, 0)])
    expect(bottom - top).toBeLessThan(500)
    expect(right - left).toBeLessThan(500)
  })
})
