import {
  alignVoices,
  modernMei,
  parseShorthand,
  prefatoryStaves,
  readTogether,
  spread,
  type EngravedSystem,
  type SvgNode,
} from "@resolutio/core"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import { openEngraver, type Engraver } from "../pictures/engrave.js"
import { engraveToFit } from "./score-pages.js"

/** Invented: ties, a ligature, coloration, fermatas, syllables that go on over the end of a system. */
const PIECE = `title: Three voices
voice cantus white practice=white
clef:C1 O B g4:red f:red e:red S g a B g S a g B g f S g a B g S a g B g f S a g B g:fermata
> A- * * ve ma- * ris * stel- * * * la_ * * * * * men
voice altus white practice=white
clef:C3 O S e4 B d S c B d [c4 e] B d S c B d S c B d S c B d S c B d S c B d c:fermata
voice tenor white practice=white
clef:C4 O B c4 d e c d e c d e B c d e c:fermata
`
let engraver: Engraver
beforeAll(async () => {
  engraver = await openEngraver()
}, 60_000)
afterAll(() => engraver.close())

function piece() {
  const page = parseShorthand(PIECE, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  const { readings } = readTogether(page.value)
  return { page: page.value, score: alignVoices(page.value, readings) }
}
function systems(): readonly EngravedSystem[] {
  const { page, score } = piece()
  const options = { width: 1300, margin: 0, title: false, prefatory: prefatoryStaves(page, score) }
  return engraver.engrave(modernMei(score), options).score.systems
}

interface Mark {
  readonly path: string
  readonly name: string
  readonly y: number
}
/** Every mark with the classes around it, and the height of the first point that it has, all moves reckoned in. */
function marksIn(node: SvgNode, path = "", down = 0): Mark[] {
  const attribute = (name: string) => String(node.attributes[name] ?? "")
  const numbers = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)
  const moved = node.name === "use" ? 0 : (numbers(attribute("transform"))[1] ?? 0)
  const named = attribute("class").split(" ")[0]
  const own = named ? `${path}/${named}` : path
  const first = {
    path: attribute("d"),
    use: attribute("transform"),
    polygon: attribute("points"),
    polyline: attribute("points"),
  }[node.name]
  const y =
    first === undefined ? Number(node.attributes["y"] ?? node.attributes["cy"] ?? NaN) : (numbers(first)[1] ?? NaN)
  const mark = Number.isFinite(y) && node.name !== "tspan" ? [{ path: own, name: node.name, y: y + down + moved }] : []
  return [
    ...mark,
    ...node.children.flatMap(child => (typeof child === "string" ? [] : marksIn(child, own, down + moved))),
  ]
}

describe("staves spread to fill a page", () => {
  test("each mark of a staff goes down with it by a whole number of steps; nothing else changes", () => {
    for (const system of systems()) {
      const [before, after] = [marksIn(system.content), marksIn(spread(system, 1000).content)]
      expect(after.map(({ path, name }) => path + name)).toEqual(before.map(({ path, name }) => path + name))
      const steps = after.map((mark, i) => (mark.y - before[i]!.y) / 1000)
      expect(steps.every(step => [0, 1, 2].includes(Math.round(step * 1e6) / 1e6))).toBe(true)
    }
  })
  test("heads, stems, rests and syllables go with the staff that they stand in", () => {
    for (const system of systems()) {
      const after = marksIn(spread(system, 1000).content)
      marksIn(system.content).forEach((mark, i) => {
        if (!mark.path.includes("/notehead") && !mark.path.includes("/stem")) return
        const staff = system.staves.findLastIndex(({ top }) => mark.y > top - 450)
        expect(after[i]!.y - mark.y).toBeCloseTo(staff * 1000, 3)
      })
    }
  })
  test("the line before a system and its bracket reach from the first staff to the last", () => {
    const [first] = systems()
    const wide = spread(first!, 1000)
    const line = wide.content.children
      .flatMap(child => (typeof child === "string" ? [] : [child]))
      .find(node => marksIn(node)[0]?.path === "")
    const [, top, , bottom] = (
      String((line!.children[0] as SvgNode).attributes["d"]).match(/-?\d+(\.\d+)?/g) ?? []
    ).map(Number)
    expect(top).toBe(wide.staves[0]!.top)
    expect(bottom).toBe(wide.staves[2]!.top + 4 * 180)
    expect(wide.extent.bottom - first!.extent.bottom).toBe(2000)
  })
  test("nothing to spread is left as it is", () => {
    const [first] = systems()
    expect(spread(first!, 0)).toBe(first)
    expect(spread({ ...first!, staves: [] }, 100)).toEqual({ ...first!, staves: [] })
  })
})

describe("a score on pages", () => {
  test("few bars are not left over for a last system, where a slightly smaller size helps", () => {
    const { page, score } = piece()
    const counts = [3.4, 3.5, 3.6, 3.7, 3.8, 3.9, 4, 4.1, 4.2].map(space => {
      const { score: engraved } = engraveToFit(
        engraver,
        { page, score, conventions: {}, prefatory: "full", space },
        300,
        700,
      )
      const { systems, width } = engraved
      return { systems: systems.length, last: systems.at(-1)!.extent.right / width }
    })
    for (const { systems, last } of counts) expect(systems < 4 || last > 0.3).toBe(true)
  })
  test("is engraved at the size asked for, or smaller where a system would be higher than the page", () => {
    const { page, score } = piece()
    const print = { page, score, conventions: {}, prefatory: "full", space: 4 } as const
    const usual = engraveToFit(engraver, print, 480, 700)
    expect(usual.scale * 180).toBeLessThanOrEqual(4.01)
    expect(usual.scale * 180).toBeGreaterThan(4 / 1.12)
    const low = engraveToFit(engraver, print, 480, 60)
    for (const { extent } of low.score.systems)
      expect((extent.bottom - extent.top) * low.scale).toBeLessThanOrEqual(60.001)
  })
})
