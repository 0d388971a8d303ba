import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { withOldSign } from "./old-signs.js"
import { readSvg } from "./svg-tree.js"

const direction = (type: string) => readSvg(`<g class="dir ${type}"><text x="1000" y="400"><tspan>x</tspan></text></g>`)
const shown = (type: string) => toXml(withOldSign(direction(type)))

describe("our forms in the place of characters", () => {
  test("a sign stands on the line of the words, its left edge where they began", () => {
    const numbers = [...shown("mensuration sign:C dots:1").matchAll(/([\d.]+),([\d.]+)/g)]
    expect(Math.min(...numbers.map(([, x]) => Number(x)))).toBeCloseTo(1000)
    expect(Math.max(...numbers.map(([, , y]) => Number(y)))).toBeCloseTo(400)
    expect(shown("mensuration sign:C dots:1")).not.toContain("<text")
  })
  test.each([
    "mensuration sign:O",
    "mensuration sign:C reversed",
    "proportion figures:3:2",
    "stroke form:divisio-modi",
  ])("%s is drawn, unlike another", type => {
    expect(shown(type)).not.toContain("tspan>x")
    expect(shown(type)).not.toBe(shown("mensuration sign:C"))
  })
  test.each(["", "source-break of:folio", "mensuration", "proportion", "stroke"])("“%s” stays as it is", type => {
    expect(withOldSign(direction(type))).toEqual(direction(type))
  })
  test("nothing else is touched", () => {
    const note = readSvg('<g class="note mensuration sign:O"><text x="1" y="2">x</text></g>')
    expect(withOldSign(note)).toBe(note)
  })
})
