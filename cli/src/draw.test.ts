/** Pictures of the page: what each ending writes, and that the same page gives the same file. */
import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Prima (invented)
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e [c/down(left) a4] L g finis
> Lu- cer- na fa- bri
voice tenor black practice=ars-nova
clef:C4 O
B c4 c L c finis
`
const LONG = `clef:C3\nB ${"c4 d e f ".repeat(500)}\n`
const folder = folderWith({
  "piece.figurae": PIECE,
  "long.figurae": LONG,
  "odd.figurae": "B c4 other:handShift d4\n",
  "hebrew.figurae": "title: שיר\nvoice cantus black practice=ars-nova\nclef:C3 O\nB c4 d c\n",
})
const { at } = folder
const draw = (...args: string[]) => resolutio(["draw", at("piece.figurae"), "--force", ...args])

describe("resolutio draw", () => {
  test("SVG: every sign under its id, with a text in place of the picture", async () => {
    const { status, err } = await draw("-o", at("a.svg"))
    expect([status, err]).toEqual([0, `Written: ${at("a.svg")}`])
    const svg = folder.text("a.svg")
    expect(svg).toMatch(
      /<desc id="description">2 voices in old notation\. cantus: 6 notes, 1 ligature, C clef on line 1; “Lucerna fabri”/,
    )
    expect(svg.match(/class="note" id="/g)).toHaveLength(9)
    expect(svg).not.toMatch(/<style|<script|style="/)
  })
  test("PNG: as wide as asked", async () => {
    await draw("-o", at("a.png"), "--width", "640")
    const png = readFileSync(at("a.png"))
    expect(png.subarray(1, 4).toString("latin1")).toBe("PNG")
    expect(png.readUInt32BE(16)).toBe(640)
  })
  test("PDF: fonts within, a long piece on several pages", async () => {
    await resolutio(["draw", at("long.figurae"), "-o", at("long.pdf"), "--force"])
    await draw("-o", at("a.pdf"))
    const pages = (name: string) =>
      readFileSync(at(name))
        .toString("latin1")
        .match(/\/Type \/Page\b/g)?.length
    expect([pages("a.pdf"), pages("long.pdf")]).toEqual([1, 3])
    expect(readFileSync(at("a.pdf")).toString("latin1")).toMatch(/\/FontName \/\w+\+Alegreya-Regular/)
  })
  test("the same page gives the same file", async () => {
    for (const ending of ["svg", "png", "pdf"]) {
      await draw("-o", at(`one.${ending}`))
      await draw("-o", at(`two.${ending}`))
      expect(readFileSync(at(`one.${ending}`)).equals(readFileSync(at(`two.${ending}`)))).toBe(true)
    }
  })
  test("letters as outlines need no fonts, and keep their words", async () => {
    await draw("-o", at("out.svg"), "--outlines")
    expect(folder.text("out.svg")).not.toContain("font-family")
    expect(folder.text("out.svg")).toContain('aria-label="Prima (invented)"')
  })
  test("voices one under another, on another ground", async () => {
    await draw("-o", at("under.svg"), "--voices", "under", "--theme", "dark")
    const heads = [
      ...folder
        .text("under.svg")
        .matchAll(/<g class="note" id="\S+" data-sign="(\S+)">\n<path class="head" fill="\S+" d="M([\d.]+),/g),
    ]
    const lefts = heads.map(([, , x]) => Number(x))
    expect(folder.text("under.svg")).toContain("#171410")
    // both begin together: the first heads of both voices stand at one place
    expect(lefts.filter(x => Math.abs(x - lefts[0]!) < 0.02)).toHaveLength(2)
  })
  test.each([
    [["-o", "a.gif"], "Let the name end in .svg, .png or .pdf."],
    [["-o", "a.svg", "--width", "twelve"], "Write a number from 300 to 8000."],
    [["-o", "a.svg", "--space", "0"], "Write a number from 4 to 200."],
  ])("%j is refused with how to mend it", async (args, mend) => {
    const { status, err } = await draw(...args)
    expect([status, err.includes(mend)]).toEqual([2, true])
  })
  test("what has no form is told", async () => {
    const { status, err } = await resolutio(["draw", at("odd.figurae"), "-o", at("odd.svg")])
    expect(status).toBe(1)
    expect(err).toContain("One sign has no form that is known here: handShift.")
  })
  test("letters that our typefaces lack are told where a picture carries its own, and left to the viewer's in an SVG", async () => {
    const written = async (name: string, ...more: string[]) =>
      resolutio(["draw", at("hebrew.figurae"), "-o", at(name), "--force", ...more])
    for (const [name, ...more] of [
      ["h.png"],
      ["h.pdf"],
      ["h.svg", "--outlines"],
      ["h.png", "--view", "time"],
    ] as const) {
      const { status, err } = await written(name, ...more)
      expect([name, status, err.includes("“ש”"), err.includes("a box □ stands for each letter")]).toEqual([
        name,
        1,
        true,
        true,
      ])
    }
    const { status, err } = await written("h.svg")
    expect([status, err.includes("□")]).toEqual([0, false])
    expect(readFileSync(at("h.svg"), "utf8")).toContain("שיר")
  })
})
