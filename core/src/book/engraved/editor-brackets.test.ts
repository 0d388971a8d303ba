/** Square brackets around what an editor supplied: where they stand, and around how much. */
import { describe, expect, test } from "vitest"
import { toXml } from "../../formats/xml.js"
import { withEditorBrackets } from "./editor-brackets.js"
import type { Extent } from "./extents.js"
import { readSvg } from "./svg-tree.js"

/** A head 200 wide and 180 high, a flat 150 wide that reaches higher. */
const BOXES = new Map<string, Extent>([
  ["glyph-head", { left: 0, top: -90, right: 200, bottom: 90 }],
  ["glyph-flat", { left: 0, top: -250, right: 150, bottom: 120 }],
])
const use = (glyph: string, x: number, y: number) => `<use href="#glyph-${glyph}" transform="translate(${x}, ${y})"/>`
const note = (x: number, y = 1200, more = "") =>
  `<g class="note"><g class="notehead">${use("head", x, y)}</g>${more}<g class="stem"><path d="M${x} ${y} L${x} ${y + 600}"/></g></g>`
const supplied = (content: string) => `<g class="supplied brackets">${content}</g>`
const staff = (content: string, y = 1000) =>
  `<g class="staff"><path d="M0 ${y} L9000 ${y}"/><g class="layer">${content}</g></g>`
const measure = (...staves: string[]) => `<g class="measure">${staves.join("")}</g>`

/** Left, right, top, bottom of each pair. */
function pairs(...measures: string[]): number[][] {
  const svg = toXml(withEditorBrackets(readSvg(`<g class="system">${measures.join("")}</g>`), BOXES))
  const lines = [...svg.matchAll(/<polyline points="([^"]*)"/g)].map(([, points]) =>
    points!.split(" ").map(one => one.split(",").map(Number)),
  )
  return lines.flatMap((left, i) => {
    const right = lines[i + 1]
    return i % 2 === 0 && right ? [[left[1]![0]!, right[1]![0]!, left[0]![1]!, left[3]![1]!]] : []
  })
}

describe("square brackets", () => {
  test("around one note: free at its sides, over and under its head", () => {
    expect(pairs(measure(staff(note(1000) + supplied(note(2000)) + note(3000))))).toEqual([
      [1942.4, 2257.6, 1002, 1398],
    ])
  })
  test("one pair around all that follow one another, over bar lines too; one for each staff", () => {
    const one = supplied(note(2000)) + `<g class="beam">${supplied(note(3000, 1020))}</g>`
    expect(
      pairs(
        measure(staff(one), staff(note(2000, 3200), 3000)),
        measure(staff(supplied(note(4000))), staff(supplied(note(4000, 3200)), 3000)),
      ),
    ).toEqual([
      [1942.4, 4257.6, 822, 1398],
      [3942.4, 4257.6, 3002, 3398],
    ])
  })
  test("before an accidental at the note, not before one over the staff", () => {
    const accidental = (y: number) => `<g class="accid">${use("flat", 1800, y)}</g>`
    expect(pairs(measure(staff(supplied(note(2000, 1200, accidental(1200))))))[0]![0]).toBe(1742.4)
    expect(pairs(measure(staff(supplied(note(2000, 1200, accidental(700))))))[0]![0]).toBe(1942.4)
  })
  test("around a dot alone, clear of its head; one pair with what follows it", () => {
    const dots = `<g class="dots"><ellipse cx="2300" cy="1190" rx="30" ry="30"/></g>`
    const dotted = note(2000, 1200, dots).replace('class="note"', 'class="note dot-in-brackets"')
    const [[left, right, top, bottom]] = pairs(measure(staff(dotted + note(3000)))) as [number[]]
    expect(left).toBeGreaterThan(2200)
    expect(left).toBeLessThan(2270)
    expect(right).toBe(2387.6)
    expect([top, bottom]).toEqual([1052, 1328])
    const both = pairs(measure(staff(dotted + supplied(note(3000)))))
    expect(both).toHaveLength(1)
    expect(both[0]![1]).toBe(3257.6)
  })
  test("where there is little room they stand nearer, and never in what stands beside", () => {
    const [[left, right]] = pairs(measure(staff(note(1740) + supplied(note(2000)) + note(2230)))) as [number[]]
    expect(left).toBe(1961.6)
    expect(right).toBe(2215)
  })
  test("nothing is touched where nothing is supplied, or it is small", () => {
    const plain = readSvg(`<g class="system">${measure(staff(`<g class="supplied">${note(1000)}</g>`))}</g>`)
    expect(withEditorBrackets(plain, BOXES)).toBe(plain)
  })
})
