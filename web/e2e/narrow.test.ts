/** On a telephone, and read at 200 %: everything can be reached, nothing has to be scrolled sideways. */
import { describe, expect, test } from "vitest"
import { hasBrowser, headline, isAccessible, settled, windows } from "./testing/window.js"

describe.skipIf(!hasBrowser)("a small window", () => {
  const all = windows()
  test.each([
    ["a telephone", 360, 740],
    ["200 % of 1280 × 800", 640, 400],
    ["a telephone across", 740, 360],
  ])("%s", async (_, width, height) => {
    const opened = await all.open({ viewport: { width, height } })
    const { page } = opened
    await settled(opened)
    const isWide = (): Promise<boolean> =>
      page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth)
    expect(await isWide()).toBe(false)
    await isAccessible(opened)
    await page.locator("section.time .duration").nth(1).click()
    await headline(opened, "A semibreve of two minims, not three")
    // where there is no room for the reason its headline stands in the last line, and leads to it
    if (height < 500) await page.locator("footer.last button.reason-below").click()
    await expect
      .poll(() => page.locator("h3.headline").evaluate(one => one.getBoundingClientRect().bottom < innerHeight))
      .toBe(true)
    expect(await page.locator("footer.last button.reason-below").count()).toBe(0)
    for (const name of ["Doubts", "Measure", "Repeats", "Accidentals", "Practice", "Reason"]) {
      await page.getByRole("button", { name, exact: true }).click()
      expect(await isWide(), name).toBe(false)
      // both at one moment: what is told comes a little later and makes room for itself
      const apart = await page.evaluate(() => {
        const [names, told] = ["nav.gutter", ".chapter"].map(one =>
          document.querySelector(one)!.getBoundingClientRect(),
        )
        return names!.right <= told!.left + 9 || names!.bottom <= told!.top + 1
      })
      expect(apart, `${name} lies under the names`).toBe(true)
    }
    // what a key asks for comes into sight, and what has the keys is seen
    const isSeen = (query: string): Promise<boolean> =>
      page.evaluate(one => {
        const [box, middle] = [one, "main.bands"].map(which => document.querySelector(which)!.getBoundingClientRect())
        return box!.top >= middle!.top - 1 && box!.top <= middle!.bottom - 24
      }, query)
    await page.locator("section.time").scrollIntoViewIfNeeded()
    await page.keyboard.press("m")
    await expect.poll(() => isSeen("div.chapter .voice-name")).toBe(true)
    await page.keyboard.press("Escape")
    await page.locator("section.time .duration").nth(1).click()
    await page.keyboard.press("d")
    await expect.poll(() => isSeen("form.deciding :focus")).toBe(true)
    await page.keyboard.press("Escape")
    await page.getByRole("button", { name: "Page", exact: true }).click()
    await page.locator("section.page svg").first().waitFor()
    expect(await isWide()).toBe(false)
    await page.getByRole("button", { name: "Open", exact: true }).click()
    await page.getByRole("region", { name: "Open", exact: true }).waitFor()
    expect(await isWide()).toBe(false)
    await isAccessible(opened)
    const small = await page.evaluate(() =>
      [...document.querySelectorAll("button, select, input:not([hidden]), summary")]
        .map(one => ({ box: one.getBoundingClientRect(), text: one.textContent }))
        .filter(({ box }) => box.width > 0 && (box.width < 24 || box.height < 20))
        .map(({ text }) => text),
    )
    expect(small).toEqual([])
    await page.keyboard.press("Escape")
    await page.getByRole("button", { name: "Export", exact: true }).click()
    await page.getByRole("region", { name: "Export", exact: true }).waitFor()
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll("main button")]
        .filter(one => one.getBoundingClientRect().right > document.documentElement.clientWidth)
        .map(({ textContent }) => textContent),
    )
    expect(cut).toEqual([])
    expect(opened.complaints).toEqual([])
  })
})
