/**
 * Worked examples made into figures: lines that the rules were tried on are tried on the drawing too. Every sixth is, in turn for
 * each kind; with FIGURES=all in the environment all of them are.
 */
import { readdirSync, readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { parseCases } from "../../../../cases/load.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { readPage } from "../../reading/index.js"
import { DEMOS, demoPiece } from "../../score/testing/demos.js"
import { drawFigure, figureSize } from "../index.js"
import { inkOf, marksIn, musicIn, overlap, textsIn, type PlacedMark } from "./testing/marks.js"

const folder = new URL("../../../../cases/", import.meta.url)
const cases = readdirSync(folder)
  .filter(name => name.endsWith(".txt"))
  .flatMap(name => parseCases(readFileSync(new URL(name, folder), "utf8"), name))

const EACH = process.env["FIGURES"] === "all" ? 1 : 6

function figureOf(index: number, kind: string, size: string) {
  const { shorthand, practices, options } = cases[index]!
  const page = parseShorthand(shorthand)
  if (!page.ok) throw new Error(shorthand)
  const readings = readPage(page.value, { practice: { name: practices[0]!, options } })
  return drawFigure({ kind, piece: { page: page.value, readings }, size: figureSize(size)! })
}

/** Letters over letters or notes, and what stands outside. */
function faults(marks: readonly PlacedMark[], width: number, height: number): string[] {
  const texts = textsIn(marks)
  const music = musicIn(marks)
  const outside = marks.filter(
    ({ box }) => box.left < 0 || box.top < 0 || box.right > width + 0.5 || box.bottom > height + 0.5,
  )
  return [
    ...outside.map(one => `${one.mark.part} outside`),
    ...texts.flatMap((one, i) => [
      ...texts
        .slice(i + 1)
        .filter(other => overlap(inkOf(one), inkOf(other)) > 1)
        .map(other => `“${one.mark.text}” × “${other.mark.text}”`),
      ...music
        .filter(other => overlap(inkOf(one), other.box) > 1)
        .map(other => `“${one.mark.text}” × ${other.mark.part}`),
    ]),
  ]
}

test("there are hundreds of them", () => {
  expect(cases.length).toBeGreaterThan(200)
})
test.each([
  ["old-over-new", "1280x720", 0],
  ["old-over-new", "square", 1],
  ["step-series", "1920x1080", 2],
])("%s in %s: a figure or a reason, and nothing over anything else", (kind, size, first) => {
  const found: string[] = []
  let [drawn, tried] = [0, 0]
  cases.forEach(({ file, line }, i) => {
    if (i % EACH !== first % EACH) return
    tried++
    const figure = figureOf(i, kind, size)
    if (!figure.ok) {
      found.push(...figure.problems.filter(one => !/nothing-to-show|too-large/.test(one.code)).map(one => one.what))
      return
    }
    drawn++
    for (const { scene } of figure.value.pictures)
      found.push(...faults(marksIn(scene), scene.width, scene.height).map(one => `${file}:${line} ${one}`))
  })
  expect(found).toEqual([])
  expect(drawn / tried).toBeGreaterThan(0.95)
})

/** Voices with their words, canons and rubrics. */
const SOME: readonly (readonly [string, string])[] = [
  ...DEMOS.map((name, i) => [name, i % 2 === 0 ? "half-column" : "1280x720"] as const),
  ["9-ballade.figurae", "1920x1080"],
  ["9-ballade.figurae", "square"],
  ["5-changing-signs.figurae", "square"],
]
test.each(SOME)("demo %s in %s", (name, size) => {
  const { page, readings } = demoPiece(name)
  const figure = drawFigure({ kind: "old-over-new", piece: { page, readings }, size: figureSize(size)! })
  if (!figure.ok) throw new Error(figure.problems[0]!.what)
  for (const { scene } of figure.value.pictures) expect(faults(marksIn(scene), scene.width, scene.height)).toEqual([])
})
