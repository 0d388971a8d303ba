/** The sheets for a hall: everything that the time view shows stands on them, once, in the step in which it is found. */
import { describe, expect, test } from "vitest"
import { signId } from "../base/index.js"
import { mustWork } from "../base/testing/must-work.js"
import { drawTimeSheets, type Item } from "../drawing/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { alignVoices } from "../score/index.js"
import { readTogether } from "../together/index.js"
import { lectureOf, LECTURE_STEPS } from "./lecture.js"

/** Of our own making: an imperfect breve, a perfect one, a doubled semibreve. */
const page = mustWork(
  parseShorthand(`title: A line
voice cantus black practice=ars-nova
clef:C1 O
B g4:id=cut S a B b:id=whole B b S a:id=one g:id=doubled B g f e f g a b a g f g L e
voice tenor black practice=ars-nova
clef:C3 O
B c4 d e f g e c d e f g f e d c L c`),
)
const { readings } = readTogether(page)
const wall = { width: 1920, height: 1000 }
const marks = (items: readonly Item[]): Item[] =>
  items.flatMap(item => (item.shape === "group" ? marks(item.content) : [item]))
/** Signs whose bands are among the items. */
const bands = (items: readonly Item[]): string[] =>
  items.flatMap(item =>
    item.shape === "group"
      ? [...(item.part === "duration" && item.sign !== undefined ? [item.sign] : []), ...bands(item.content)]
      : [],
  )

describe("sheets for a hall", () => {
  const [sheet] = lectureOf(page, readings, wall)
  const step = (name: (typeof LECTURE_STEPS)[number]) => (LECTURE_STEPS.indexOf(name) + 1) as 1 | 2 | 3 | 4 | 5

  test("hold each mark of the time view once, but for its title", () => {
    const score = alignVoices(page, readings)
    const head = (82 * wall.width) / 1920
    const [whole] = drawTimeSheets({ page, readings, score }, { width: 1920, sheetHeight: wall.height + head })
    const untitled = whole!.content.filter(({ part }) => part !== "title")
    const shown = sheet!.steps.flatMap(one => marks(sheet!.adds(one)))
    expect(shown).toHaveLength(marks(untitled).length)
    expect(new Set(shown)).toEqual(new Set(marks(untitled)))
  })
  test("show what was written first, and each length in the step that finds it", () => {
    expect(sheet!.steps).toEqual([1, 2, 3, 4, 5])
    expect(bands(sheet!.adds(step("Signs")))).toEqual([])
    expect(marks(sheet!.adds(step("Perfections"))).map(({ part }) => part)).toContain("pillar")
    expect(bands(sheet!.adds(step("Perfections")))).toContain("whole")
    expect(bands(sheet!.adds(step("Imperfections")))).toContain("cut")
    expect(bands(sheet!.adds(step("Alterations")))).toContain("doubled")
    expect(marks(sheet!.adds(step("Result"))).map(({ part }) => part)).toContain("modern")
  })
  test("are as large as the wall, and more of them where all is larger", () => {
    expect(sheet!.width).toBe(wall.width)
    expect(sheet!.height).toBeLessThanOrEqual(wall.height + 1)
    const larger = lectureOf(page, readings, { ...wall, zoom: 2 })
    expect(larger.length).toBeGreaterThan(1)
    expect(larger[0]!.unit).toBeGreaterThan(17 * 1.9)
    expect(larger[0]!.signs.has(signId("cut"))).toBe(true)
    expect(larger.at(-1)!.signs.has(signId("cut"))).toBe(false)
  })
  test("tell where a moment stands on the axis, and where there is white between the voices", () => {
    const heads = (items: readonly Item[], y = 0): { x: number; y: number; text: string }[] =>
      items.flatMap(item =>
        item.shape === "group"
          ? heads(item.content, y + (item.y ?? 0))
          : item.part === "moment" && item.shape === "text"
            ? [{ x: item.x, y: y + item.y, text: item.text }]
            : [],
      )
    for (const one of lectureOf(page, readings, { ...wall, zoom: 2 })) {
      const { axes } = one
      const numbers = heads(one.adds(1))
      expect(numbers.length).toBeGreaterThan(axes.length)
      for (const { x, y, text } of numbers) {
        // the axis is the first line under its number
        const axis = axes.find(below => below.y > y)!
        expect(axis.left + (Number(text) - axis.from) * axis.scale).toBeCloseTo(x, 6)
        expect(axis.y - y).toBeLessThan(60 * 2)
      }
      for (const { gaps, y } of axes) {
        expect(gaps).toHaveLength(1)
        for (const [top, bottom] of gaps) {
          expect(top).toBeGreaterThan(y)
          expect(bottom).toBeGreaterThanOrEqual(top)
        }
      }
    }
  })
  test("are there for a page with nothing on it too", () => {
    const empty = mustWork(parseShorthand("voice a black\nclef:C1"))
    const [only, ...more] = lectureOf(empty, readTogether(empty).readings, wall)
    expect(more).toEqual([])
    expect(only!.steps[0]).toBe(1)
  })
})
