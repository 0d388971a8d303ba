/**
 * Our outlines against published metrics: the SMuFL metadata (bravura_metadata, version 1.392) that come with the music font from
 * which the modern signs are taken. Units are staff spaces, as SMuFL 1.4 has them ("Metadata for SMuFL fonts"); y grows upwards
 * there and downwards here. The names of glyphs are held against SMuFL's own list where that is to be found.
 */
import { existsSync, readFileSync } from "node:fs"
import { createRequire } from "node:module"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { describe, expect, test } from "vitest"
import { LEVELS, parseShorthand } from "../page/index.js"
import { noteForm, STEM_WIDTH } from "../teaching/figures/modern/forms.js"
import { glyph, type GlyphName } from "../teaching/figures/modern/glyphs.js"
import { GLYPHS } from "../teaching/figures/modern/glyphs.generated.js"
import type { Box, Mark } from "./scene/scene.js"
import { around, drawSign, glyphLook } from "./signs/index.js"
import { extentOf } from "./testing/extent.js"
import { modernForm } from "./time/modern.js"

type Point = readonly [x: number, y: number]
interface Metadata {
  readonly fontVersion: number
  readonly engravingDefaults: Readonly<Record<string, number>>
  readonly glyphAdvanceWidths: Readonly<Record<string, number>>
  readonly glyphBBoxes: Readonly<Record<string, { readonly bBoxNE: Point; readonly bBoxSW: Point }>>
  readonly glyphsWithAnchors: Readonly<Record<string, Readonly<Record<string, Point>>>>
}
const require = createRequire(import.meta.url)
const metadata = JSON.parse(readFileSync(require.resolve("@vexflow-fonts/bravura/metadata.json"), "utf8")) as Metadata

/** The published box of a glyph, y downwards. */
function boxOf(name: string): Box {
  const { bBoxNE, bBoxSW } = metadata.glyphBBoxes[name]!
  return { left: bBoxSW[0], right: bBoxNE[0], top: 0 - bBoxNE[1], bottom: 0 - bBoxSW[1] }
}
const anchor = (name: string, at: string): Point => metadata.glyphsWithAnchors[name]![at]!
const NAMES = Object.keys(GLYPHS) as GlyphName[]
const SIDES = ["left", "right", "top", "bottom"] as const

test("the metrics are those of the version that is named", () => {
  expect(metadata.fontVersion).toBe(1.392)
  expect(NAMES.length).toBeGreaterThan(30)
})

describe("modern signs", () => {
  test.each(NAMES)("%s fills the box that is published, to a hundredth of a space", name => {
    const [own, published] = [extentOf(glyph(name).path), boxOf(name)]
    for (const side of SIDES) expect([side, Math.abs(own[side] - published[side]) < 0.01]).toEqual([side, true])
  })
  test.each(NAMES)("%s is as wide as its published advance width", name => {
    expect(glyph(name).width).toBeCloseTo(metadata.glyphAdvanceWidths[name]!, 2)
  })
  test.each(["up", "down"] as const)("a stem %s is put to the anchor of its head", direction => {
    const { marks } = noteForm({ dur: "4", dots: 0 }, { position: 4, direction })
    const stem = marks.find(mark => mark.part === "modern-stem")
    if (stem?.shape !== "rect") throw new Error("the note has no stem")
    const [x, y] = anchor("noteheadBlack", direction === "up" ? "stemUpSE" : "stemDownNW")
    const [side, foot] = direction === "up" ? [stem.x + stem.width, stem.y + stem.height] : [stem.x, stem.y]
    expect(side).toBeCloseTo(x, 3)
    // the middle line is two spaces above the bottom line
    expect(-2 - foot).toBeCloseTo(y, 2)
  })
  test.each([
    ["up", "flag8thUp", "stemUpNW"],
    ["down", "flag8thDown", "stemDownSW"],
  ] as const)("a flag on a stem %s begins at the tip, as its anchor says", (direction, name, at) => {
    const { marks } = noteForm({ dur: "8", dots: 0 }, { position: 4, direction })
    const stem = marks.find(mark => mark.part === "modern-stem")
    const flag = marks.find(mark => mark.part === "modern-flag")
    if (stem?.shape !== "rect" || flag?.shape !== "path") throw new Error("the note has no flag")
    const tip = direction === "up" ? stem.y : stem.y + stem.height
    const [, y] = anchor(name, at)
    expect(Math.abs(extentOf(flag.path).left - stem.x)).toBeLessThan(0.01)
    expect(Math.abs(tip - (direction === "up" ? extentOf(flag.path).top : extentOf(flag.path).bottom))).toBeLessThan(
      Math.abs(y) + 0.01,
    )
  })
  test("stems are as thick as the font asks, to a hundredth", () => {
    expect(Math.abs(STEM_WIDTH - metadata.engravingDefaults["stemThickness"]!)).toBeLessThan(0.0101)
  })
})

describe("the small values under the bands, in our own outlines", () => {
  const near = (own: number, published: number, by: number) =>
    expect([own, published, Math.abs(own - published) <= by]).toEqual([own, published, true])
  test.each([
    ["4", "noteheadBlack"],
    ["2", "noteheadHalf"],
    ["1", "noteheadWhole"],
  ] as const)("the head of %s is as large as %s, to a sixteenth of a space", (dur, name) => {
    const { path } = modernForm({ dur, dots: 0 }, false)
    // the head is the first outline; a stem follows
    const end = path.findIndex(step => step[0] === "Z")
    const [own, published] = [extentOf(path.slice(0, end + 1)), boxOf(name)]
    near(own.right - own.left, published.right - published.left, 1 / 16)
    near(own.bottom - own.top, published.bottom - published.top, 1 / 16)
  })
  test("a stem stands at the head's anchor", () => {
    const { path } = modernForm({ dur: "4", dots: 0 }, false)
    const end = path.findIndex(step => step[0] === "Z")
    const stem = extentOf(path.slice(end + 1))
    const [x, y] = anchor("noteheadBlack", "stemUpSE")
    near(stem.right, x, 0.001)
    near(-stem.bottom, y, 0.02)
  })
})

/** Box of what is drawn of a sign of the shorthand, on the staff of five lines; y is 0 on the line c stands on. */
function drawnBox(written: string, white: boolean): Box {
  const page = parseShorthand(written, "geometry")
  if (!page.ok) throw new Error(page.problems[0]?.what)
  const [sign] = page.value.voices[0]!.signs
  const { item } = drawSign(sign!, { clef: { shape: "C", line: 1 } }, { white, lines: 5 })
  const marks = item.shape === "group" ? (item.content as readonly Mark[]) : []
  return marks.flatMap(mark => (mark.shape === "path" ? [extentOf(mark.path)] : [])).reduce(around)
}

/**
 * The old signs are our own and not the font's. They have to be of the same kind: their left edge and their height on the staff
 * as SMuFL has them, and every measure within a fifth of what the font's black and white forms are.
 */
describe("old notes are of the size that the published forms have", () => {
  const PAIRS: readonly (readonly [string, string, string])[] = [
    ["B c4", "mensuralBlackBrevis", "mensuralWhiteBrevis"],
    ["L c4", "mensuralBlackLonga", "mensuralWhiteLonga"],
    ["S c4", "mensuralBlackSemibrevis", "mensuralWhiteSemibrevis"],
    ["M c4", "mensuralBlackMinima", "mensuralWhiteMinima"],
    ["Mx c4", "mensuralBlackMaxima", "mensuralWhiteMaxima"],
  ]
  test.each(PAIRS)("%s lies between %s and %s", (written, black, white) => {
    const forms = [boxOf(black), boxOf(white)]
    for (const own of [drawnBox(written, false), drawnBox(written, true)]) {
      expect(Math.abs(own.left)).toBeLessThan(0.05)
      for (const side of ["right", "top", "bottom"] as const) {
        const published = forms.map(form => Math.abs(form[side]))
        const [least, most] = [Math.min(...published) / 1.2, Math.max(...published) * 1.2]
        const [size] = [Math.abs(own[side])]
        expect([side, size >= least && size <= most, size, least, most]).toEqual([side, true, size, least, most])
      }
    }
  })
})

describe("rests are as long as the published ones, exactly", () => {
  test.each([
    ["rB", "mensuralRestBrevis"],
    ["rS", "mensuralRestSemibrevis"],
    ["rM", "mensuralRestMinima"],
    ["rL", "mensuralRestLongaImperfecta"],
  ])("%s as %s", (written, name) => {
    const [own, published] = [drawnBox(written, false), boxOf(name)]
    expect(own.bottom - own.top).toBeCloseTo(published.bottom - published.top, 6)
  })
  test("a semibreve's hangs from its line, a minim's stands on it", () => {
    expect(boxOf("mensuralRestSemibrevis").bottom).toBeCloseTo(-0.5, 6)
    const line = drawnBox("rS:loc=4", false)
    expect([line.top, line.bottom]).toEqual([-2, -1.5])
    const minim = drawnBox("rM:loc=4", false)
    expect([minim.top, minim.bottom]).toEqual([-2.5, -2])
  })
})

test("a circle of tempus perfectum is as wide as the published one, to a tenth", () => {
  const [own, published] = [drawnBox("O", false), boxOf("mensuralProlation2")]
  const ratio = (own.right - own.left) / (published.right - published.left)
  expect(ratio).toBeGreaterThan(0.9)
  expect(ratio).toBeLessThan(1.1)
})

describe("names of glyphs, against SMuFL 1.4", () => {
  const standards =
    process.env["RESOLUTIO_STANDARDS"] ?? fileURLToPath(new URL("../../../../shared/standards", import.meta.url))
  const file = (name: string) => join(standards, "smufl", name)
  const there = existsSync(file("glyphnames.json"))
  if (!there)
    console.warn(`SKIPPED: ${file("glyphnames.json")} is not there; set RESOLUTIO_STANDARDS to run these tests.`)
  const read = <T>(name: string): Readonly<Record<string, T>> => JSON.parse(readFileSync(file(name), "utf8"))

  test.skipIf(!there)("modern signs are taken from the code points that their names have", () => {
    const names = read<{ codepoint: string }>("glyphnames.json")
    const script = readFileSync(new URL("../teaching/figures/modern/generate-glyphs.mjs", import.meta.url), "utf8")
    const taken = [...script.matchAll(/^ {2}(\w+): 0x([0-9a-f]{4}),$/gm)]
    expect(taken.length).toBeGreaterThan(20)
    for (const [, name, point] of taken)
      expect([name, names[name!]?.codepoint]).toEqual([name, `U+${point!.toUpperCase()}`])
  })
  test.skipIf(!there)(
    "every note of the mensural range is known by its name: its level, and whether its head is open",
    () => {
      const { glyphs } = read<{ glyphs: readonly string[] }>("ranges.json")["medievalAndRenaissanceIndividualNotes"]!
      expect(glyphs.length).toBe(19)
      for (const name of glyphs) {
        const { level, coloration } = glyphLook(name)
        expect([name, LEVELS.includes(level!), coloration === "void"]).toEqual([name, true, /Void|White/.test(name)])
      }
    },
  )
})
