import { describe, expect, test } from "vitest"
import { lawfulPiece } from "../../together/testing/lawful-piece.js"
import { markBox } from "../signs/index.js"
import { layTime } from "./index.js"
import { inputOf, marksOf, pageOf, parts, timeOf } from "./testing/drawn.js"
import { findSign } from "../../page/index.js"

/** Breves all along; in one place semiminims, which need many times the room. */
const crowded = pageOf(`voice cantus black practice=ars-nova
clef:C1 C
${"B c5 d e f ".repeat(20)}
${"Sm c5 d e f g f e d ".repeat(2)}
${"B c5 d e f ".repeat(20)} L c
`)

describe("scales of time", () => {
  test("one for all systems but those few that need more", () => {
    const { systems } = layTime(inputOf(crowded))
    const scales = systems.map(({ axis }) => axis.scale)
    const usual = Math.min(...scales)
    const wider = systems.filter(({ axis }) => axis.scale > usual * 1.02)
    expect(wider.length).toBeGreaterThan(0)
    expect(wider.length).toBeLessThanOrEqual(systems.length * 0.2)
    expect(scales.filter(scale => Math.abs(scale - usual) < 1e-6)).toHaveLength(systems.length - wider.length)
    // the semiminims stand in one that is wider
    expect(wider.some(({ axis }) => axis.from <= 324 && axis.to > 324)).toBe(true)
  })

  test("where it changes from one system to the next that is said, and nowhere else", () => {
    const { systems } = layTime(inputOf(crowded))
    systems.forEach(({ axis, group }, i) => {
      const times = (axis.scale / systems[Math.max(0, i - 1)]!.axis.scale).toPrecision(2)
      const said = marksIn(group, "scale")
      expect(said).toEqual(times === "1.0" ? [] : [expect.stringContaining(`${times} ×`)])
    })
  })

  test("in a narrow picture it is said beside the unit, within the picture", () => {
    const { systems, width } = layTime(inputOf(crowded), { width: 390 })
    const units = systems.flatMap(({ group }) => marksIn(group, "unit"))
    expect(units.filter(text => text.includes("×")).length).toBeGreaterThan(0)
    for (const { group } of systems)
      for (const { item, x } of marksOf({ width, height: 0, unit: 1, title: "", description: "", content: [group] }))
        if (item.part === "unit")
          expect([x + markBox(item).left >= 0, x + markBox(item).right <= 390]).toEqual([true, true])
  })

  test.each(["ars-antiqua", "ars-nova", "white"] as const)("no sign has less room than it needs: %s", practice => {
    const { page } = lawfulPiece(4, { practice, voices: 3, notes: 60, doubtful: 0.1 })
    const { systems, plan } = layTime(inputOf(page))
    for (const { axis } of systems)
      for (const { time, hard } of plan.voices)
        time.signs.forEach(({ at }, i) => {
          if (at >= axis.from && at < axis.to - 1e-6) expect(axis.scale).toBeGreaterThanOrEqual(hard[i]! - 1e-6)
        })
  })
})

function marksIn(group: Parameters<typeof marksOf>[0]["content"][number], part: string): string[] {
  const found = marksOf({ width: 0, height: 0, unit: 1, title: "", description: "", content: [group] })
  return found.flatMap(({ item }) => (item.shape === "text" && item.part === part ? [item.text] : []))
}

test("a pillar is cut where an accidental stands on it", () => {
  const scene = timeOf(`voice cantus black practice=ars-nova
clef:C1 O
B c5 bf4 c5 bf4 L c5
`)
  const flats = parts(scene, "accidental").flatMap(({ item, x, y, scale }) => {
    if (item.shape !== "path") return []
    const { left, right, top, bottom } = markBox(item)
    return [{ left: x + left * scale, right: x + right * scale, top: y + top * scale, bottom: y + bottom * scale }]
  })
  expect(flats).toHaveLength(2)
  const strokes = parts(scene, "pillar").flatMap(({ item, y }) =>
    item.shape === "strokes"
      ? Array.from({ length: item.points.length / 4 }, (_, i) => {
          const [x1, y1, , y2] = item.points.slice(4 * i)
          return { x: x1!, top: y + y1!, bottom: y + y2! }
        })
      : [],
  )
  for (const flat of flats) {
    const here = strokes.filter(({ x }) => x > flat.left - 2 && x < flat.right + 2)
    // one piece above it and one below
    expect(here).toHaveLength(2)
    for (const { top, bottom } of here) expect(bottom <= flat.top || top >= flat.bottom).toBe(true)
  }
})

test("in a narrow picture the place asked about stands over its reason, not on it", () => {
  const page = pageOf(`voice contratenor black practice=ars-nova
clef:C3 O
B c4 S d B e L c
`)
  const select = findSign(page, "contratenor 1")!.id
  const scene = layTime(inputOf(page), { width: 390, select }).scene
  const [rubric, headline] = ["rubric", "headline"].map(part => {
    const [found] = parts(scene, part)
    if (found?.item.shape !== "text") throw new Error(`no ${part}`)
    return { y: found.y + found.item.y, size: found.item.type.size }
  })
  expect(headline!.y - rubric!.y).toBeGreaterThan(headline!.size * 0.7)
})
