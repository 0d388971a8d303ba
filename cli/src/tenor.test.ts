import { fileURLToPath } from "node:url"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const demo = (name: string) => fileURLToPath(new URL(`../../demo/${name}.figurae`, import.meta.url))
/** The third talea has a long for its second note. */
const SLIP = `title: Of our own making

voice tenor black practice=ars-nova
clef:C4 mens:modusmaior=2:modus=2:tempus=2:prolatio=2
L d3 B f B e rB L g B a S g f rL2 L e B d B c rB L d B e S f g rL2
L d3 L f B e rB L g B a S g f rL2 L e B d B c rB L d B e S f g rL2
`
const { at } = folderWith({ "slip.figurae": SLIP })
const slip = () => at("slip.figurae")

async function tenor(args: readonly string[], columns?: number) {
  const answer = await resolutio(["tenor", ...args], columns)
  return { ...answer, lines: answer.out.split("\n") }
}

describe("tenor", () => {
  test("a canon that has it sung again is told, though it is written once", async () => {
    const { out } = await tenor([demo("8-tenor-bis")])
    expect(out).toContain("Sung as written, then in values of half the length (the canon on the page)")
  })
  test("tells the plan and sets statement under statement", async () => {
    const { lines, out, status } = await tenor([demo("1-ordo-tenor")])
    expect(status).toBe(0)
    expect(out).toContain("tenor: Two colores, each of three taleae")
    const from = lines.findIndex(line => line.startsWith("Talea: 6 notes and rests, 6 statements"))
    expect(lines.slice(from + 2, from + 6)).toEqual([
      "1   1  L   B   L   B   L   rB",
      "       2   1   2   1   2   1",
      "2   7  L   B   L   B   L   rB",
      "       2   1   2   1   2   1",
    ])
  })
  test("marks where one differs, and says it in words", async () => {
    const { lines } = await tenor([slip()])
    expect(lines).toContain("3  19  L   L*  B   rB  L   B   S   S   rL")
    expect(lines).toContain("* tenor 20 (talea 3, place 2): longa, where the others have brevis")
  })
  test.each([40, 60, 80])("no line is wider than a terminal of %i", async width => {
    for (const file of [slip(), demo("1-ordo-tenor"), demo("2-hocket")]) {
      const { lines } = await tenor([file], width)
      expect(Math.max(...lines.map(line => line.length))).toBeLessThanOrEqual(width)
    }
  })
  test("a voice without a plan is said to have none", async () => {
    const { out, status } = await tenor([demo("5-changing-signs"), "--voice", "cantus"])
    expect(status).toBe(0)
    expect(out).toContain("cantus: No plan of repetition shows in this voice.")
  })
  test("as JSON, by the contract", async () => {
    const { out } = await tenor([slip(), "--format", "json"])
    const object = JSON.parse(out)
    expect(object).toMatchObject({ format: "resolutio-tenor", version: 1, title: "Of our own making" })
    const [voice] = object.voices
    expect(voice).toMatchObject({ label: "tenor", n: "1", unit: "minima", plan: "Two colores, each of two taleae." })
    const [talea] = voice.taleae
    expect(talea.statements).toHaveLength(4)
    expect(talea.places[1]).toMatchObject({ kind: "note", level: "brevis" })
    expect(talea.differences).toMatchObject([
      { statement: 3, at: 2, place: "tenor 20", kind: "level", own: "longa", others: "brevis", odd: true },
    ])
    expect(talea.statements[2].signs[1]).toBe(talea.differences[0].sign)
    expect(talea.doubt).toBeLessThan(0.05)
  })
  test("what cannot be read is said, also as JSON", async () => {
    const missing = await tenor([at("none.mei"), "--format", "json"])
    expect(missing.status).toBe(2)
    expect(JSON.parse(missing.out)).toMatchObject({ format: "resolutio-tenor", version: 1 })
    const { status, err } = await tenor([slip(), "--voice", "bassus"])
    expect(status).toBe(2)
    expect(err).toContain("There is no voice “bassus”")
  })
})
