import { existsSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const folder = folderWith({
  "piece.figurae": `title: Invented
voice cantus practice=white
C S g4 f4 B g4 S f4 a4 b4 a4 L g4
voice tenor practice=white
C S c3 b2 B g2 S d3 d3 d3 d3 L g2
`,
  "thrice.figurae": `title: Invented, with one reason three times
voice cantus practice=white
C S g4 f4 B g4 S g4 f4 B g4 S g4 f4 L g4
voice tenor practice=white
C S c3 b2 B g2 S c3 b2 B g2 S c3 b2 L g2
`,
})
const { at } = folder
const run = (...args: string[]) => resolutio(["ficta", at("piece.figurae"), ...args])

describe("resolutio ficta", () => {
  test("lists what is proposed, with grade and reason", async () => {
    const { status, out } = await run()
    expect(status).toBe(0)
    expect(out).toContain("Proposed: 1 required, 1 likely.")
    expect(out).toMatch(/^1 {2}tenor 2 +b flat +required +With the cantus there is a diminished fifth: mi is not sung/m)
    expect(out).toMatch(/^2 {2}cantus 6 +b flat +likely /m)
  })
  test("as data for programs", async () => {
    const { proposals, ...rest } = JSON.parse((await run("--format", "json")).out)
    expect(rest).toMatchObject({ format: "resolutio-ficta", version: 1, unit: "minima", open: [] })
    expect(proposals[0]).toMatchObject({
      number: 1,
      place: "tenor 2",
      onset: "2",
      accidental: "f",
      grade: "required",
      cause: "need",
      rule: "false-fifth",
      interval: "diminished fifth",
      against: "1.3",
      source: "Ars nova, c. 1320, chapter 14",
    })
  })
  test("accepts by number, place or grade and writes the page; then it stands in the score", async () => {
    const { out } = await run(
      "--accept",
      "required",
      "--refuse",
      "cantus 6",
      "-o",
      at("b.figurae"),
      "--who",
      "An editor",
    )
    expect(out).toContain(
      "Accepted: tenor 2, b flat.\nRefused: cantus 6, b flat.\nNow proposed: 0, of which 0 required.",
    )
    expect(folder.text("b.figurae")).toMatch(/decision on=2\.3 accid=f who=editor-an-editor why="With the cantus/)
    expect(folder.text("b.figurae")).toMatch(/decision on=1\.7 not-accid=f/)
    expect((await resolutio(["ficta", at("b.figurae")])).out).toContain("Nothing is proposed.")
    await resolutio(["score", at("b.figurae"), "-o", at("b.mei")])
    expect(folder.text("b.mei")).toContain('<accid accid="f" accid.ges="f" func="edit" place="above"/>')
    const { out: list } = await resolutio(["decide", at("b.figurae"), "--list"])
    expect(list).toContain("tenor 2: it is sung flat")
    await resolutio(["decide", at("b.figurae"), "--undo", "1", "-o", at("c.figurae")])
    expect((await resolutio(["ficta", at("c.figurae")])).out).toContain("Proposed: 1 required.")
  })
  test("refuses at once all of one voice for one reason", async () => {
    const { out } = await resolutio(["ficta", at("thrice.figurae"), "--refuse", "like tenor 2"])
    expect(out.match(/^Refused: tenor \d+, b flat\.$/gm)).toHaveLength(3)
    const { err } = await resolutio(["ficta", at("thrice.figurae"), "--refuse", "like 9"])
    expect(err).toContain("Nothing is proposed for “like 9”")
  })
  test("in the score only if asked for, up to a grade", async () => {
    const edited = async (...flags: string[]) => {
      await resolutio(["score", at("piece.figurae"), "-o", at("d.mei"), "--force", ...flags])
      return folder.text("d.mei").match(/func="edit"/g)?.length ?? 0
    }
    expect(await edited()).toBe(0)
    expect(await edited("--ficta", "required")).toBe(1)
    expect(await edited("--ficta", "likely")).toBe(2)
    expect(await edited("--style", "for-singers")).toBe(2)
  })
  test.each([
    [["--accept", "9"], /Nothing is proposed for “9”[^]*a number from 1 to 2/],
    [["--accept", "cantus 1"], /Nothing is proposed for “cantus 1”/],
    [["--accept", "1", "--refuse", "tenor 2"], /accepted and refused at once/],
    [["-o", at("e.figurae")], /There is nothing to write/],
    [["--accept", "1", "-o", at("e.txt")], /\.mei or \.figurae/],
  ])("%s is refused", async (flags, message) => {
    const { status, err } = await run(...flags)
    expect(status).toBe(2)
    expect(err).toMatch(message)
    expect(existsSync(at("e.figurae"))).toBe(false)
  })
})
