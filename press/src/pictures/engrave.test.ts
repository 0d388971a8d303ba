import { XmlDocument } from "libxml2-wasm"
import { describe, expect, test } from "vitest"
import { engrave, engraveWithWarnings, openEngraver } from "./engrave.js"

const score = (measures: string, title = "A line made for a test") => `<?xml version="1.0" encoding="UTF-8"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">
  <meiHead><fileDesc><titleStmt><title>${title}</title></titleStmt><pubStmt><unpub/></pubStmt></fileDesc></meiHead>
  <music><body><mdiv><score>
    <scoreDef><staffGrp><staffDef n="1" lines="5"><label>Tenor</label><clef shape="F" line="4"/><meterSig count="3" unit="4"/></staffDef></staffGrp></scoreDef>
    <section>${measures}</section>
  </score></mdiv></body></music>
</mei>`
const measure = (n: number) =>
  `<measure n="${n}"><staff n="1"><layer n="1"><note xml:id="a${n}" dur="2" dots="1" pname="d" oct="3"/></layer></staff></measure>`

/** Every id, after the document has been parsed as XML. */
function idsOf(svg: string): string[] {
  const document = XmlDocument.fromString(svg)
  try {
    return [...svg.matchAll(/ id="([^"]+)"/g)].map(found => found[1]!)
  } finally {
    document.dispose()
  }
}

describe("engrave", () => {
  test("makes one SVG document that holds every note by its id", async () => {
    const { svg, warnings } = await engraveWithWarnings(score([1, 2, 3].map(measure).join("")))
    expect(warnings).toEqual([])
    expect(svg).toMatch(/^<svg [^>]*viewBox="0 0 \d+ \d+"/)
    expect(idsOf(svg)).toEqual(expect.arrayContaining(["a1", "a2", "a3"]))
    expect(svg).not.toContain("currentColor")
  })
  test("makes the same drawing twice", async () => {
    expect(await engrave(score(measure(1)))).toBe(await engrave(score(measure(1))))
  })
  test("draws a title of markup as text", async () => {
    const svg = await engrave(score(measure(1), "&lt;script&gt;alert(1)&lt;/script&gt;"))
    expect(svg).not.toMatch(/<script/i)
    expect(svg).toContain("&lt;script&gt;")
  })
  test("joins the pages of a very long score, each with ids of its own", async () => {
    const count = 240
    const long = score(Array.from({ length: count }, (_, i) => measure(i + 1)).join(""))
    const svg = await engrave(long, { sheetHeight: 1500 })
    const ids = idsOf(svg)
    const tops = systemTops(svg)
    expect(tops.length).toBeGreaterThan(8)
    expect(tops).toEqual([...tops].sort((a, b) => a - b))
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([])
    expect(ids).toEqual(expect.arrayContaining(["a1", `a${count}`]))
  })
  test("takes a wider page where one bar is too long for the system", async () => {
    const notes = Array.from({ length: 90 }, (_, i) => `<note xml:id="b${i}" dur="32" pname="d" oct="3"/>`).join("")
    const bar = `<measure n="1"><staff n="1"><layer n="1">${notes}</layer></staff></measure>`
    const { svg, warnings } = await engraveWithWarnings(score(bar))
    expect(warnings).toEqual([])
    expect(svg).toMatch(/viewBox="0 0 1680 /)
  })
  test("says what cannot be drawn", async () => {
    await expect(engrave("<nonsense/>")).rejects.toThrow(/engraver/)
    await expect(engrave("not XML at all")).rejects.toThrow(/engraver/)
  })
})

/** Where each system was put, in the engraver's units: its own place and that of its staff's first line. */
function systemTops(svg: string): number[] {
  return svg
    .split(/(?=<g transform="translate\(0, )/)
    .slice(1)
    .map(part => {
      const [, shift] = /translate\(0, ([-\d.]+)\)/.exec(part)!
      const [, line] = /class="staff">\s*<path d="M\d+ (\d+) /.exec(part)!
      return Number(shift) + Number(line)
    })
}

/** Size of syllables in the engraver's units. */
const SYLLABLE = 405

describe("what the engraver is asked for", () => {
  test("its letters are as wide as ours: a long syllable pushes the next as far as it is long", async () => {
    const sung = (text: string) =>
      score(
        `<measure n="1"><staff n="1"><layer n="1"><note xml:id="a" dur="2" pname="d" oct="3"><verse n="1"><syl>${text}</syl></verse></note><note xml:id="b" dur="4" pname="d" oct="3"><verse n="1"><syl>x</syl></verse></note></layer></staff></measure>`,
      )
    const second = async (text: string) => {
      const svg = await engrave(sung(text))
      return Number(/id="b"[\s\S]*?<text x="(\d+)"/.exec(svg)![1])
    }
    // Alegreya's n is 548 thousandths of its size wide (its table of advance widths), by the size of syllables
    const [ten, twenty] = [await second("n".repeat(10)), await second("n".repeat(20))]
    expect(Math.abs((twenty - ten) / 10 - 0.548 * SYLLABLE)).toBeLessThan(1)
  })
  test("words under short notes stand apart by twice the blank of a text", async () => {
    const notes = Array.from(
      { length: 6 },
      (_, i) => `<note xml:id="c${i}" dur="16" pname="d" oct="3"><verse n="1"><syl con="s">nnnn</syl></verse></note>`,
    )
    const svg = await engrave(
      score(`<measure n="1"><staff n="1"><layer n="1">${notes.join("")}</layer></staff></measure>`),
    )
    const begins = [...svg.matchAll(/<g [^>]*class="syl"[^>]*>\s*<text x="(\d+)"/g)].map(([, x]) => Number(x))
    expect(begins).toHaveLength(6)
    const between = begins.slice(1).map((x, i) => x - begins[i]! - 4 * 0.548 * SYLLABLE)
    // a blank within a line of text is a quarter of the type's size; under notes it has to part what is read piece by piece
    expect(Math.min(...between)).toBeGreaterThan(2 * (SYLLABLE / 4))
  })
  test("no style sheet, and every line has its colour, so that all readers of SVG see the same", async () => {
    const svg = await engrave(score(measure(1)))
    expect(svg).not.toContain("<style")
    expect(svg.match(/<(path|polyline)[^>]*stroke-width/g)!.length).toBeGreaterThan(5)
    expect(svg).not.toMatch(/<(path|polyline)(?![^>]* stroke=)[^>]*stroke-width/)
    expect(svg).toContain('font-family="Alegreya, ')
  })
  test("an engraver that stays open draws several scores", async () => {
    const engraver = await openEngraver()
    try {
      expect(engraver.engrave(score(measure(1))).score.systems).toHaveLength(1)
      expect(engraver.engrave(score(measure(1) + measure(2))).score.systems[0]!.staves).toHaveLength(1)
    } finally {
      engraver.close()
    }
  })
})
