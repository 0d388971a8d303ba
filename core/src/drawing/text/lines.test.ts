import { describe, expect, test } from "vitest"
import type { TypeStyle } from "../scene/scene.js"
import { balanced, titleIn, wrapped } from "./lines.js"
import { textWidth } from "./width.js"

const TYPE: TypeStyle = { family: "words", size: 20, weight: 700 }
const LONG = "A title of many words that is longer than a narrow picture is wide, however it is turned"

describe("lines of words", () => {
  test("none is longer than its room, unless one word is", () => {
    for (const room of [90, 200, 500])
      for (const line of wrapped(LONG, TYPE, room)) expect(textWidth(line, TYPE)).toBeLessThanOrEqual(room)
    expect(wrapped("a incomprehensibilitas b", TYPE, 40)).toEqual(["a", "incomprehensibilitas", "b"])
    expect(wrapped("", TYPE, 40)).toEqual([])
  })
  test("balanced: as few lines, the shortest not much shorter than the longest", () => {
    const room = textWidth("A title of many words that is longer than a narrow picture is wide, however it is", TYPE)
    expect(wrapped(LONG, TYPE, room).at(-1)).toBe("turned")
    const lines = balanced(LONG, TYPE, room)
    expect(lines).toHaveLength(2)
    expect(lines.join(" ")).toBe(LONG)
    const widths = lines.map(line => textWidth(line, TYPE))
    expect(Math.min(...widths)).toBeGreaterThan(0.8 * Math.max(...widths))
  })
})

describe("titles", () => {
  const full = textWidth(LONG, TYPE)
  test.each([
    ["with room enough: as it is", full + 1, 1, 20],
    ["a little too long: smaller", full * 0.8, 1, 16],
    ["much too long: in lines, not smaller than seven tenths", full * 0.3, 3, 14],
  ])("%s", (_, room, count, size) => {
    const { lines, type } = titleIn(LONG, TYPE, room)
    expect(lines).toHaveLength(count)
    expect(type.size).toBeCloseTo(size, 6)
    for (const line of lines) expect(textWidth(line, type)).toBeLessThanOrEqual(room + 1e-6)
  })
  test("one word that is longer than the line is made so small that it fits", () => {
    const { lines, type } = titleIn("in incomprehensibilitas", TYPE, 60)
    expect(lines).toEqual(["in", "incomprehensibilitas"])
    expect(textWidth(lines[1]!, type)).toBeCloseTo(60, 6)
  })
})
