import { DOMParser } from "@xmldom/xmldom"
import { describe, expect, test } from "vitest"
import { signId } from "../../base/index.js"
import type { Item, PathStep, Role, Scene } from "./scene.js"
import { pathData } from "./path-data.js"
import { svgOf, toSvg } from "./svg.js"
import { THEMES, themeNamed } from "./themes.js"

const scene = (content: readonly Item[], more: Partial<Scene> = {}): Scene => ({
  width: 100,
  height: 50,
  unit: 10,
  title: "A title",
  description: "What is to be seen.",
  content,
  ...more,
})
const dot = (sign?: string): Item => ({
  shape: "circle",
  part: "dot",
  x: 1,
  y: 2,
  radius: 0.25,
  fill: "ink",
  ...(sign === undefined ? {} : { sign: signId(sign) }),
})
function parsed(svg: string) {
  const errors: string[] = []
  const document = new DOMParser({
    onError: (level, message) => void (level !== "warning" && errors.push(message)),
  }).parseFromString(svg, "image/svg+xml")
  expect(errors).toEqual([])
  return document
}

describe("SVG", () => {
  test("positions of groups are reckoned in", () => {
    const svg = toSvg(
      scene([{ shape: "group", x: 20, y: 10, scale: 10, content: [{ shape: "group", x: 1, content: [dot()] }] }]),
    )
    expect(svg).toContain('<circle class="dot" fill="#1C1814" cx="40" cy="30" r="2.5"/>')
    expect(svg).not.toContain("transform")
  })
  test("has a title and a text in place of the picture, and neither style sheet nor script", () => {
    const svg = toSvg(scene([dot("s1")], { title: `<script>"a" & b</script>`, language: "la" }))
    const document = parsed(svg)
    expect(document.getElementsByTagName("title").item(0)?.textContent).toBe(`<script>"a" & b</script>`)
    expect(document.getElementsByTagName("desc").item(0)?.textContent).toBe("What is to be seen.")
    expect(document.getElementsByTagName("script").length + document.getElementsByTagName("style").length).toBe(0)
    expect(svg).not.toMatch(/style=/)
  })
  test("a sign's id stands once, on further marks only as data", () => {
    const svg = toSvg(scene([dot("s1"), dot("s1")]))
    expect(svg.match(/ id="s1"/g)).toHaveLength(1)
    expect(svg.match(/ data-sign="s1"/g)).toHaveLength(2)
  })
  test("an id that is no name is data only, and hostile text stays text", () => {
    const svg = toSvg(
      scene([
        dot(`1" onload="x`),
        {
          shape: "text",
          part: "a",
          x: 0,
          y: 0,
          text: "\u0000<b>&\uD800",
          type: { family: "words", size: 2 },
          fill: "ink",
        },
      ]),
    )
    const document = parsed(svg)
    const circle = document.getElementsByTagName("circle").item(0)!
    expect(circle.getAttribute("id")).toBeNull()
    expect(circle.getAttribute("onload")).toBeNull()
    expect(document.getElementsByTagName("text").item(0)?.textContent).toBe("\uFFFD<b>&\uFFFD")
  })
  test("several drawings can stand in one page", () => {
    expect(toSvg(scene([dot("s1")]), { idPrefix: "one-" })).toMatch(/id="one-title"[\s\S]*id="one-s1" data-sign="s1"/)
  })
  test("a text longer than two letters says how long it is; a shorter one does not", () => {
    const text = (words: string): Item => ({
      shape: "text",
      part: "t",
      x: 0,
      y: 0,
      text: words,
      type: { family: "figures", size: 10, weight: 600 },
      fill: "ink",
    })
    const svg = toSvg(scene([text("123"), text("12")]))
    expect(svg.match(/textLength="15.\d*" lengthAdjust="spacingAndGlyphs"/g)).toHaveLength(1)
  })
  test("letters can be outlines, with their words kept", () => {
    const text: Item = {
      shape: "text",
      part: "t",
      x: 10,
      y: 5,
      text: "abc",
      type: { family: "words", size: 10 },
      anchor: "end",
      length: 4,
      fill: "ink",
    }
    const svg = toSvg(scene([text]), { outline: () => [["M", 0, 0], ["L", 1, 0], ["Z"]] })
    expect(svg).toContain('aria-label="abc" d="M6,5h1z"')
    expect(svg).not.toContain("<text")
  })
  test("can be shown at another width, its numbers as they are", () => {
    expect(toSvg(scene([]), { shownWidth: 50 })).toContain('width="50" height="25" viewBox="0 0 100 50"')
  })
  test.each([
    [0, "0"],
    [-0, "0"],
    [1.005, "1"],
    [1.006, "1.01"],
    [-1.5, "-1.5"],
    [-0.004, "0"],
    [0.05, "0.05"],
    [12.3456, "12.35"],
    [-0.25, "-0.25"],
  ])("%d is written %s", (value, text) => {
    expect(pathData([["M", value, 0]])).toBe(`M${text},0`)
  })
})

describe("themes", () => {
  const luminance = (hex: string) => {
    const [r, g, b] = [1, 3, 5]
      .map(at => parseInt(hex.slice(at, at + 2), 16) / 255)
      .map(one => (one <= 0.03928 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4))
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
  }
  const contrast = (a: string, b: string) => {
    const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x)
    return (high! + 0.05) / (low! + 0.05)
  }
  const least: readonly (readonly [Role, number])[] = [
    ["ink", 4.5],
    ["second", 4.5],
    ["red", 4.5],
    ["blue", 4.5],
    ["clayEdge", 3],
    ["staff", 3],
  ]
  test.each(THEMES.map(one => one.name))("%s: text stands out by 4.5, marks by 3, on both grounds", name => {
    const { colours } = themeNamed(name)!
    for (const [role, ratio] of least)
      for (const ground of ["ground", "alternate"] as const)
        expect(contrast(colours[role], colours[ground]), `${role} on ${ground}`).toBeGreaterThanOrEqual(ratio)
    expect(contrast(colours.ink, colours.clayFill)).toBeGreaterThanOrEqual(4.5)
  })
  test("a transparent one paints no ground, nor marks in its colour", () => {
    const mark: Item = { shape: "rect", part: "gap", x: 0, y: 0, width: 1, height: 1, fill: "ground" }
    expect(toSvg(scene([mark]), { theme: themeNamed("transparent-dark")! })).not.toContain("<rect")
    expect(toSvg(scene([mark]), { theme: themeNamed("dark")! }).match(/<rect/g)).toHaveLength(2)
  })
  test("what a transparent one lays over a slide looks on white or black as its colours say", () => {
    const over = (below: number, colour: string, opacity: number) =>
      [1, 3, 5].map(i => Math.round(Number.parseInt(colour.slice(i, i + 2), 16) * opacity + below * (1 - opacity)))
    for (const [name, below] of [
      ["transparent-light", 255],
      ["transparent-dark", 0],
    ] as const) {
      const { colours, glazes } = themeNamed(name)!
      const { colour, opacity } = glazes!.alternate!
      const seen = over(below, colour, opacity).map(one => one.toString(16).padStart(2, "0"))
      expect(`#${seen.join("")}`.toUpperCase()).toBe(colours.alternate)
      const mark: Item = { shape: "rect", part: "area", x: 0, y: 0, width: 1, height: 1, fill: "alternate" }
      expect(toSvg(scene([mark]), { theme: themeNamed(name)! })).toContain(`fill="${colour}" fill-opacity="${opacity}"`)
    }
  })
  test("a name that is none gives nothing", () => {
    expect(themeNamed("parchment")).toBeUndefined()
  })
})

describe("lines apart from each other", () => {
  const points = [1, 2, 1, 9, 4, 2, 4, 9, 5, 5, 7, 8]
  const asPath = points.flatMap((x, i): PathStep[] =>
    i % 2 === 1 ? [] : [[i % 4 === 0 ? "M" : "L", x, points[i + 1]!]],
  )
  const strokes = { part: "tick", stroke: { role: "ink", width: 1 } } as const

  test("are written as the outline of the same steps", () => {
    const written = svgOf([{ shape: "strokes", points, ...strokes }], { x: 3, y: 0.5, scale: 2 })
    expect(written).toBe(svgOf([{ shape: "path", path: asPath, ...strokes }], { x: 3, y: 0.5, scale: 2 }))
    expect(written).toContain("M5,4.5v14m6,-14v14")
  })
  test("none at all are not written", () => expect(svgOf([{ shape: "strokes", points: [], ...strokes }])).toBe(""))
})

test("a value with letters that XML keeps for itself, and one beyond ASCII, stand as they should", () => {
  const group = { shape: "group", part: "voice", data: { voice: 'a<b&"c"', other: "é½" }, content: [] } as const
  expect(svgOf([group])).toBe('<g class="voice" data-voice="a&lt;b&amp;&quot;c&quot;" data-other="é½">\n</g>\n')
})
