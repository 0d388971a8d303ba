/** The HTML file that shows, explains and plays a piece: made in the window, opened from the disk without a network. */
import { readFileSync } from "node:fs"
import { pathToFileURL } from "node:url"
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows } from "./testing/window.js"

describe.skipIf(!hasBrowser)("one HTML file", () => {
  const all = windows()

  test("a sign is asked, the sound is followed, light and dark; nothing is fetched", async () => {
    const opened = await all.open()
    await settled(opened)
    await opened.page.keyboard.press("e")
    const button = opened.page.getByRole("button", { name: /^One HTML file/ })
    const [download] = await Promise.all([opened.page.waitForEvent("download", { timeout: 90_000 }), button.click()])
    expect(download.suggestedFilename()).toBe("Quatre-vens.html")
    const path = await download.path()
    expect(readFileSync(path, "utf8")).toMatch(/^<!doctype html>/)
    await opened.page.close()

    const context = await all.context({ offline: true })
    const page = await context.newPage()
    const complaints: string[] = []
    page.on("pageerror", error => complaints.push(error.message))
    page.on("console", message => complaints.push(message.text()))
    await download.saveAs(`${path}.html`)
    await page.goto(pathToFileURL(`${path}.html`).href)
    const shown = { page, context, complaints }
    await isAccessible(shown)

    await page.locator("#page g.note").nth(2).click()
    await page.getByText("¶ cantus 3.").waitFor()
    expect(await page.locator("#time .cartouche").count()).toBe(1)
    await page.locator("#page").press("ArrowRight")
    await page.getByText("¶ cantus 4.").waitFor()
    await page.locator("#page").press("ArrowDown")
    await page.getByText("¶ tenor").waitFor()

    expect(await page.getByLabel("Level", { exact: true }).inputValue()).toBe("0.25")
    await page.locator("#time").press(" ")
    const wedge = page.locator("#time .axis-wedge")
    await wedge.waitFor({ state: "attached" })
    const at = (): Promise<string | null> => wedge.getAttribute("d")
    const first = await at()
    await expect.poll(at, { timeout: 20_000 }).not.toBe(first)
    await page.getByRole("button", { name: "Pause", exact: true }).click()
    await page.getByRole("button", { name: "Listen", exact: true }).waitFor()
    await page.getByRole("button", { name: "Dark", exact: true }).click()
    await page.getByRole("button", { name: "Light", exact: true }).waitFor()
    await isAccessible(shown)
    expect(complaints).toEqual([])
  }, 120_000)
})
