/** Files for others: what each name's ending writes, and what is said of it. */
import { existsSync, readFileSync } from "node:fs"
import { HOUSE_STYLES } from "@resolutio/core"
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
    expect(err).toContain(".svg, .png, .pdf, .mei, .mid, .musicxml, .mxl or .csv")
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

describe("conventions", () => {
  test("styles are listed, without a file", async () => {
    const { status, out } = await resolutio(["score", "--list-styles"])
    expect(status).toBe(0)
    for (const { name, description } of HOUSE_STYLES)
      expect(out).toMatch(new RegExp(`^${name}( .*)?\n  ${description}`, "m"))
    expect(out).toContain("--bars ticks: as small ticks over the staves")
  })
  test("a style, and what is asked for goes before it", async () => {
    const write = async (...flags: string[]) => {
      await resolutio(["score", at("piece.figurae"), "-o", at("c.mei"), "--force", ...flags])
      return folder.text("c.mei")
    }
    expect(await write("--style", "ticks")).toContain('bar.method="takt"')
    expect(await write("--style", "ticks", "--bars", "through")).toContain('bar.thru="true"')
    expect(await write("--style", "ticks", "--bars", "through")).not.toContain("takt")
  })
  test("clefs by voice, or a choice of them", async () => {
    const clefs = async (...flags: string[]) => {
      await resolutio(["score", at("piece.figurae"), "-o", at("c.mei"), "--force", ...flags])
      return folder
        .text("c.mei")
        .match(/<clef [^>]*>/g)!
        .map(clef => clef.replace(/<clef shape="(.)" line="(.)".*/, "$1$2"))
    }
    expect(await clefs()).toEqual(["G2", "F4"])
    expect(await clefs("--clef", "tenor=alto", "--clef", "1=soprano")).toEqual(["C1", "C3"])
    expect(await clefs("--clef", "alto,tenor")).toEqual(["C3", "C4"])
  })
  test.each([
    [["--style", "gaudy"], /no style “gaudy”[^]*There are own-bars/],
    [["--clef", "tenor=hat"], /no clef “hat”/],
    [["--clef", "tenor=alto,bass"], /several clefs/],
    [["--clef", "bassus=bass"], /no voice “bassus”[^]*cantus or tenor/],
    [["--reduction", "3"], /“3” is no reduction/],
    [["--bars", "wavy"], /It can be own, full/],
  ])("%s is refused", async (flags, message) => {
    const { status, err } = await resolutio(["score", at("piece.figurae"), "-o", at("d.mei"), ...flags])
    expect(status).toBe(2)
    expect(err).toMatch(message)
    expect(existsSync(at("d.mei"))).toBe(false)
  })
  test("without a name to write, or a file, it says what to give", async () => {
    for (const args of [["score", at("piece.figurae")], ["score"]]) {
      const { status, err } = await resolutio(args)
      expect(status).toBe(2)
      expect(err).toContain("resolutio score piece.mei -o piece.svg")
    }
  })
})
