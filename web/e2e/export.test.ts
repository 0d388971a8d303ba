/** What goes out: files as the command line makes them, and a piece within an address. */
import { spawnSync } from "node:child_process"
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

/** What another program reads in a PDF, where that is there. */
const PDFTOTEXT = "/usr/bin/pdftotext"
const popplerIsThere = existsSync(PDFTOTEXT)
const wordsOf = (file: string): string => spawnSync(PDFTOTEXT, [file, "-"], { encoding: "utf8" }).stdout

const inProject = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url))
const PROGRAM = inProject("cli/bin/resolutio.mjs")
const DEMO = inProject("demo/4-four-prolations.figurae")
const hasProgram = existsSync(inProject("cli/dist/main.mjs"))
/** Left and right in turn, of a WAV file of 16 bits. */
const samplesOf = (wav: Buffer): Int16Array => new Int16Array(Uint8Array.from(wav.subarray(44)).buffer)

describe.skipIf(!hasBrowser)("export", () => {
  const all = windows()

  async function saved({ page }: Opened, name: string): Promise<{ file: string; bytes: Buffer; path: string }> {
    const button = page.getByRole("button", { name, exact: true })
    const [download] = await Promise.all([page.waitForEvent("download", { timeout: 90_000 }), button.click()])
    const path = await download.path()
    return { file: download.suggestedFilename(), bytes: readFileSync(path), path }
  }

  async function exporting(): Promise<Opened> {
    const opened = await all.open()
    await settled(opened)
    await opened.page.keyboard.press("e")
    await opened.page.getByRole("region", { name: "Export", exact: true }).waitFor()
    return opened
  }

  test("files of every kind are made and saved under the piece's name", async () => {
    const opened = await exporting()
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
    const opened = await exporting()
    const book = await saved(opened, "PDF: the whole edition as a book")
    expect(book.file).toBe("Quatre-vens.pdf")
    expect(book.bytes.toString("latin1", 0, 8)).toBe("%PDF-1.7")
    if (popplerIsThere) expect(wordsOf(book.path)).toMatch(/Quatre vens[\s\S]*Critical report/)
    const picture = await saved(opened, "PNG: the voices in time, drawn")
    expect([...picture.bytes.subarray(1, 4)].map(one => String.fromCharCode(one)).join("")).toBe("PNG")
    expect(picture.bytes.readUInt32BE(16)).toBe(1920)
    expect(opened.complaints).toEqual([])
  }, 120_000)

  test("sound is made as it is heard, can be ended on the way, and comes as one file for each voice", async () => {
    const opened = await exporting()
    const { page, complaints } = opened
    const wav = page.getByRole("button", { name: "WAV: as it is heard here", exact: true })
    await wav.click()
    await page.getByText("Making it: WAV").waitFor()
    await page.getByRole("button", { name: "Stop", exact: true }).click()
    await expect.poll(() => page.getByText("Making it: WAV").count()).toBe(0)
    await page.getByLabel("Files of sound").selectOption("each")
    const each = await saved(opened, "WAV: as it is heard here")
    expect(each.file).toBe("Quatre-vens.zip")
    const names = [...each.bytes.toString("latin1").matchAll(/Quatre-vens-\d-[a-z]+\.wav/g)].map(([name]) => name)
    expect(new Set(names).size).toBeGreaterThan(1)
    expect(complaints).toEqual([])
  }, 120_000)

  test.skipIf(!hasProgram)(
    "it sounds as the command line's file does",
    async () => {
      const opened = await exporting()
      const here = samplesOf((await saved(opened, "WAV: as it is heard here")).bytes)
      const folder = mkdtempSync(join(tmpdir(), "resolutio-"))
      try {
        const file = join(folder, "piece.wav")
        spawnSync(process.execPath, [PROGRAM, "hear", DEMO, "-o", file], { encoding: "utf8" })
        const there = samplesOf(readFileSync(file))
        expect(here.length).toBe(there.length)
        let [power, difference] = [0, 0]
        there.forEach((sample, i) => {
          power += sample ** 2
          difference += (sample - here[i]!) ** 2
        })
        expect(10 * Math.log10(difference / power)).toBeLessThan(-60)
      } finally {
        rmSync(folder, { recursive: true, force: true })
      }
    },
    120_000,
  )

  test("a link carries the piece to another machine; one that is cut off says so", async () => {
    const opened = await all.open()
    await settled(opened)
    await opened.page.keyboard.press("e")
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
