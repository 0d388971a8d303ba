/** The edition as a book, read back by other programs. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import {
  bookmarksOf,
  firstLinesOf,
  fontsOf,
  infoOf,
  inkOf,
  pagesOf,
  popplerIsThere,
  structureOf,
} from "../testing/poppler.js"
import { resolutio } from "../testing/program.js"

/** Invented: two voices with words in two stanzas, an emendation, a decision. */
const PIECE = `title: Fons (vivus) & \\ "silens"
person ed "Invented Editor"
voice cantus black practice=ars-nova
clef:C1 C folio:3v
B c4 d S e f B g a:corr(resp=ed reason="as in the tenor") g
> Fons vi- * vus_ et si- lens
2> Mons al- * tus_ et ni- veus
alternative sic for=1.9
B e4
voice "contratenor primus" black practice=ars-nova
clef:C3 O rB B c4 S d B e g f
decision on=2.5 duration=2 who=ed why="the voices meet"
voice tenor black practice=ars-nova
clef:C4 C L c3 L d B e f
`
let folder = ""
const at = (name: string) => join(folder, name)
async function printed(name: string, text: string, ...flags: string[]) {
  writeFileSync(at(`${name}.figurae`), text)
  return resolutio(["score", at(`${name}.figurae`), "-o", at(`${name}.pdf`), "--force", ...flags], 100)
}
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "resolutio-book-"))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe.skipIf(!popplerIsThere)("resolutio score -o NAME.pdf", () => {
  let pages: string[]
  beforeAll(async () => {
    await printed("piece", PIECE, "--editor", "Another Editor")
    pages = pagesOf(at("piece.pdf"))
  }, 60_000)
  test("has its title, language and editor in the file", () => {
    const info = infoOf(at("piece.pdf"))
    expect(info.get("Title")).toBe('Fons (vivus) & \\ "silens"')
    expect(info.get("Author")).toBe("Another Editor")
    expect(info.get("Tagged")).toBe("yes")
    expect(info.get("Page size")).toContain("A4")
    expect(readFileSync(at("piece.pdf"), "latin1")).toMatch(/\/Lang \(en\)/)
  })
  test("every typeface is in the file, and its letters can be searched", () => {
    const fonts = fontsOf(at("piece.pdf"))
    expect(fonts.length).toBeGreaterThan(2)
    for (const font of fonts) expect(font).toMatchObject({ embedded: true, unicode: true })
    expect(fonts.every(({ name }) => /^(Alegreya|SourceSans3)/.test(name))).toBe(true)
  })
  test("has a bookmark for each part of it, on the page that the contents name", () => {
    const marks = bookmarksOf(at("piece.pdf"))
    const names = marks.map(mark => mark.replace(/ \d+$/, ""))
    expect(names).toEqual([
      "Fons (vivus) &amp; \\ &#34;silens&#34;",
      "Contents",
      "Preface",
      "Score",
      "Parts",
      "- cantus",
      "- contratenor primus",
      "- tenor",
      "Texts",
      "Critical report",
    ])
    for (const mark of marks.slice(2)) {
      const [, name, page] = /^(?:- )?(.*) (\d+)$/.exec(mark)!
      expect(pages[1]).toContain(name)
      expect(pages[1]!.split(" ")).toContain(page)
    }
  })
  test("every syllable, word, heading and line of the report is found", () => {
    const all = pages.join(" ")
    for (const syllable of ["Fons", "vi", "vus", "Mons", "niveus".slice(0, 2)]) expect(pages[3]).toContain(syllable)
    for (const text of ["Fons vivus et silens", "Mons altus et niveus", "Without words: contratenor primus, tenor."])
      expect(all).toContain(text)
    for (const heading of [
      "The source",
      "How the notation was read",
      "Mensuration",
      "How it is written here",
      "Emendations",
      "Decisions",
    ])
      expect(all).toContain(heading)
    expect(all).toContain("brevis e4 brevis a4")
    expect(all).toContain("As in the tenor. Invented Editor. [f. 3v, staff 1, sign 6]")
    expect(all).toContain("Note values are shortened to 1:4 of those of the source.")
  })
  test("is read aloud in order: headings, paragraphs whose words stay parted, a picture for the score", () => {
    const structure = structureOf(at("piece.pdf"))
    expect(structure).toMatch(/Sect "Preface"[\s\S]*H1[\s\S]*H2[\s\S]*Sect "Score"[\s\S]*Figure/)
    expect(structure.replace(/\s+/g, " ")).toContain(
      "those of a ligature singly. Levels go by the names of the original notes",
    )
  })
  test("nothing is written into the margins", () => {
    for (const { left, right, top, bottom } of inkOf(at("piece.pdf"))) {
      expect(left).toBeGreaterThan(0.07)
      expect(right).toBeLessThan(0.93)
      expect(top).toBeGreaterThan(0.03)
      expect(bottom).toBeLessThan(0.96)
    }
  })
  test("the same edition is the same file, byte for byte", async () => {
    const first = readFileSync(at("piece.pdf"))
    await printed("piece", PIECE, "--editor", "Another Editor")
    expect(readFileSync(at("piece.pdf")).equals(first)).toBe(true)
  })
  test("a heading of several lines leaves no single word for the last", async () => {
    const title = "Of the silent fountain in an old garden by the southern wall of roses"
    await printed("long", PIECE.replace(/^title: .*/, `title: ${title}`), "--contents", "title")
    const lines = firstLinesOf(at("long.pdf")).filter(line => title.includes(line.trim()))
    expect(lines.map(line => line.trim()).join(" ")).toBe(title)
    expect(lines.length).toBeGreaterThan(1)
    const lengths = lines.map(line => line.trim().length)
    expect(Math.min(...lengths)).toBeGreaterThan(0.6 * Math.max(...lengths))
  })
  test("only what is asked for, on paper of the other size", async () => {
    await printed("some", PIECE, "--contents", "Report, texts", "--paper", "letter")
    expect(bookmarksOf(at("some.pdf"))).toEqual(["Texts 1", "Critical report 1"])
    expect(infoOf(at("some.pdf")).get("Page size")).toContain("letter")
  })
  test("takes people, date and sources from the head of an MEI file", async () => {
    await resolutio(["convert", at("piece.figurae"), "-o", at("piece.mei"), "--force"])
    const head = `<sourceDesc><source xml:id="src"><bibl>An invented book, f. 3v</bibl></source></sourceDesc></fileDesc>`
    const composer = "</title><composer>Nobody in particular</composer>"
    const mei = readFileSync(at("piece.mei"), "utf8").replace("</fileDesc>", head).replace("</title>", composer)
    writeFileSync(at("headed.mei"), mei)
    await resolutio(["score", at("headed.mei"), "-o", at("headed.pdf"), "--force", "--contents", "title,preface"])
    const [title, preface] = pagesOf(at("headed.pdf"))
    expect(title).toContain("Nobody in particular")
    expect(title).toContain("Source: An invented book, f. 3v")
    expect(preface).toContain("Source: An invented book, f. 3v.")
  })
  test("without prefatory staves the voices' names are left", async () => {
    await printed("bare", PIECE, "--contents", "score", "--no-prefatory-staves")
    expect(pagesOf(at("bare.pdf"))[0]).toContain("contratenor primus")
  })
})

describe.skipIf(!popplerIsThere)("what breaks no book", () => {
  test.each([
    ["no voice", "title: Nothing\n", /^Nothing/],
    ["voices without signs", "title: Empty\nvoice a\nvoice b\nclef:C3\n", /^Empty/],
    ["no title", "B c4 d\n", /^A piece without a title/],
    ["a voice of rests", "voice a practice=ars-nova\nclef:C1 O rB rB rB rB\n", /title/],
    ["a title beyond measure", `title: ${"Ave ".repeat(900)}${"x".repeat(900)}\nB c4\n`, /^Ave Ave/],
  ])("%s", async (_, text, first) => {
    expect((await printed("odd", text)).status).toBeLessThan(2)
    expect(pagesOf(at("odd.pdf"))[0]).toMatch(first)
  })
  test("markup, other directions of writing and letters that no typeface has: boxes, and a word about it", async () => {
    const hostile = `title: <b>&amp; \u05e9\u05dc \u202e\ud83c\udfb5\nvoice "<script>" practice=ars-nova\nC B c4 d e\n> "<i>" \u05e9- \ud83c\udfb5\n`
    const { status, err } = await printed("hostile", hostile)
    expect(status).toBe(1)
    expect(err).toContain("U+05E9")
    expect(err).toContain("U+1F3B5")
    const pages = pagesOf(at("hostile.pdf"))
    expect(pages[0]).toContain("<b>&amp; \u25a1\u25a1 \u25a1")
    expect(pages.join(" ")).toContain("<i>")
    expect(fontsOf(at("hostile.pdf")).every(font => font.embedded)).toBe(true)
  })
  test("a reason that fills pages goes on from page to page", async () => {
    const why = "word ".repeat(6000)
    const text = `voice a practice=ars-nova\nC B c4 d:corr(reason="${why}") e\n`
    await printed("long", text, "--contents", "report")
    const pages = pagesOf(at("long.pdf"))
    expect(pages.length).toBeGreaterThan(5)
    expect(pages.join(" ").match(/word/gi)).toHaveLength(6000)
    for (const { bottom } of inkOf(at("long.pdf"))) expect(bottom).toBeLessThan(0.96)
  })
  test("contents of a hundred voices stand on as many pages as they need", async () => {
    const voices = Array.from({ length: 100 }, (_, i) => `voice v${i} practice=ars-nova\nclef:C3\n`).join("")
    await printed("hundred", voices, "--contents", "contents,parts")
    const pages = pagesOf(at("hundred.pdf"))
    expect(pages.slice(0, 3).join(" ")).toMatch(/Parts.*v0 .*v99/)
    expect(bookmarksOf(at("hundred.pdf"))).toContain("- v99 103")
  })
  test("a score higher than a page is made smaller, never cut", async () => {
    const voice = (i: number) => `voice v${i} practice=ars-nova\nclef:C3 C B c4 d e f\n> a- ve Ma- ri\n`
    await printed("many", Array.from({ length: 26 }, (_, i) => voice(i)).join(""), "--contents", "score")
    const [page] = inkOf(at("many.pdf"))
    expect(page!.bottom).toBeLessThan(0.95)
    for (let i = 0; i < 26; i++) expect(pagesOf(at("many.pdf"))[0]).toContain(`v${i}`)
  })
})

describe("what is asked wrongly", () => {
  test.each([
    [["--contents", "score,index"], "has no part “index”"],
    [["--contents", ","], "A book of nothing"],
    [["--doubt", "much"], "no doubt"],
    [["--paper", "a5"], "a4"],
  ])("%j", async (flags, told) => {
    const { status, err } = await printed("wrong", PIECE, ...flags)
    expect(status).toBe(2)
    expect(err).toContain(told)
  })
  test("on a terminal it says what takes long", async () => {
    const { err } = await printed("told", PIECE, "--contents", "score")
    expect(err).toMatch(/Engraving the score …|Written:/)
  })
})
