/** Figures on the command line: every kind and ending, files beside them, what is refused and how to mend it. */
import { existsSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { run } from "./program.js"
import { folderWith, resolutio } from "./testing/program.js"

const PIECE = `title: Prima (invented)
voice cantus black practice=ars-nova
clef:C1 O
B c5 S d B e S c d B e L c
voice tenor black practice=ars-nova
clef:C4 O
B c4 c c c L c
`
const FOUR = ["altus", "bassus"].reduce(
  (piece, name) => `${piece}voice ${name} black practice=ars-nova\nclef:C3 O\nB c4 S d B e S c d B e L c\n`,
  PIECE,
)
const folder = folderWith({ "piece.figurae": PIECE, "four.figurae": FOUR, "bad.figurae": "B c4 [\n" })
const { at } = folder
const figure = (...args: string[]) => resolutio(["figure", ...args])

const KINDS = [
  "old-over-new",
  "step-series",
  "division-tree",
  "ligature-table",
  "rests",
  "dots",
  "coloration",
  "proportions",
]

test("--list prints the kinds, one bare name a line", async () => {
  const { status, out } = await figure("--list")
  expect([status, out.trim().split("\n")]).toEqual([0, KINDS])
})

describe.each(KINDS)("%s", kind => {
  test("as SVG with its words beside it, with a piece or without", async () => {
    for (const file of [[], [at("piece.figurae")]]) {
      const { status, err } = await figure(kind, ...file, "-o", at(`${kind}.svg`), "--force")
      expect([status, err.includes(`Written: ${at(`${kind}.svg`)}`)]).toEqual([0, true])
      const svg = folder.text(`${kind}.svg`)
      const words = folder.text(`${kind}.alt.txt`)
      const described = /<desc [^>]*>([^<]*)</.exec(svg)![1]!.replaceAll("&quot;", '"').replaceAll("&amp;", "&")
      expect(svg).toMatch(/role="img"/)
      expect(words).toContain(described)
    }
  })
})
test("kinds that need no piece do not even look at it", async () => {
  const { status } = await figure("dots", at("nowhere.figurae"), "-o", at("dots.svg"), "--force")
  expect(status).toBe(0)
})
test("a series of steps: five pictures and a sheet; as PDF all in one", async () => {
  await figure("step-series", "-o", at("steps.svg"))
  for (const name of ["steps", "steps-1", "steps-2", "steps-3", "steps-4", "steps-5"])
    expect(existsSync(at(`${name}.svg`))).toBe(true)
  await figure("step-series", "-o", at("steps.pdf"), "--force")
  expect(
    readFileSync(at("steps.pdf"))
      .toString("latin1")
      .match(/\/Type \/Page\b/g),
  ).toHaveLength(6)
})
test("PNG in the size that is named", async () => {
  await figure("rests", "-o", at("rests.png"), "--size", "1280×720", "--theme", "lecture-black")
  const png = readFileSync(at("rests.png"))
  expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([1280, 720])
})
test("PDF for half a column is 85 mm wide", async () => {
  await figure("dots", "-o", at("column.pdf"), "--size", "half-column")
  const [, width] = /\/MediaBox \[0 0 ([\d.]+)/.exec(readFileSync(at("column.pdf")).toString("latin1"))!
  expect(Number(width)).toBeCloseTo((85 / 25.4) * 72, 1)
})
test("letters that our typefaces lack are told where a picture carries its own", async () => {
  const asked = async (...more: string[]) => figure("dots", "--title", "שלום", "--force", ...more)
  for (const more of [
    ["-o", at("h.png")],
    ["-o", at("h.pdf")],
    ["-o", at("h.svg"), "--outlines"],
  ]) {
    const { status, err } = await asked(...more)
    expect([more, status, err.includes("a box □ stands for each letter")]).toEqual([more, 1, true])
  }
  expect((await asked("-o", at("h.svg"))).status).toBe(0)
})
test("letters as outlines: no fonts needed, words kept", async () => {
  await figure("dots", "-o", at("outlines.svg"), "--outlines")
  const svg = folder.text("outlines.svg")
  expect(svg).not.toMatch(/font-family|<text/)
  expect(svg).toContain('aria-label="One dot, four meanings"')
  expect(svg).toMatch(/<desc /)
})
test("a transparent figure paints no ground", async () => {
  await figure("dots", "-o", at("clear.svg"), "--theme", "transparent-dark")
  expect(folder.text("clear.svg")).not.toContain('class="ground"')
})
test("headline of one's own; sources only beside the figure", async () => {
  await figure("old-over-new", "-o", at("own.svg"), "--title", "A & B", "--caption", "aside")
  expect(folder.text("own.svg")).toContain(">A &amp; B</text>")
  expect(folder.text("own.svg").replace(/<desc.*/, "")).not.toContain("Libellus")
  expect(folder.text("own.alt.txt")).toMatch(/^A & B\n[\s\S]*Libellus cantus mensurabilis/)
})
test("a passage by the numbers of its notes", async () => {
  const { status } = await figure("old-over-new", at("piece.figurae"), "-o", at("part.svg"), "--signs", "cantus 3..6")
  expect(status).toBe(0)
  const bands = [...folder.text("part.svg").matchAll(/data-onset="(\d+)" data-duration="(\d+)"/g)].map(one =>
    one.slice(1),
  )
  expect(bands).toEqual([
    ["6", "6"],
    ["12", "2"],
    ["14", "4"],
    ["18", "6"],
  ])
})
test("by moments, of one voice, about one note", async () => {
  await figure(
    "old-over-new",
    at("piece.figurae"),
    "-o",
    at("one.svg"),
    "--to",
    "12",
    "--voice",
    "Cantus",
    "--select",
    "cantus 1",
  )
  expect(folder.text("one.svg")).toContain(">A breve of four minims, not six<")
  expect(folder.text("one.svg")).toContain("A semibreve follows and takes its last third.")
  await figure("old-over-new", at("piece.figurae"), "-o", at("none.svg"), "--select", "none")
  expect(folder.text("none.svg")).not.toContain("cartouche")
})
test("of four voices each stretch of time stands in two pictures, and that is said", async () => {
  const { status, err } = await figure("old-over-new", at("four.figurae"), "-o", at("four.svg"))
  expect(status).toBe(0)
  expect(err).toContain("stands in 2, cantus and tenor; altus and bassus.")
  expect(existsSync(at("four-2.svg"))).toBe(true)
  expect(folder.text("four-2.svg")).toContain("The same stretch of time in cantus and tenor: picture 1.")
})
test("trees of signs and of levels", async () => {
  const names = async (...more: string[]) => {
    await figure("division-tree", "-o", at("tree.svg"), "--force", ...more)
    return [...folder.text("tree.svg").matchAll(/class="name"[^>]*>([^<]*)</g)].map(one => one[1])
  }
  expect(await names("--signs", "O C.")).toEqual([
    "tempus perfectum",
    "prolatio minor",
    "tempus imperfectum",
    "prolatio maior",
  ])
  expect(await names("--levels", "2 3 2 2")).toEqual([
    "modus maior imperfectus",
    "modus minor perfectus",
    "tempus imperfectum",
    "prolatio minor",
  ])
})
test("tables by the practice that is named", async () => {
  await figure("rests", "-o", at("early.svg"), "--practice", "ars-antiqua")
  expect(folder.text("early.svg")).toContain("Ars cantus mensurabilis, c. 1280")
})

test.each([
  [
    ["old-above-new", "-o", "a.svg"],
    "There is no figure of the kind “old-above-new”.",
    "Name one of these: old-over-new",
  ],
  [["-o", "a.svg"], "It was not said what the figure is to show.", "Name one of these"],
  [["dots"], "It was not said where the figure is to be written.", "Add -o"],
  [["dots", "-o", "a.gif"], "It cannot be told", "Let the name end in .svg, .png or .pdf."],
  [["dots", "-o", "a.svg", "--size", "huge"], "There is no size “huge”.", "1920x1080"],
  [["rests", "-o", "a.svg", "--practice", "ars"], "There is no practice “ars”.", "ars-antiqua"],
  [["coloration", "-o", "a.svg", "--practice", "ars-antiqua"], "no figure of it", "--practice ars-nova"],
  [["division-tree", "-o", "a.svg", "--signs", "O X"], "“X” is no sign", "as in the shorthand"],
  [["division-tree", "-o", "a.svg", "--levels", "3 4"], "“3 4” does not say", "Write 2 or 3"],
  [["old-over-new", "nowhere.figurae", "-o", "a.svg"], "cannot be read", "To mend it"],
])("%j is refused", async (args, what, mend) => {
  const { status, err } = await figure(...args.map(one => (one === "a.svg" ? at(one) : one)))
  expect(status).toBe(2)
  expect(err).toContain(what)
  expect(err).toContain(mend)
  expect(existsSync(at("a.svg"))).toBe(false)
})
test.each([
  [["--signs", "bass 1..2"], "There is no sign “bass 1..2”"],
  [["--signs", "cantus 1..99"], "There is no sign “cantus 1..99”"],
  [["--signs", "cantus 5..2"], "“cantus 5..2” does not say"],
  [["--signs", "cantus"], "“cantus” does not say"],
  [["--voice", "bass"], "There is no voice “bass”."],
  [["--from", "soon"], "“soon” is no moment."],
  [["--select", "tenor 40"], "There is no sign “tenor 40”"],
])("%j in a piece is refused", async (args, what) => {
  const { status, err } = await figure("old-over-new", at("piece.figurae"), "-o", at("a.svg"), ...args)
  expect([status, err.includes(what), err.includes("To mend it")]).toEqual([2, true, true])
})
test("a file that is there stays, unless it may be written over", async () => {
  await figure("rests", "-o", at("kept.svg"))
  const { status, err } = await figure("dots", "-o", at("kept.svg"))
  expect([status, err.includes("--force")]).toEqual([2, true])
  expect(folder.text("kept.svg")).toContain("Silence is measured too")
})

test("what is too long for one picture says in how many it stands", async () => {
  const { status, err } = await figure("old-over-new", "-o", at("long.svg"), "--size", "square")
  expect(status).toBe(0)
  const written = err.split("\n").filter(line => /^Written: .*\.svg$/.test(line))
  expect(written.length).toBeGreaterThan(1)
  expect(err).toContain(`it stands in ${written.length}, one after another.`)
  const steps = await figure("step-series", "-o", at("steps.svg"))
  expect(steps.err).not.toContain("one after another")
})

test("an interrupt ends it between two pictures; what was written is told", async () => {
  const controller = new AbortController()
  const err: string[] = []
  const shell = {
    out: () => undefined,
    err: (text: string) => {
      err.push(text)
      controller.abort()
    },
    colour: false,
    signal: controller.signal,
  }
  expect(await run(["figure", "old-over-new", "-o", at("long.svg"), "--size", "square"], shell)).toBe(130)
  expect(err).toEqual([`Written: ${at("long.svg")}`, "Stopped; the pictures named above were written."])
  expect(existsSync(at("long-2.svg"))).toBe(false)
})
