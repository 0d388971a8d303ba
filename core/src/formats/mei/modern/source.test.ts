import { describe, expect, test } from "vitest"
import type { EditionConventions } from "../../../edition/index.js"
import { parseShorthand } from "../../../page/index.js"
import { readPage } from "../../../reading/index.js"
import { alignVoices } from "../../../score/index.js"
import { writeMusicXml } from "../../musicxml/index.js"
import { modernMei } from "./index.js"

const PIECE = `title: Invented
voice cantus white practice=white
O B c4 S d4 B e4 C|2 S e4 d4 folio:4r B e4 ' S d4 c4 line:2 prop:3/2 B c4 d4 c4 C..:reversed L d4
`
function score(piece = PIECE) {
  const page = parseShorthand(piece, "piece")
  if (!page.ok) throw new Error("not read")
  return alignVoices(page.value, readPage(page.value))
}
const dirs = (chosen: Partial<EditionConventions> = {}, piece = PIECE) =>
  [
    ...modernMei(score(piece), chosen)
      .replace(/>\s+</g, "><")
      .matchAll(/<dir type="([^"]*)"[^>]*startid="#([^"]*)"[^>]*>(.*?)<\/dir>/g),
  ].map(
    ([, type, at, content]) =>
      `${at} ${type}: ${content!.replace(/<symbol [^>]*glyph.name="(\w+)"\/>/g, "$1 ").replace(/<[^>]*>/g, "")}`,
  )

describe("what the page has over the notes that follow it", () => {
  test("signs where they change, strokes", () => {
    expect(dirs()).toEqual([
      "s1.6 mensuration sign:C strokes:1 figures:2: mensuralProlation6 mensuralProlationCombiningStroke 2",
      "s1.11 stroke form:divisio-modi: ı",
      "s1.15 proportion figures:3:2: 3/2",
      "s1.19 mensuration sign:C dots:2 reversed: ƆmensuralProlationCombiningDot ",
    ])
  })
  test("over a bar of rest a sign stands at its beginning, not over the rest in its middle", () => {
    const text = modernMei(score("voice cantus white practice=white\nO B c4 d4 C rB B e4 L d4\n")).replace(/\s+/g, " ")
    expect(text).toMatch(/<dir type="mensuration sign:C" staff="1" place="above" tstamp="1">/)
    expect(text).not.toContain('startid="#s1.5"')
  })
  test("a sign that an editor supplied stands in square brackets", () => {
    const piece = "voice v white practice=white\nO B c4 d4 C:supplied B e4 L d4\n"
    expect(dirs({}, piece)).toEqual(["s1.5 mensuration sign:C brackets: [mensuralProlation6 ]"])
    expect(writeMusicXml(score(piece)).replace(/\s+/g, "")).toMatch(
      /\[<\/words><symbol>mensuralProlation6<\/symbol><words[^>]*>\]</,
    )
  })
  test("signs at the beginning too, or none; folios, or lines too; no strokes", () => {
    const at = (chosen: Partial<EditionConventions>) => dirs(chosen).map(one => one.split(":")[0])
    expect(dirs({ signs: "all" })[0]).toBe("s1.2 mensuration sign:O: mensuralProlation2 ")
    expect(at({ signs: "none" })).toEqual(["s1.11 stroke form"])
    expect(at({ signs: "none", divisionStrokes: "none" })).toEqual([])
    const off = { signs: "none", divisionStrokes: "none" } as const
    expect(dirs({ ...off, sourceBreaks: "folios" })).toEqual(["s1.9 source-break of:folio: | 4r"])
    expect(dirs({ ...off, sourceBreaks: "lines" })[1]).toMatch(/ source-break of:line: \|$/)
  })
  test("where a folio begins nothing is said of its line, and nothing of the line that the voice begins with", () => {
    const piece = PIECE.replace("O B", "folio:3v line:1 O B").replace("folio:4r", "line:1 folio:4r column:a line:1")
    const breaks = dirs({ signs: "none", divisionStrokes: "none", sourceBreaks: "lines" }, piece)
    expect(breaks.map(one => one.replace(/^\S+ /, ""))).toEqual([
      "source-break of:folio: | 3v",
      "source-break of:folio: | 4r",
      "source-break of:line: |",
    ])
  })
  test("in MusicXML too", () => {
    const text = writeMusicXml(score(), { sourceBreaks: "folios" }).replace(/>\s+</g, "><")
    expect(text).toContain("<symbol>mensuralProlation6</symbol><symbol>mensuralProlationCombiningStroke</symbol>")
    expect(text).toMatch(/<words [^>]*>3\/2<\/words>/)
    expect(text).toMatch(/<words [^>]*>\| 4r<\/words><\/direction-type><\/direction><note id="s1.9">/)
  })
})
