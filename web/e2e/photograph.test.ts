/** The photograph of the source beside the staves: added, regions drawn and laid with keys, followed, kept, in the file. */
import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("the photograph", () => {
  const all = windows()
  const panel = ({ page }: Opened) => page.getByRole("region", { name: "Photograph", exact: true })
  const regions = (opened: Opened) => panel(opened).getByRole("button", { name: /^Region \d/ })
  const lit = (opened: Opened) => panel(opened).locator(".region.lit button")

  /** What is shown of the window's own music, as a picture. */
  const picture = ({ page }: Opened): Promise<Buffer> => page.locator("section.time .systems svg").first().screenshot()

  async function give({ page }: Opened, ...files: { name: string; mimeType: string; buffer: Buffer }[]): Promise<void> {
    const chooser = page.waitForEvent("filechooser")
    await page.getByRole("button", { name: "Add a photograph …", exact: true }).click()
    await (await chooser).setFiles(files)
  }
  const png = (name: string, buffer: Buffer) => ({ name, mimeType: "image/png", buffer })

  async function photographed(opened: Opened): Promise<Buffer> {
    await settled(opened)
    const made = await picture(opened)
    await opened.page.keyboard.press("i")
    await panel(opened).waitFor()
    await give(opened, png("f. 1r.png", made))
    await panel(opened).getByRole("img", { name: "Photograph of the source: f. 1r" }).waitFor()
    return made
  }
  async function drag({ page }: Opened, from: readonly [number, number], to: readonly [number, number]): Promise<void> {
    const box = (await page.locator(".photograph-sheet").boundingBox())!
    const at = ([x, y]: readonly [number, number]) => [box.x + x * box.width, box.y + y * box.height] as const
    await page.mouse.move(...at(from))
    await page.mouse.down()
    await page.mouse.move(...at([(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]))
    await page.mouse.move(...at(to))
    await page.mouse.up()
  }

  test("regions are drawn, followed by the cursor, undone, kept, and go with the file", async () => {
    const context = await all.context({ viewport: { width: 1500, height: 1000 } })
    const opened = await all.open({ context })
    const { page, complaints } = opened
    const made = await photographed(opened)
    await drag(opened, [0.1, 0.1], [0.8, 0.3])
    await expect.poll(() => regions(opened).count()).toBe(1)
    await expect.poll(() => regions(opened).first().getAttribute("aria-label")).toMatch(/^Region 1: .+ from sign 1$/)
    await page.locator("section.page .listbox").focus()
    for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowRight")
    await page.getByLabel("A region for").selectOption({ label: "the music from this sign on" })
    await drag(opened, [0.1, 0.5], [0.8, 0.7])
    await expect.poll(() => regions(opened).count()).toBe(2)
    await expect.poll(() => lit(opened).getAttribute("aria-label")).toMatch(/^Region 2/)
    await isAccessible(opened)
    await page.locator("section.page .listbox").focus()
    await page.keyboard.press("ArrowLeft")
    await expect.poll(() => lit(opened).getAttribute("aria-label")).toMatch(/^Region 1/)
    await regions(opened).nth(1).click()
    await expect.poll(() => lit(opened).getAttribute("aria-label")).toMatch(/^Region 2/)
    await page.keyboard.press("Control+z")
    await expect.poll(() => regions(opened).count()).toBe(1)
    await page.keyboard.press("Control+Shift+z")
    await expect.poll(() => regions(opened).count()).toBe(2)
    await settled(opened)

    await page.reload()
    await settled(opened)
    await page.keyboard.press("i")
    await panel(opened).getByRole("img", { name: "Photograph of the source: f. 1r" }).waitFor()
    await expect.poll(() => regions(opened).count()).toBe(2)

    await page.keyboard.press("e")
    const download = page.waitForEvent("download")
    await page.getByRole("button", { name: /^MEI: the page/ }).click()
    const mei = readFileSync(await (await download).path(), "utf8")
    expect(mei.match(/<zone /g)).toHaveLength(2)
    const other = await all.open()
    await settled(other)
    await other.page.keyboard.press("o")
    await other.page
      .locator("input[type=file]")
      .setInputFiles({ name: "again.mei", mimeType: "text/xml", buffer: Buffer.from(mei) })
    await settled(other)
    await other.page.keyboard.press("i")
    await other.page.getByText("The picture f. 1r.png is not on this machine").waitFor()
    await expect.poll(() => regions(other).count()).toBe(2)
    const chooser = other.page.waitForEvent("filechooser")
    await other.page.getByRole("button", { name: "Choose the picture …" }).click()
    await (await chooser).setFiles([png("any name.png", made)])
    await panel(other).getByRole("img", { name: "Photograph of the source: f. 1r" }).waitFor()
    await expect.poll(() => regions(other).count()).toBe(2)
    expect([...complaints, ...other.complaints]).toEqual([])
  })

  test("a region is made, moved, drawn out and taken away with keys alone, a held key being one step", async () => {
    const opened = await all.open({ viewport: { width: 1500, height: 1000 } })
    const { page, complaints } = opened
    await photographed(opened)
    await page.locator("section.page .listbox").focus()
    await page.keyboard.press("ArrowRight")
    await page.keyboard.press("Shift+Enter")
    await expect.poll(() => regions(opened).count()).toBe(1)
    const place = () => page.locator(".region").evaluate(one => (one as HTMLElement).style.cssText)
    const before = await place()
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.getAttribute("aria-label")))
      .toMatch(/^Region 1/)
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowDown")
    await page.keyboard.press("Shift+ArrowLeft")
    await expect.poll(place).not.toBe(before)
    await page.keyboard.press("Enter")
    await page.keyboard.press("Control+z")
    await expect.poll(place).toBe(before)
    await regions(opened).first().focus()
    await page.keyboard.press("Delete")
    await expect.poll(() => regions(opened).count()).toBe(0)
    await page.keyboard.press("Control+z")
    await expect.poll(() => regions(opened).count()).toBe(1)
    expect(complaints).toEqual([])
  })

  test("what is no photograph is refused in plain words, whatever it is called; nothing of it runs", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    const made = await photographed(opened)
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" onload="globalThis.ran=1"><script>globalThis.ran=1</script></svg>`
    const vast = Buffer.from(made)
    vast.writeUInt32BE(60_000, 16)
    vast.writeUInt32BE(60_000, 20)
    const refused: readonly (readonly [string, Buffer, RegExp])[] = [
      ["a.svg", Buffer.from(svg), /^a\.svg is not a photograph that can be shown here/],
      ["b.png", Buffer.from(svg), /^b\.png is not a photograph/],
      ["c.jpg", Buffer.from("\u0000\u0001no picture"), /^c\.jpg is not a photograph/],
      ["d.png", made.subarray(0, 200), /^d\.png begins like a picture but cannot be decoded/],
      ["e.png", vast, /^e\.png has more than 120 million pixels/],
      ["f.gif", Buffer.from("GIF89a"), /^f\.gif is not a photograph/],
    ]
    for (const [name, buffer, told] of refused) {
      await give(opened, png(name, buffer))
      await page.getByRole("status").filter({ hasText: told }).waitFor()
    }
    expect(await panel(opened).getByRole("img").count()).toBe(1)
    await give(opened, png("<img src=x onerror=globalThis.ran=1>.png", made))
    await panel(opened).getByRole("button", { name: "<img src=x onerror=globalThis.ran=1>", exact: true }).waitFor()
    await isAccessible(opened)
    expect(await page.evaluate(() => (globalThis as { ran?: unknown }).ran)).toBeUndefined()
    expect(complaints).toEqual([])
  })

  test("on a telephone it lies under the staves, nothing to be scrolled sideways", async () => {
    const opened = await all.open({ viewport: { width: 390, height: 844 } })
    await photographed(opened)
    const isWide = await opened.page.evaluate(
      () => document.documentElement.scrollWidth > document.documentElement.clientWidth,
    )
    expect(isWide).toBe(false)
    await isAccessible(opened)
  })
})
