/** Forms against the numbers of the visual language, in staff spaces; y is 0 on the bottom line, position 4 the middle line of five. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { ratio, signId } from "../../base/index.js"
import { LEVELS, type Level, type Ligature, type Note, type Rest, type Sign } from "../../page/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { plainNote } from "../../page/testing/plain-page.js"
import { ligatureLevels } from "../../practices/ligatures.js"
import type { Box, Mark, Path } from "../scene/scene.js"
import { signSheet } from "../sheet/sheet.js"
import { SPECIMENS } from "../sheet/specimens.js"
import { positionOf } from "./clefs.js"
import { around, drawLigature, drawNote, drawRest, drawSign, markBox, type SignStyle } from "./index.js"
import { formed } from "./ligature-form.js"
import { reversed, squareOutline } from "./outline.js"

const BLACK: SignStyle = { white: false, lines: 5 }
const WHITE: SignStyle = { white: true, lines: 5 }
const PLACE = { clef: { shape: "C", line: 3 } as const, before: 4 }

function signOf(written: string): Sign {
  const page = parseShorthand(written, "test")
  if (!page.ok || page.problems.length > 0) throw new Error(page.problems[0]?.what)
  return page.value.voices[0]!.signs.at(-1)!
}
function noteBox(written: string, style = BLACK): Box {
  return drawNote(signOf(written) as Note, 4, style).box
}
const pathOf = (marks: readonly Mark[]): Path => marks.flatMap(mark => (mark.shape === "path" ? mark.path : []))
/** How many outlines a mark is made of. */
const contours = (path: Path): number => path.filter(step => step[0] === "M").length
/** Twice the area, positive for outlines that run clockwise; curves as their corners. */
function area(path: Path): number {
  let [sum, x, y, fromX, fromY] = [0, 0, 0, 0, 0]
  for (const step of path) {
    if (step[0] === "Z") sum += x * fromY - fromX * y
    for (let i = 1; i < step.length; i += 2) {
      const [px, py] = [step[i] as number, step[i + 1] as number]
      if (step[0] === "M") [fromX, fromY] = [px, py]
      else sum += x * py - px * y
      ;[x, y] = [px, py]
    }
  }
  return sum
}

describe("heads", () => {
  test("a breve is 1.16 wide and 1.2 high with its corners, its middle on its place", () => {
    const box = noteBox("B c4")
    expect(box.right - box.left).toBeCloseTo(1.16, 5)
    expect([box.top, box.bottom]).toEqual([expect.closeTo(-2.6, 5), expect.closeTo(-1.4, 5)])
  })
  test("a lozenge is 1.2 by 1.56", () => {
    expect(noteBox("S c4")).toEqual({
      left: 0,
      right: 1.2,
      top: expect.closeTo(-2.78, 5),
      bottom: expect.closeTo(-1.22, 5),
    })
  })
  test.each([
    ["L c4", "bottom", -2 + 0.5 + 2.4],
    ["L c4/up", "top", -2 - 0.5 - 2.4],
    ["M c4", "top", -2 - 0.78 - 2.5],
    ["M c4/down", "bottom", -2 + 0.78 + 2.5],
    ["B c4/down(left)", "bottom", -2 + 0.5 + 2.4],
  ] as const)("the stem of %s ends at its length beyond the head (%s)", (written, side, end) => {
    // the pen leaves the stem slanting: its tip is within a tenth of a space
    expect(Math.abs(noteBox(written)[side] - end)).toBeLessThan(0.06)
  })
  test("a long's stem stands at the right edge, 0.13 thick", () => {
    const path = pathOf(drawNote(signOf("L c4") as Note, 4, BLACK).content)
    const low = path.filter(step => step[0] !== "Z" && (step[2] as number) > 0).map(step => step[1] as number)
    expect(Math.max(...low)).toBeCloseTo(1.16, 5)
    expect(Math.min(...low)).toBeGreaterThan(1.16 - 0.14)
  })
  test.each([
    ["maxima", 2.2],
    ["longa", 1.16],
    ["brevis", 1.16],
    ["semibrevis", 1.2],
    ["minima", 1.2],
  ] as const)("the body of a %s is %s wide", (level, width) => {
    const { body } = drawNote(plainNote("n", { level }), 4, BLACK)
    expect(body.right - body.left).toBeCloseTo(width, 5)
  })
  test.each(LEVELS)("%s has a form of its own in black and in white notation", level => {
    const form = (style: SignStyle, of: Level) =>
      JSON.stringify(drawNote(plainNote("n", { level: of }), 4, style).content)
    for (const style of [BLACK, WHITE])
      for (const other of LEVELS) if (other !== level) expect(form(style, level)).not.toBe(form(style, other))
  })
  test.each([
    ["B c4", 1, 2],
    ["S c4", 1, 2],
    ["B c4:red", 3, 3],
    ["B c4:void", 2, 2],
    ["B c4:half-left", 2, 2],
    ["S c4:half-top", 2, 2],
  ])("%s is of %i outlines in black, of %i in white", (written, black, white) => {
    const count = (style: SignStyle) => contours(pathOf(drawNote(signOf(written) as Note, 4, style).content))
    expect([count(BLACK), count(WHITE)]).toEqual([black, white])
  })
  test("holes run against their outline", () => {
    const path = pathOf(drawNote(signOf("B c4") as Note, 4, WHITE).content)
    const second = path.findIndex((step, i) => i > 0 && step[0] === "M")
    expect(area(path.slice(0, second))).toBeGreaterThan(0)
    expect(area(path.slice(second))).toBeLessThan(0)
    const square = squareOutline({ left: 0, right: 1, y: 0, half: 0.5 })
    expect(area(reversed(square))).toBeCloseTo(-area(square), 9)
    expect(reversed(reversed(square)).length).toBe(square.length)
  })
  test("half a head is full in the half that was coloured", () => {
    const hole = (written: string, style: SignStyle) => {
      const path = pathOf(drawNote(signOf(written) as Note, 4, style).content)
      const second = path.findIndex((step, i) => i > 0 && step[0] === "M")
      return markBox({ shape: "path", part: "", path: path.slice(second) })
    }
    expect(hole("B c4:half-left", WHITE).left).toBeCloseTo(0.58, 5)
    expect(hole("B c4:half-left", BLACK).right).toBeCloseTo(0.58, 5)
    expect(hole("S c4:half-top", WHITE).top).toBeCloseTo(-2, 5)
  })
})

describe("plicas (Ars cantus mensurabilis, c. 1280, VI)", () => {
  /** How far the left and the right stroke reach beyond the head. */
  function strokes(written: string): { left: number; right: number } {
    const down = written.includes("\\down")
    const path = pathOf(drawNote(signOf(written) as Note, 4, BLACK).content)
    const reach = (near: (x: number) => boolean) =>
      Math.max(
        0,
        ...path.flatMap(step =>
          step[0] === "L" && near(step[1]) ? [down ? step[2] + 2 - 0.5 : -2 - 0.5 - step[2]] : [],
        ),
      )
    return { left: reach(x => x < 0.2), right: reach(x => x > 0.96) }
  }
  test.each(["L c4\\up", "L c4\\down"])("%s: the right stroke is the longer", written => {
    const { left, right } = strokes(written)
    expect(left).toBeGreaterThan(0.5)
    expect(right).toBeGreaterThan(left + 0.5)
  })
  test.each(["B c4\\up", "B c4\\down"])("%s: the left stroke is the longer", written => {
    const { left, right } = strokes(written)
    expect(right).toBeGreaterThan(0.5)
    expect(left).toBeGreaterThan(right + 0.5)
  })
  test("a single stroke stands at the right", () => {
    const { left, right } = strokes("L c4\\up1")
    expect(left).toBeLessThan(0.2)
    expect(right).toBeGreaterThan(1)
  })
})

describe("ligatures", () => {
  const drawn = (written: string, style = BLACK) => {
    const ligature = signOf(written) as Ligature
    return drawLigature(ligature, note => positionOf(note.pitch!, PLACE.clef), style)
  }
  test.each([
    "[d4/down(left) b3]",
    "[b3 d4]",
    "[e4/down(left) c4 b3]",
    "[d4 e4_ b3]",
    "[b3 f4:over]",
    "[a3 d4_ b3 c4]",
  ])("%s is one body without a gap", written => {
    for (const style of [BLACK, WHITE]) {
      const { members } = drawn(written, style)
      members.slice(1).forEach(({ content }, i) => {
        const [before, here] = [markBox(members[i]!.content[0]!), markBox(content[0]!)]
        expect(here.left).toBeLessThan(before.right - 0.04)
        expect(Math.min(here.bottom, before.bottom) - Math.max(here.top, before.top)).toBeGreaterThan(0)
      })
    }
  })
  test("an oblique ends on its two pitches", () => {
    const [first, second] = drawn("[e4_ a3]").members
    const ends = (marks: readonly Mark[], x: number) =>
      pathOf(marks).flatMap(step =>
        step[0] !== "Z" && Math.abs((step[1] as number) - x) < 1e-6 ? [step[2] as number] : [],
      )
    const middle = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2
    expect(middle(ends(first!.content, first!.body.left))).toBeCloseTo(-3, 5)
    expect(middle(ends(second!.content, second!.body.right))).toBeCloseTo(-1, 5)
  })
  test("a last head above stands over the one before", () => {
    const [first, second] = drawn("[b3 e4:over]").members
    expect(second!.body.right).toBeCloseTo(first!.body.right, 9)
  })
  test("accidentals of ligated notes stand before the body, each at its height", () => {
    const ligature = signOf("[a3 b c4]") as Ligature
    const notes = ligature.members as readonly Note[]
    const members = notes.map((note, i) => ({ ...note, ...(i > 0 ? { accidental: "f" } : {}) }))
    const { members: found } = drawLigature(
      { ...ligature, members },
      note => positionOf(note.pitch!, PLACE.clef),
      BLACK,
    )
    const signs = found.map(({ content }) => content.filter(mark => mark.part === "accidental").map(markBox))
    expect(signs.map(one => one.length)).toEqual([0, 1, 1])
    const left = Math.min(...found.map(member => member.body.left))
    for (const [box] of signs.slice(1)) expect(box!.right).toBeLessThan(left)
    expect(signs[1]![0]!.right).toBeLessThanOrEqual(signs[2]![0]!.left)
    expect(signs[1]![0]!.bottom - signs[2]![0]!.bottom).toBeCloseTo(0.5, 9)
  })
  test("a rest within a ligature parts its body", () => {
    const { members } = drawn("[a3 b r1 c4]")
    const boxes = members.map(({ content }) => content.map(markBox).reduce(around))
    expect(members.map(member => member.sign.kind)).toEqual(["note", "note", "rest", "note"])
    expect(boxes[1]!.right).toBeLessThan(boxes[2]!.left)
    expect(boxes[2]!.right).toBeLessThan(boxes[3]!.left)
  })
  test("every note keeps its id, in a group of its own", () => {
    const ligature = signOf("[a3 b . c4\\up]") as Ligature
    const text = JSON.stringify(drawSign(ligature, PLACE, BLACK).item)
    for (const { id } of ligature.members) expect(text).toContain(`"sign":"${id}"`)
  })

  const LEVELS_OF_LIGATURES = ["longa", "brevis"] as const
  const anyLevels = fc
    .tuple(
      fc.constantFrom("longa", "brevis", "semibrevis"),
      fc.array(fc.constant("brevis" as const), { maxLength: 3 }),
      fc.constantFrom(...LEVELS_OF_LIGATURES),
    )
    .map(([first, middle, last]): Level[] =>
      first === "semibrevis" ? [first, first, ...middle, last] : [first, ...middle, last],
    )
  test.each([
    ["acm-1280", false],
    ["mensural", true],
  ] as const)("a form drawn for levels is read as these levels (%s)", (system, late) => {
    fc.assert(
      fc.property(
        anyLevels,
        fc.array(fc.constantFrom(-3, -1, 1, 2), { minLength: 6, maxLength: 6 }),
        (levels, steps) => {
          let degree = 28
          const notes = levels.map((level, i) => {
            degree += steps[i]!
            const pitch = {
              step: (["c", "d", "e", "f", "g", "a", "b"] as const)[degree % 7]!,
              octave: Math.floor(degree / 7),
            }
            return plainNote(`n${i}`, { level, pitch })
          })
          const ligature: Ligature = { kind: "ligature", id: signId("l"), members: notes }
          const read = ligatureLevels(ligature, formed(ligature, notes, late), system, {})
          expect(read.map(level => LEVELS[level])).toEqual(levels)
        },
      ),
      { seed: 5, numRuns: 300 },
    )
  })
})

describe("rests", () => {
  const rest = (parts: Partial<Rest>): Rest => ({ kind: "rest", id: signId("r"), coloration: "none", ...parts })
  test.each([
    [4, 1],
    [3, 1],
    [2, 1],
    [1, 1],
    [2, 3],
    [1, 3],
  ])("a stroke of %i/%i spaces is as long as that", (num, den) => {
    const { box } = drawRest(rest({ spaces: ratio(num, den) }), BLACK)
    expect(box.bottom - box.top).toBeCloseTo(num / den, 9)
    expect(box.right - box.left).toBeCloseTo(0.24, 9)
  })
  test.each([
    ["longa", -3, -1],
    ["brevis", -3, -2],
    ["semibrevis", -2, -1.5],
    ["minima", -2.5, -2],
  ] as const)("a rest of a %s stands from %s to %s", (level, top, bottom) => {
    expect(drawRest(rest({ level }), BLACK).box).toMatchObject({ top, bottom })
  })
  test("stands where the page says", () => {
    expect(drawRest(rest({ level: "brevis", loc: 0 }), BLACK).box).toMatchObject({ top: -1, bottom: 0 })
    expect(drawRest(rest({ level: "semibrevis", loc: 6 }), BLACK).box).toMatchObject({ top: -3, bottom: -2.5 })
  })
})

describe("the other signs", () => {
  test.each([
    ["c", 4, { shape: "C", line: 3 }, 4],
    ["f", 3, { shape: "F", line: 4 }, 6],
    ["g", 4, { shape: "G", line: 2 }, 2],
    ["g", 3, { shape: "GG", line: 2 }, 2],
    ["a", 3, { shape: "C", line: 4 }, 4],
    ["c", 4, { shape: "C", line: 1, octaveShift: -1 }, 7],
  ] as const)("%s%i under %o stands at position %i", (step, octave, clef, position) => {
    expect(positionOf({ step, octave }, clef)).toBe(position)
  })
  test("a dot stands in the space, a note's on a line in the space above", () => {
    const middle = (before: number) => {
      const { top, bottom } = drawSign({ kind: "dot", id: signId("d") }, { ...PLACE, before }, BLACK).box
      return (top + bottom) / 2
    }
    expect(middle(4)).toBeCloseTo(-2.5, 9)
    expect(middle(5)).toBeCloseTo(-2.5, 9)
  })
  test("a turned half circle is open below or above", () => {
    const box = (written: string) => drawSign(signOf(written), PLACE, BLACK).box
    const plain = box("B c4 C")
    expect(plain.right - plain.left).toBeLessThan(plain.bottom - plain.top)
    for (const turned of [box("B c4 C:90CW"), box("B c4 C:90CCW")])
      expect(turned.right - turned.left).toBeGreaterThan(turned.bottom - turned.top)
    expect(JSON.stringify(drawSign(signOf("B c4 C:reversed"), PLACE, BLACK).item)).not.toBe(
      JSON.stringify(drawSign(signOf("B c4 C"), PLACE, BLACK).item),
    )
  })
  test("finis punctorum goes through the whole staff, divisio modi stays low, divisio syllabarum high", () => {
    const box = (written: string) => drawSign(signOf(`B c4 ${written}`), PLACE, BLACK).box
    expect(box("finis").top).toBeLessThanOrEqual(-4)
    expect(box("finis").bottom).toBeGreaterThanOrEqual(0)
    expect(box("'").top).toBeGreaterThan(-1)
    expect(box("syllabarum").bottom).toBeLessThan(-3)
  })
})

test("the sheet shows something for every specimen", () => {
  const scene = signSheet()
  const text = JSON.stringify(scene)
  for (const { specimens } of SPECIMENS) for (const { name } of specimens) expect(text).toContain(JSON.stringify(name))
  expect(
    text.match(
      /"part":"(head|rest|dot|stroke|finis|bar|mensuration|figure|divisio|clef|accidental|custos|signum|repeat|rubric|fermata)"/g,
    )!.length,
  ).toBeGreaterThan(150)
})
