/** What goes out: files as the command line makes them, and a piece within an address. */
import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("export", () => {
  const all = windows()

  async function saved({ page }: Opened, name: RegExp): Promise<{ file: string; text: string }> {
    const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name }).click()])
    return { file: download.suggestedFilename(), text: readFileSync(await download.path(), "utf8") }
  }

  test("every file that is offered is made and saved under the piece's name", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("e")
    await page.getByRole("region", { name: "Export", exact: true }).waitFor()
    await isAccessible(opened)
    for (const [name, file, text] of [
      [/^MEI: the page/, "Quatre-vens.mei", /meiversion="5.1"/],
      [/^Shorthand/, "Quatre-vens.figurae", /^title: Quatre vens/],
      [/^MusicXML/, "Quatre-vens.musicxml", /<score-partwise version="4.0"/],
      [/^MEI: the modern/, "Quatre-vens.modern.mei", /<measure/],
      [/^MIDI/, "Quatre-vens.mid", /^MThd/],
      [/^CSV/, "Quatre-vens.csv", /cantus/],
      [/^JSON/, "Quatre-vens.json", /"format": "resolutio-reading"/],
      [/^SVG: the old/, "Quatre-vens.page.svg", /^<svg/],
      [/^SVG: the voices/, "Quatre-vens.time.svg", /^<svg/],
    ] as const) {
      const got = await saved(opened, name)
      expect(got.file).toBe(file)
      expect(got.text).toMatch(text)
    }
    await page.getByText(/is with your downloads/).waitFor()
    expect(complaints).toEqual([])
  })

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
