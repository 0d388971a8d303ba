import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { ratio } from "../../base/index.js"
import { findSign } from "../../page/index.js"
import { lawfulPiece } from "../../together/testing/lawful-piece.js"
import type { Scene } from "../scene/scene.js"
import { extentOf } from "../testing/extent.js"
import { drawTime, drawTimeSheets } from "./index.js"
import { bands, inputOf, pageOf, parts, timeOf } from "./testing/drawn.js"

const SUNG = `title: Duo
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e S c
> Lu- * ce_ *
custos:d5 line
S d e B c L c
> ve- ni te
custos:c5 folio:3v
clef:C2
B c5 S d L c
voice tenor black practice=ars-nova
clef:C4 O
B c4 c c L c
B c4 L c
`
const texts = (part: string, scene = timeOf(SUNG)) =>
  parts(scene, part).flatMap(({ item, x, y }) =>
    item.shape === "text" ? [{ text: item.text, x: x + item.x, y: y + item.y }] : [],
  )

describe("words", () => {
  test("each syllable begins at the head of its note, in one row", () => {
    const scene = timeOf(SUNG, { width: 4000, size: 1 })
    const syllables = texts("syllable", scene)
    expect(syllables.map(one => one.text)).toEqual(["Lu", "ce", "ve", "ni", "te"])
    expect(new Set(syllables.map(one => one.y)).size).toBe(1)
    const begins = new Map(bands(scene).map(({ id, x }) => [id, x]))
    const page = pageOf(SUNG)
    ;["cantus 1", "cantus 3", "cantus 5"].forEach((place, i) =>
      expect(syllables[i]!.x).toBeCloseTo(begins.get(findSign(page, place)!.id)! + 9, 6),
    )
  })
  test("a hyphen within a word, a line after a long syllable", () => {
    const scene = timeOf(SUNG)
    expect(parts(scene, "hyphen").length).toBe(2)
    expect(parts(scene, "extender").length).toBe(1)
  })
  test("none where they are not wanted, nor in the compact form", () => {
    expect(texts("syllable", timeOf(SUNG, { words: false }))).toEqual([])
    expect(texts("syllable", timeOf(SUNG, { compact: true }))).toEqual([])
  })
})

describe("modern values", () => {
  const QUICK = `voice cantus white practice=white
clef:C1 C
B c5 M c d Sm e f e d e f e d M c c B c Sm c d e f g f e d L c
`
  test.each([1920, 1200])("in a picture %d px wide no flag reaches beyond its time", width => {
    const scene = timeOf(QUICK, { width })
    const size = Math.max(2 / 3, width / 1920)
    const quick = bands(scene).filter(({ duration }) => duration === "1/2")
    const flagged = parts(scene, "modern-value").flatMap(({ item, x }) => {
      const left = item.shape === "group" ? x + item.x! : NaN
      const band = quick.find(one => left >= one.x && left < one.x + one.width)
      const [form] = item.shape === "group" ? item.content : []
      if (!band || form?.shape !== "path" || item.shape !== "group") return []
      const right = left + extentOf(form.path).right * item.scale!
      return [{ begins: (left - band.x) / size, free: band.x + band.width - right }]
    })
    expect(flagged).toHaveLength(16)
    for (const { begins, free } of flagged) {
      expect(free).toBeGreaterThan(0)
      // under the head, which is 9 px after its moment, or a little earlier
      expect(begins).toBeGreaterThanOrEqual(3 - 1e-9)
      expect(begins).toBeLessThan(9)
    }
  })
})

describe("what the source has at the ends of its lines", () => {
  test("custodes, a stroke for a line, two and the name for a folio", () => {
    const scene = timeOf(SUNG)
    expect(parts(scene, "custos").filter(({ item }) => item.shape === "group")).toHaveLength(2)
    const strokes = parts(scene, "break").flatMap(({ item }) => (item.shape === "path" ? [item.path.length / 2] : []))
    expect(strokes).toEqual([1, 2])
    expect(texts("measured", scene).map(one => one.text)).toContain("f. 3v")
  })
  test("a later clef stands in the margin of the systems after it", () => {
    const more = "B c c c c c c L c"
    const page = pageOf(SUNG.replace("S d L c\nvoice", `S d ${more}\nvoice`).replace("B c4 L c", `B c4 ${more}`))
    const scene = drawTime(inputOf(page), { width: 400 })
    const clefs = parts(scene, "gutter").flatMap(({ item }) =>
      item.shape === "group" && item.data!["voice"] === page.voices[0]!.id
        ? [JSON.stringify(item.content.filter(one => one.shape === "group").map(one => one.content[0]))]
        : [],
    )
    expect(clefs.length).toBeGreaterThan(1)
    const line = (text: string) => /"path":\[\["M",[^,]+,([^,\]]+)/.exec(text)?.[1]
    expect(line(clefs.at(-1)!)).not.toBe(line(clefs[0]!))
  })
})

describe("sheets of 1080 px", () => {
  const piece = (voices: number, notes: number) =>
    lawfulPiece(7, { practice: "ars-nova", voices: Math.max(2, voices), notes, doubtful: 0.1 }).page
  const sheetsOf = (voices: number, notes = 24) => {
    const page = piece(voices, notes)
    return drawTimeSheets(inputOf({ ...page, voices: page.voices.slice(0, voices) }), { sheetHeight: 1080 })
  }
  test.each([1, 2, 3, 4, 5, 6, 8])("%d voices: letters of 24 px and more, and no sheet is higher", voices => {
    const sheets = sheetsOf(voices)
    expect(new Set(sheets.map(one => one.height))).toEqual(new Set([1080]))
    const sizes = sheets.flatMap(scene =>
      ["count", "moment", "name", "syllable"].flatMap(part =>
        parts(scene, part).flatMap(({ item }) => (item.shape === "text" ? [item.type.size] : [])),
      ),
    )
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(24)
  })
  test("in the compact form rows stand closer before anything is made smaller", () => {
    const input = inputOf(piece(8, 24))
    const asked = { compact: true, size: 1, to: ratio(12) }
    const open = drawTime(input, asked)
    const closer = drawTimeSheets(input, { ...asked, sheetHeight: open.height - 40 })[0]!
    const between = (scene: Scene) => {
      const tops = parts(scene, "band").flatMap(({ item, y }) => (item.shape === "rect" ? [y + item.y] : []))
      const [first, second] = [...new Set(tops)].sort((a, b) => a - b)
      return second! - first!
    }
    expect(between(closer)).toBeLessThan(between(open) - 5)
    for (const { item } of parts(closer, "count")) expect(item).toMatchObject({ type: { size: 26 } })
  })
  test("one voice: several systems on a sheet", () => {
    expect(parts(sheetsOf(1, 100)[0]!, "system").length).toBeGreaterThan(1)
  })
})

describe("a cause in another system", () => {
  const page = pageOf(readFileSync(new URL("../../../../demo/5-changing-signs.figurae", import.meta.url), "utf8"))
  const input = inputOf(page)
  const select = findSign(page, "tenor 10")!.id
  test("its line begins broken at the edge, and goes out in the system of the cause", () => {
    const scene = drawTime(input, { select })
    const far = parts(scene, "from-afar")
    expect(far).toHaveLength(1)
    expect(far[0]!.item).toHaveProperty("stroke.dash")
    expect(parts(scene, "effect")).toHaveLength(2)
    expect(parts(scene, "cause")).toHaveLength(2)
    expect(parts(scene, "cartouche")).toHaveLength(1)
  })
  test("in one system there is none", () => {
    const whole = drawTime(input, { width: 6000, size: 1, select })
    expect(parts(whole, "from-afar")).toEqual([])
    expect(parts(whole, "effect")).toHaveLength(1)
    expect(parts(whole, "cause")).toHaveLength(2)
  })
})

test("in a narrow picture names stand over their voices", () => {
  const narrow = timeOf(SUNG, { width: 390 })
  const [band] = bands(narrow)
  expect(texts("name", narrow)[0]!.x).toBeLessThan(band!.x)
  expect(band!.x).toBeLessThan(390 * 0.2)
})

describe("long names and titles", () => {
  const NAMED = SUNG.replace("voice cantus", 'voice "cantus primus de choro sinistro"').replace(
    "title: Duo",
    "title: A title of so many words that a narrow picture has no room for them in one line",
  )
  test("a long name stands in two lines, so that music keeps its room; short ones, and one word, in one", () => {
    const names = texts("name", timeOf(NAMED, { width: 1200 }))
    expect(names.slice(0, 3).map(({ text }) => text)).toEqual(["cantus primus", "de choro sinistro", "tenor"])
    const [band] = bands(timeOf(NAMED, { width: 1200 }))
    expect(band!.x).toBeLessThan(1200 * 0.23)
    expect(texts("name", timeOf(SUNG.replace("voice cantus", "voice incomprehensibilitas")))[0]!.text).toMatch(/^incom/)
  })
  test("a long title in several, and all else stands so much lower", () => {
    const [short, long] = [timeOf(SUNG, { width: 390 }), timeOf(NAMED, { width: 390 })]
    const title = texts("title", long)
    expect(title.length).toBeGreaterThan(1)
    const first = (scene: Scene) => Math.min(...parts(scene, "axis").map(({ y }) => y))
    const lower = title.at(-1)!.y - title[0]!.y
    expect(first(long) - first(short)).toBeCloseTo(lower, 6)
  })
})

describe("modern values in groups", () => {
  const divided = (many: number) =>
    `voice triplum black practice=ars-antiqua(breveDivision=equal)
clef:C2
B e4 d ' S ${"e f g d c b3 a".split(" ").slice(0, many).join(" ")} . B e4 L d
`
  // at the usual reduction a breve is a quarter: parted into so many, it is that figure over as many eighths or sixteenths
  test.each([3, 5, 7])("%d semibreves of one breve have their values, and one figure", many => {
    const scene = timeOf(divided(many), { width: 4000, size: 1 })
    const short = bands(scene).filter(({ duration }) => duration === `1/${many}`)
    expect(short).toHaveLength(many)
    const values = parts(scene, "modern-value").flatMap(({ item, x }) => (item.shape === "group" ? [x + item.x!] : []))
    for (const { x, width } of short) expect(values.filter(left => left >= x && left < x + width)).toHaveLength(1)
    expect(texts("tuplet", scene).map(({ text }) => text)).toEqual([String(many)])
  })
})
