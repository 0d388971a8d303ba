/** What the engraver sets as nobody would by hand, set anew: brackets, meters behind lines, extenders, elisions. */
import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { withClearBrackets } from "./brackets.js"
import type { Extent } from "./extents.js"
import { withMetersAfterLines } from "./meters-after-lines.js"
import { readSvg, type SvgNode } from "./svg-tree.js"
import { withBoundSyllables } from "./syllables.js"

/** A head 200 wide and 180 high, a figure 120 wide. */
const BOXES = new Map<string, Extent>([
  ["glyph-head", { left: 0, top: -90, right: 200, bottom: 90 }],
  ["glyph-two", { left: 0, top: -180, right: 120, bottom: 180 }],
])
const use = (glyph: string, x: number, y: number) => `<use href="#glyph-${glyph}" transform="translate(${x}, ${y})"/>`
const numbers = (text: string) => [...text.matchAll(/-?\d+(?:\.\d+)?/g)].map(Number)

describe("brackets", () => {
  const head = (x: number) => `<g class="notehead">${use("head", x, 1200)}</g>`
  const corner = (...points: number[]) => `<polyline points="${points.join(" ")}"/>`
  const corners = (left: number, right: number, y: number) =>
    corner(left, y, left, y - 180, left + 90, y - 180) + corner(right, y, right, y - 180, right - 90, y - 180)
  const tuplet = (left: number, right: number, y: number) =>
    `<g class="tupletBracket">${corner(left, y, left, y - 100, right, y - 100)}</g>`
  const system = (notes: string, bracket: string) =>
    readSvg(
      `<g class="system"><g class="measure"><g class="staff"><path d="M0 1000 L9000 1000"/>${notes}</g>` +
        `<g class="bracketSpan">${bracket}</g></g></g>`,
    )
  const pointsOf = (svg: SvgNode) =>
    [...toXml(withClearBrackets(svg, BOXES)).matchAll(/<polyline points="([^"]*)"/g)]
      .slice(-2)
      .map(([, p]) => numbers(p!))

  test("corners over one head end with it, and do not touch", () => {
    const [left, right] = pointsOf(system(head(1000) + head(1700), corners(1000, 1600, 900)))
    expect(left).toEqual([1000, 900, 1000, 720, 1060, 720])
    expect(right).toEqual([1200, 900, 1200, 720, 1140, 720])
  })
  test("those over several notes stay where they are", () => {
    const [left, right] = pointsOf(system(head(1000) + head(1400), corners(1000, 1600, 900)))
    expect(left).toEqual([1000, 900, 1000, 720, 1090, 720])
    expect(right).toEqual([1600, 900, 1600, 720, 1510, 720])
  })
  test("one that stands in the bracket of a tuplet goes over it", () => {
    const [left, right] = pointsOf(system(tuplet(700, 1200, 900) + head(1000) + head(1400), corners(1000, 1600, 850)))
    // the tuplet reaches up to 800; there is a third of a staff space between them
    expect(left![1]).toBe(737)
    expect(right![1]).toBe(737)
  })
  test("beside a tuplet, or well over it, there is nothing to do", () => {
    const beside = system(tuplet(200, 800, 900) + head(1000) + head(1400), corners(1000, 1600, 850))
    expect(withClearBrackets(beside, BOXES)).toEqual(beside)
    const over = system(tuplet(700, 1200, 900) + head(1000) + head(1400), corners(1000, 1600, 700))
    expect(withClearBrackets(over, BOXES)).toEqual(over)
  })
  test("a solid one is lifted as a whole", () => {
    const line = '<path d="M1000 670 L1600 670"/>'
    const svg = toXml(
      withClearBrackets(
        system(tuplet(700, 1200, 900) + head(1000) + head(1400), corners(1000, 1600, 850) + line),
        BOXES,
      ),
    )
    expect(svg).toContain('d="M1000 557 L1600 557"')
  })
})

describe("a meter of one voice alone", () => {
  const layer = (meterAt: number) =>
    readSvg(
      `<g class="layer"><g class="note"/><g class="barLine"><path d="M2000 0 L2000 720"/></g>` +
        `<g class="meterSig">${use("two", meterAt, 300)}</g><g class="note"/></g>`,
    )
  test("stands behind the line that ends the bar, in the room that both had", () => {
    const svg = toXml(withMetersAfterLines(layer(1300), BOXES))
    const [, line] = /<path d="M(\S+) 0 L\1 720"/.exec(svg)!
    const [, shift] = /translate\((-?[\d.]+), 0\)/.exec(svg)!
    const [left, right] = [1300 + Number(shift), 1420 + Number(shift)]
    expect(right).toBeLessThanOrEqual(2000)
    expect(Number(line)).toBeLessThan(left - 50)
    expect(Number(line)).toBeGreaterThan(1420)
  })
  test("one that stands behind it stays", () => {
    expect(withMetersAfterLines(layer(2100), BOXES)).toEqual(layer(2100))
  })
})

describe("words", () => {
  const text = (word: string, x: number, more = "") =>
    `<text x="${x}" y="500"><tspan font-size="400px">${word}</tspan>${more}</text>`
  const syllable = (content: string) => `<g class="syl">${content}</g>`
  const extender = (x: number, width: number) => `<rect x="${x}" y="480" width="${width}" height="22"/>`
  const shown = (...verses: string[]) =>
    toXml(withBoundSyllables(readSvg(`<g class="system">${verses.map(v => `<g class="verse">${v}</g>`).join("")}</g>`)))

  test("an extender ends before the next word", () => {
    const svg = shown(syllable(text("que", 1000) + extender(1400, 900)), syllable(text("vox", 2300)))
    expect(svg).toContain(' x="1400" y="480" width="774"')
  })
  test("one for which there is no room is left out, a hyphen never", () => {
    const hyphen = '<rect x="1400" y="380" width="150" height="22"/>'
    const svg = shown(syllable(text("que", 1000) + extender(1400, 300) + hyphen), syllable(text("vox", 1700)))
    expect(svg.match(/<rect/g)).toHaveLength(1)
    expect(svg).toContain(' y="380" width="150"')
  })
  test("two words sung as one have a bow under their letters, and no character that typefaces lack", () => {
    const svg = shown(
      syllable(text("cte", 1000, '<tspan font-family="Leipzig" font-size="720px">\uE551</tspan>')) +
        syllable(text("et", 1700)),
    )
    expect(svg).not.toMatch(/[\uE000-\uF8FF]/)
    const [, d] = /class="elision" d="([^"]*)"/.exec(svg)!
    const [left, top] = numbers(d!)
    const right = Math.max(...numbers(d!).filter((_, i) => i % 2 === 0))
    expect(left).toBeGreaterThan(1000)
    expect(left).toBeLessThan(1600)
    expect(right).toBeGreaterThan(1600)
    expect(top).toBeGreaterThan(500)
    expect(svg).toContain(">cte</tspan>")
    // a third of their size apart, whatever room the engraver kept
    const [, second] = /<text x="([\d.]+)"[^>]*>\s*<tspan[^>]*>et</.exec(svg)!
    expect(Number(second)).toBeLessThan(1700)
    expect(Number(second)).toBeGreaterThan(1000 + 400)
  })
})
