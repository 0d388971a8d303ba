/** Files for others: what each name's ending writes, and what is said of it. */
import { existsSync, readFileSync } from "node:fs"
import { strFromU8, unzipSync } from "fflate"
import { parseFile } from "musicxml-io"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Ave, "stella" (invented)
voice "=cantus" practice=ars-nova
O B c4 S d4 B e4 c4
> A- ve stel- la
voice tenor practice=ars-nova
O B c3 B c3 B c3
`
const folder = folderWith({ "piece.figurae": PIECE })
const { at } = folder

describe("resolutio score -o", () => {
  test("MusicXML, that another reader opens; what it does not carry is said", async () => {
    const { status, err } = await resolutio(["score", at("piece.figurae"), "-o", at("a.musicxml")])
    expect(status).toBe(0)
    expect(err).toContain(`Written: ${at("a.musicxml")}\nIt does not carry:\n  - The signs as they stand on the page`)
    const { metadata, parts } = await parseFile(at("a.musicxml"))
    expect(metadata.workTitle).toBe('Ave, "stella" (invented)')
    expect(parts).toHaveLength(2)
  })
  test("the same packed; twice the same bytes", async () => {
    for (const name of ["a.musicxml", "a.mxl", "b.mxl"]) await resolutio(["score", at("piece.figurae"), "-o", at(name)])
    const files = unzipSync(readFileSync(at("a.mxl")))
    expect(Object.keys(files)).toEqual(["mimetype", "META-INF/container.xml", "score.musicxml"])
    expect(strFromU8(files["score.musicxml"]!)).toBe(folder.text("a.musicxml"))
    expect(readFileSync(at("a.mxl")).equals(readFileSync(at("b.mxl")))).toBe(true)
    expect((await parseFile(at("a.mxl"))).parts).toHaveLength(2)
  })
  test("the table of the readings, as read --format csv prints it", async () => {
    const { err } = await resolutio(["score", at("piece.figurae"), "-o", at("a.csv")])
    expect(err).toContain("It does not carry:\n  - How the signs are drawn")
    const { out, err: told } = await resolutio(["read", at("piece.figurae"), "--format", "csv"])
    expect(`${out}\n`).toBe(folder.text("a.csv"))
    expect(told).toContain("It does not carry:")
    const lines = folder.text("a.csv").split("\r\n")
    expect(lines[0]).toMatch(
      /^place,id,level,pitch,onset,duration,modern value,quality,rule,decided by,doubt,explanation,/,
    )
    expect(lines[2]).toMatch(/^'=cantus 1,/)
    expect(lines.at(-1)).toBe("")
  })
  test.each([".mei", ".mid"])("%s says what it does not carry; a picture has nothing to say", async ending => {
    expect((await resolutio(["score", at("piece.figurae"), "-o", at(`a${ending}`)])).err).toContain(
      "It does not carry:",
    )
    expect((await resolutio(["score", at("piece.figurae"), "-o", at("a.svg")])).err).toBe(`Written: ${at("a.svg")}`)
  })
  test("values as asked", async () => {
    await resolutio(["score", at("piece.figurae"), "-o", at("a.musicxml"), "--reduction", "2"])
    expect(folder.text("a.musicxml")).toContain(">1:2<")
    await resolutio(["score", at("piece.figurae"), "-o", at("a.csv"), "--reduction", "2"])
    expect(folder.text("a.csv").split("\r\n")[2]).toContain(",whole,")
  })
  test.each([".mei", ".musicxml", ".mid", ".svg"])("%s of durations that no note can show is refused", async ending => {
    const file = folder.save("short.figurae", "voice cantus practice=white\nC S c4 prop:8192 Sm c4 Sm d4\n")
    const { status, err } = await resolutio(["score", file, "-o", at(`a${ending}`)])
    expect(status).toBe(2)
    expect(err).toMatch(
      /short\.figurae: There is no score of it: .* is shorter than any sign\.\n {4}To mend it: Ask for/,
    )
    expect(existsSync(at(`a${ending}`))).toBe(false)
  })
  test("an ending that is none is answered with those that are", async () => {
    const { status, err } = await resolutio(["score", at("piece.figurae"), "-o", at("a.xyz")])
    expect(status).toBe(2)
    expect(err).toContain(".svg, .png, .mei, .mid, .musicxml, .mxl or .csv")
  })
})

test("several files are one table with the file in front; one that cannot be read is told", async () => {
  const { status, out, err } = await resolutio(["read", at("none.mei"), at("piece.figurae"), "--format", "csv"])
  expect(status).toBe(2)
  const lines = out.split("\r\n")
  expect(lines[0]).toMatch(/^file,place,id,/)
  expect(lines.filter(line => line.includes("file,place"))).toHaveLength(1)
  expect(lines.slice(1).every(line => line.trim() === "" || line.trim().startsWith(at("piece.figurae")))).toBe(true)
  expect(err).toContain("no file or folder of this name")
})
