/** Every kind in every size and theme: nothing outside, no letters over letters or notes, letters large enough, words for all. */
import { DOMParser } from "@xmldom/xmldom"
import { describe, expect, test } from "vitest"
import { THEMES, themeNamed, toSvg, type Role, type Scene } from "../../drawing/index.js"
import { drawFigure, FIGURE_KINDS, FIGURE_SIZES, type FigureAsked } from "../index.js"
import { inkOf, marksIn, musicIn, overlap, textsIn } from "./testing/marks.js"

const ASKED: readonly FigureAsked[] = [
  ...FIGURE_KINDS.map(({ name }) => ({ kind: name })),
  { kind: "division-tree", signs: ["O:modus=3", "C.:modus=2"], practice: { name: "ars-nova" } },
  { kind: "division-tree", signs: ["mens:modusmaior=3:modus=3:tempus=3:prolatio=2"], practice: { name: "ars-nova" } },
  { kind: "division-tree", signs: ["O.:modus=3:modusmaior=3", "O2", "C|3/2", "C:reversed"] },
  { kind: "ligature-table", practice: { name: "ars-antiqua" } },
  { kind: "ligature-table", practice: { name: "white" } },
  { kind: "rests", practice: { name: "ars-antiqua" } },
  { kind: "rests", practice: { name: "ars-nova" } },
  { kind: "coloration", practice: { name: "ars-nova" } },
  { kind: "proportions", practice: { name: "ars-nova" }, signs: ["O", "C.", "C:reversed", "2/1"] },
]
const drawn = (asked: FigureAsked) => {
  const figure = drawFigure(asked)
  if (!figure.ok) throw new Error(JSON.stringify(figure.problems))
  return figure.value
}
const named = ({ kind, practice, signs }: FigureAsked) =>
  [kind, practice?.name, ...(signs ?? [])].filter(Boolean).join(" ")

describe.each(FIGURE_SIZES.map(size => [size.name, size] as const))("%s", (_, size) => {
  describe.each(ASKED.map(asked => [named(asked), asked] as const))("%s", (_name, asked) => {
    const { pictures, words } = drawn({ ...asked, size })
    const all = pictures.map(({ scene, number }) => ({ scene, number, marks: marksIn(scene) }))

    test("nothing stands outside the picture", () => {
      for (const { scene, number, marks } of all) {
        const out = marks.filter(
          ({ box }) => box.left < 0 || box.top < 0 || box.right > scene.width + 0.5 || box.bottom > scene.height + 0.5,
        )
        expect(out.map(one => `${number} ${one.mark.part} ${JSON.stringify(one.box)}`)).toEqual([])
        expect(scene.width).toBe(size.width)
        if (size.height) expect(scene.height).toBe(size.height)
      }
    })
    test("no letters over letters", () => {
      for (const { number, marks } of all) {
        const texts = textsIn(marks)
        const over = texts.flatMap((one, i) =>
          texts
            .slice(i + 1)
            .filter(other => overlap(inkOf(one), inkOf(other)) > 1)
            .map(other => `${number} “${one.mark.text}” × “${other.mark.text}”`),
        )
        expect(over).toEqual([])
      }
    })
    test("no letters over notes", () => {
      for (const { number, marks } of all) {
        const music = musicIn(marks)
        const over = textsIn(marks).flatMap(text =>
          music
            .filter(other => overlap(inkOf(text), other.box) > 1)
            .map(other => `${number} “${text.mark.text}” × ${other.mark.part} ${other.within.join(">")}`),
        )
        expect(over).toEqual([])
      }
    })
    test("letters are at least 24 units high, and lines at least 1 px", () => {
      for (const { marks } of all) {
        const small = textsIn(marks).filter(({ mark, scale }) => mark.type.size * scale < 24 * size.scale - 0.01)
        expect(small.map(one => one.mark.text)).toEqual([])
        const thin = marks.filter(({ mark, scale }) => mark.stroke && mark.stroke.width * scale < 1)
        expect(thin.map(one => one.mark.part)).toEqual([])
      }
    })
    test("red is bold or italic, and letters on a band are ink", () => {
      for (const { marks } of all) {
        const texts = textsIn(marks)
        const red = texts.filter(
          ({ mark }) => mark.fill === "red" && !mark.type.italic && (mark.type.weight ?? 400) < 600,
        )
        expect(red.map(one => one.mark.text)).toEqual([])
        const bands = marks.filter(({ mark }) => mark.fill === "clayFill")
        const pale = texts.filter(
          one => one.mark.fill !== "ink" && bands.some(({ box }) => overlap(inkOf(one), box) > 1),
        )
        expect(pale.map(one => one.mark.text)).toEqual([])
        expect(texts.every(({ mark }) => READABLE.has(mark.fill!))).toBe(true)
      }
    })
    test("every picture has its words", () => {
      for (const { scene } of all) {
        expect(scene.title.length).toBeGreaterThan(5)
        expect(scene.description.length).toBeGreaterThan(60)
        expect(scene.description).not.toMatch(/undefined|NaN|\[object|null/)
      }
      expect(words).toContain(all.at(-1)!.scene.description)
      expect(words).toMatch(/\d{4}/)
    })
  })
})

/** Roles of which the themes' tests ask a contrast of 4.5 on ground and alternate ground. */
const READABLE: ReadonlySet<Role> = new Set<Role>(["ink", "second", "red", "blue"])

describe.each(THEMES.map(one => one.name))("in the theme %s", theme => {
  test.each(FIGURE_KINDS.map(one => one.name))(
    "%s is SVG with title and description, in the theme's colours only",
    kind => {
      const { colours, painted, glazes = {} } = themeNamed(theme)!
      for (const { scene } of drawn({ kind }).pictures) {
        const svg = toSvg(scene, { theme: themeNamed(theme)! })
        const errors: string[] = []
        const document = new DOMParser({ onError: (_level, message) => void errors.push(message) }).parseFromString(
          svg,
          "image/svg+xml",
        )
        expect(errors).toEqual([])
        expect(document.documentElement!.getAttribute("role")).toBe("img")
        expect(document.getElementsByTagName("title").item(0)!.textContent).toBe(scene.title)
        expect(document.getElementsByTagName("desc").item(0)!.textContent).toBe(scene.description)
        const used = new Set([...svg.matchAll(/#[0-9A-F]{6}/g)].map(([colour]) => colour))
        const own = [...Object.values(colours), ...Object.values(glazes).map(({ colour }) => colour)]
        expect([...used].filter(colour => !own.includes(colour))).toEqual([])
        expect(svg.includes('class="ground"')).toBe(painted)
        expect([...svg.matchAll(/<text[^>]*>([^<]{3,})</g)].every(([text]) => text!.includes("textLength="))).toBe(true)
      }
    },
  )
})

test("a headline of one's own, and the caption only in the file beside it", () => {
  const { pictures, words } = drawn({ kind: "rests", title: "My own words", captioned: false })
  const texts = textsIn(marksIn(pictures[0]!.scene)).map(one => one.mark.text)
  expect(texts).toContain("My own words")
  expect(texts.some(text => text.includes("Libellus"))).toBe(false)
  expect(words).toMatch(/^My own words\n[\s\S]*Libellus cantus mensurabilis, c\. 1340/)
})
test("the same is drawn twice", () => {
  const svg = (scene: Scene) => toSvg(scene)
  expect(drawn({ kind: "dots" }).pictures.map(one => svg(one.scene))).toEqual(
    drawn({ kind: "dots" }).pictures.map(one => svg(one.scene)),
  )
})
test.each([
  [{ kind: "old-above-new" }, "unknown-figure"],
  [{ kind: "division-tree", signs: ["B"] }, "no-such-sign"],
  [{ kind: "division-tree", signs: ["O", "nonsense"] }, "no-such-sign"],
  [{ kind: "proportions", signs: ["0/3"] }, "no-such-sign"],
  [{ kind: "coloration", practice: { name: "ars-antiqua" } }, "no-such-figure"],
  [{ kind: "rests", practice: { name: "none" } }, "unknown-practice"],
  [{ kind: "rests", practice: { name: "white", options: { colour: "blue" } } }, "unknown-option"],
] as const)("%j: %s", (asked, code) => {
  const figure = drawFigure(asked)
  expect(figure.ok).toBe(false)
  expect(figure.problems.map(one => one.code)).toEqual([code])
  expect(figure.problems[0]!.mend.length).toBeGreaterThan(10)
})
