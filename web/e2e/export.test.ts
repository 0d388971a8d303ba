/** What goes out: files as the command line makes them, and a piece within an address. */
import { spawnSync } from "node:child_process"
import { existsSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { exporting, saved } from "./testing/exporting.js"
import { hasBrowser, isAccessible, settled, windows } from "./testing/window.js"

/** What another program reads in a PDF, where that is there. */
const PDFTOTEXT = "/usr/bin/pdftotext"
const popplerIsThere = existsSync(PDFTOTEXT)
const wordsOf = (file: string): string => spawnSync(PDFTOTEXT, [file, "-"], { encoding: "utf8" }).stdout

describe.skipIf(!hasBrowser)("export", () => {
  const all = windows()

  test("files of every kind are made and saved under the piece's name", async () => {
    const opened = await exporting(all)
    const { page, complaints } = opened
    await isAccessible(opened)
    for (const [name, ending, text] of [
      ["MEI: the page with its decisions, to go on with anywhere", ".mei", /meiversion="5.1"/],
      ["Shorthand: the page as text", ".figurae", /^title: Quatre vens/],
      ["MusicXML: the modern score for notation editors", ".musicxml", /<score-partwise version="4.0"/],
      ["MusicXML, packed", ".mxl", /^PK/],
      ["CSV: every sign, how long and why, as a table", ".csv", /cantus/],
      ["SVG: the voices in time, drawn", ".time.svg", /^<svg/],
      ["The critical report, as Markdown", ".report.md", /Critical report/],
      ["JSON: whether the voices meet, and what would mend it", ".fit.json", /"format": "resolutio-fit"/],
      ["CSV: when each sign is heard", ".markers.csv", /^start,end,voice/],
      ["SVG: the figure, with its words", ".zip", /^PK/],
    ] as const) {
      const got = await saved(opened, name)
      expect(got.file).toBe(`Quatre-vens${ending}`)
      expect(got.bytes.toString("utf8")).toMatch(text)
    }
    await page.getByText(/is with your downloads/).waitFor()
    expect(complaints).toEqual([])
  })

  test("the edition as PDF, pictures as PNG, and sound, by what is loaded only for them", async () => {
    const opened = await exporting(all)
    const book = await saved(opened, "PDF: the whole edition as a book")
    expect(book.file).toBe("Quatre-vens.pdf")
    expect(book.bytes.toString("latin1", 0, 8)).toBe("%PDF-1.7")
    if (popplerIsThere) expect(wordsOf(book.path)).toMatch(/Quatre vens[\s\S]*Critical report/)
    const picture = await saved(opened, "PNG: the voices in time, drawn")
    expect([...picture.bytes.subarray(1, 4)].map(one => String.fromCharCode(one)).join("")).toBe("PNG")
    expect(picture.bytes.readUInt32BE(16)).toBe(1920)
    expect(opened.complaints).toEqual([])
  }, 120_000)

  test("the finer choices: a book of two parts with its editor, one voice of a figure, a passage, other conventions", async () => {
    const opened = await exporting(all)
    const { page, complaints } = opened
    await page.getByText("What it holds, and every convention").click()
    for (const part of ["title page", "contents", "preface", "texts", "parts"])
      await page.getByRole("checkbox", { name: part, exact: true }).uncheck()
    await page.getByRole("textbox", { name: "Who made the edition" }).fill("An invented editor")
    await page.getByRole("combobox", { name: "bar lines" }).selectOption("through")
    await page.getByText("Headline, voices, signs").click()
    await page.getByRole("group", { name: "Only these voices" }).getByRole("checkbox", { name: "tenor" }).last().check()
    await page.getByRole("textbox", { name: "Headline" }).fill("One voice <b>")
    await page.getByText("Passage, repetition, balance").click()
    await page.getByText("Passage, size, words").click()
    await page.getByRole("spinbutton", { name: "Height of a sheet of the PDF in px" }).fill("700")
    await page.keyboard.press("Tab")
    const low = (await saved(opened, "PDF: the voices in time, on sheets")).bytes.toString("latin1")
    const [, width, height] = /MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(low)!
    expect(Number(height) / Number(width)).toBeCloseTo(700 / 1920, 2)
    await isAccessible(opened)
    const book = await saved(opened, "PDF: the whole edition as a book")
    if (popplerIsThere) {
      expect(wordsOf(book.path)).toMatch(/Critical report/)
      expect(wordsOf(book.path)).not.toMatch(/Preface/)
    }
    const whole = (await saved(opened, "MusicXML: the modern score for notation editors")).bytes.toString("utf8")
    expect(whole).toMatch(/<score-partwise/)
    const figure = (await saved(opened, "SVG: the figure, with its words")).bytes.toString("latin1")
    expect(figure).toMatch(/^PK/)
    expect(complaints).toEqual([])
  }, 120_000)

  test("a link carries the piece to another machine; one that is cut off says so", async () => {
    const opened = await exporting(all)
    const link = await opened.page.getByRole("textbox", { name: "A link", exact: true }).inputValue()
    const hash = link.slice(link.indexOf("#"))
    expect(link.length).toBeLessThanOrEqual(6000)
    const other = await all.open({ at: hash })
    await settled(other)
    expect(await other.page.getByRole("heading", { level: 1 }).textContent()).toBe("Quatre vens")
    expect(other.page.url()).not.toContain("#")
    const cut = await all.open({ at: hash.slice(0, hash.length / 2) })
    await cut.page.getByText("The address carries a piece that is not whole.").waitFor()
    const hostile = await all.open({ at: "#piece=<img src=x onerror=alert(1)>" })
    await hostile.page.getByText("The address carries a piece that is not whole.").waitFor()
    expect(hostile.complaints).toEqual([])
  })
})
