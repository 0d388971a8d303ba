import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { withOldSign } from "./old-signs.js"
import { strokesBesideBreaks } from "./strokes-beside-breaks.js"
import { readSvg } from "./svg-tree.js"

const direction = (type: string) => readSvg(`<g class="dir ${type}"><text x="1000" y="400"><tspan>x</tspan></text></g>`)
const shown = (type: string) => toXml(withOldSign(direction(type)))

/** Where the curves of a drawing end; they are written from where the one before ended. */
function pointsOf(svg: string): [x: number, y: number][] {
  const points: [number, number][] = []
  let [x, y, startX, startY] = [0, 0, 0, 0]
  const [, path = ""] = / d="([^"]*)"/.exec(svg) ?? []
  for (const [, command, numbers = ""] of path.matchAll(/([Mmlcz])([^A-Za-z]*)/g)) {
    const [dx = 0, dy = 0] = [...numbers.matchAll(/-?[\d.]+/g)].map(Number).slice(-2)
    if (command === "z") [x, y] = [startX, startY]
    else [x, y] = command === "M" ? [dx, dy] : [x + dx, y + dy]
    if (command === "M" || command === "m") [startX, startY] = [x, y]
    points.push([x, y])
  }
  return points
}

describe("our forms in the place of characters", () => {
  test("a sign stands on the line of the words, its left edge where they began", () => {
    const points = pointsOf(shown("mensuration sign:C dots:1"))
    expect(Math.min(...points.map(([x]) => x))).toBeCloseTo(1000, 0)
    expect(Math.max(...points.map(([, y]) => y))).toBeCloseTo(400, 0)
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
  test("one that an editor supplied stands between two brackets, in paler ink", () => {
    const [plain, supplied] = [shown("mensuration sign:C"), shown("mensuration sign:C brackets")]
    expect(plain).not.toMatch(/<poly/)
    expect(supplied.match(/fill="none"/g)?.length ?? 0).toBe(2)
    expect(supplied).not.toContain("<text")
  })
  test.each(["", "source-break of:folio", "mensuration", "proportion", "stroke"])("“%s” stays as it is", type => {
    expect(withOldSign(direction(type))).toEqual(direction(type))
  })
  test("nothing else is touched", () => {
    const note = readSvg('<g class="note mensuration sign:O"><text x="1" y="2">x</text></g>')
    expect(withOldSign(note)).toBe(note)
  })
})

describe("a stroke of division at the end of a folio", () => {
  const measure = (...dirs: readonly (readonly [type: string, x: number, y: number])[]) =>
    readSvg(
      `<g class="measure">${dirs.map(([type, x, y]) => `<g class="dir ${type}"><text x="${x}" y="${y}"/></g>`).join("")}</g>`,
    )
  const places = (svg: ReturnType<typeof measure>) =>
    [...toXml(strokesBesideBreaks(svg)).matchAll(/ x="(\d+)" y="(\d+)"/g)].map(([, x, y]) => [Number(x), Number(y)])
  test("stands before its mark, on one line with it", () => {
    expect(places(measure(["source-break of:folio", 1000, 400], ["stroke form:divisio-modi", 1000, 120]))).toEqual([
      [1000, 400],
      [800, 400],
    ])
  })
  test("any other stays where it is: over another note, or over another staff", () => {
    const others = [
      ["source-break of:folio", 1000, 1400],
      ["stroke form:bar", 1000, 120],
      ["stroke form:bar", 1500, 1400],
    ] as const
    expect(places(measure(...others))).toEqual(others.map(([, x, y]) => [x, y]))
  })
})
