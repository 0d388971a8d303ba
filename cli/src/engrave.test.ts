import { XmlDocument } from "libxml2-wasm"
import { describe, expect, test } from "vitest"
import { engrave, engraveWithWarnings, joinPages } from "./engrave.js"

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
    const svg = await engrave(long, { pageHeight: 1500 })
    const ids = idsOf(svg)
    expect(svg.match(/<svg y="/g)!.length).toBeGreaterThan(1)
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

describe("joinPages", () => {
  const page = (width: number, height: number) =>
    `<svg viewBox="0 0 ${width} ${height}" id="x"><use href="#E1-x"/><g id="E1-x"/></svg>`
  test("leaves one page as it is", () => {
    expect(joinPages([page(10, 20)])).toBe(page(10, 20))
  })
  test("puts one under another", () => {
    const joined = joinPages([page(10, 20), page(12, 5)])
    expect(joined).toContain('viewBox="0 0 12 25"')
    expect(joined).toContain('<svg y="20" width="12" height="5" viewBox="0 0 12 5" id="x-2"><use href="#E1-x-2"/>')
  })
})
