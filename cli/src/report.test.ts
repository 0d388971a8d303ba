import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: An emended voice
person ed "The editor"
voice cantus black practice=ars-nova
clef:C4 C
B a3 g:corr(resp=ed reason="as in the tenor") f
alternative sic for=1.4
S e3
`
const { at, save, text } = folderWith({ "piece.figurae": PIECE })

describe("resolutio report", () => {
  test("prints what was emended, why and by whom", async () => {
    const { status, out, err } = await resolutio(["report", at("piece.figurae")])
    expect([status, err]).toEqual([0, ""])
    expect(out).toMatch(/^Critical report: An emended voice\n/)
    expect(out).toContain(
      "  bar 2, cantus 2 (staff 1, sign 4)\n    The source has semibrevis e3; here brevis g3. As in the tenor. (The editor)",
    )
  })
  test.each([
    [".txt", /^Critical report: An emended voice\n/],
    [".md", /^# Critical report: An emended voice\n/],
    [".csv", /^kind,bar,voice,.*\r\nemendation,2,cantus,2,/],
  ])("writes %s", async (ending, content) => {
    const { status, out, err } = await resolutio(["report", at("piece.figurae"), "-o", at(`a${ending}`)])
    expect([status, out, err]).toEqual([0, "", `Written: ${at(`a${ending}`)}`])
    expect(text(`a${ending}`)).toMatch(content)
  })
  test("does not write over a file unasked", async () => {
    const file = save("a.md", "mine")
    expect((await resolutio(["report", at("piece.figurae"), "-o", file])).status).toBe(2)
    expect(text("a.md")).toBe("mine")
  })
  test.each(["2", "-1", "much", ""])("--doubt %j is refused with what would do", async doubt => {
    const { status, err } = await resolutio(["report", at("piece.figurae"), `--doubt=${doubt}`])
    expect(status).toBe(2)
    expect(err).toContain("from 0")
  })
  test("an ending that is none is answered with those that are", async () => {
    const { status, err } = await resolutio(["report", at("piece.figurae"), "-o", at("a.pdf")])
    expect(status).toBe(2)
    expect(err).toContain(".txt, .md or .csv")
  })
  test("voices that do not meet are in the report, and the status says so", async () => {
    const file = save(
      "parted.figurae",
      "voice a practice=ars-nova\nC B c4 d e\nvoice b practice=ars-nova\nC B c4 S d B e\n",
    )
    const { status, out } = await resolutio(["report", file])
    expect(status).toBe(1)
    expect(out).toContain("do not meet")
  })
  test("steers no terminal", async () => {
    const file = save("odd.figurae", `title: A \u001b[31m\u202Esong\nB c4 d\n`)
    // oxlint-disable-next-line no-control-regex -- that there is none is what is checked
    expect((await resolutio(["report", file])).out).not.toMatch(/[\u001b\u202e]/)
  })
})
