/** The first walk: every step says what to do, and notices that it was done. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("a first walk", () => {
  const all = windows()
  const line = ({ page }: Opened) => page.getByRole("region", { name: "A first walk", exact: true })
  const step = (opened: Opened, n: number) =>
    line(opened)
      .getByText(new RegExp(`^${n} of 15$`))
      .waitFor()

  test("is walked with the keys it names, from the first sign to the last, and leaves the piece that was open alone", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    const title = await page.getByRole("heading", { level: 1 }).textContent()
    await page.getByRole("button", { name: "A first walk", exact: true }).click()
    await step(opened, 1)
    await settled(opened)
    await isAccessible(opened)
    const keys: readonly (readonly string[])[] = [
      ["ArrowRight", "ArrowRight", "ArrowRight"],
      ["ArrowRight"],
      ["ArrowDown"],
      ["q"],
      [],
      ["Escape", "Escape"],
      ["w"],
      ["3", "b"],
      ["ArrowUp"],
      ["Control+z"],
      ["Escape"],
    ]
    for (const [i, pressed] of keys.entries()) {
      await step(opened, i + 1)
      // anything else does not pass for it
      if (i === 3) await page.keyboard.press("r")
      if (i === 4) await page.locator(".choice-list button").first().press("Enter")
      for (const key of pressed) await page.keyboard.press(key)
    }
    await step(opened, 12)
    await page.keyboard.press(" ")
    await step(opened, 13)
    await page.keyboard.press("Shift+ ")
    await step(opened, 14)
    await page.keyboard.press("/")
    await step(opened, 15)
    await page.keyboard.press("Escape")
    await line(opened).getByText("That is the whole round.").waitFor()
    await line(opened).getByRole("button", { name: "Leave the walk" }).click()
    await expect.poll(() => line(opened).count()).toBe(0)
    await page.keyboard.press("o")
    await page
      .getByRole("region", { name: "Go on with", exact: true })
      .getByRole("button", { name: new RegExp(`^${title}`) })
      .waitFor()
    expect(complaints).toEqual([])
  })

  test("can be passed over and left, is begun by its key, and ends where another piece is opened", async () => {
    const opened = await all.open({ viewport: { width: 390, height: 844 } })
    const { page } = opened
    await settled(opened)
    await page.keyboard.press("h")
    await step(opened, 1)
    await line(opened).getByRole("button", { name: "Pass over" }).click()
    await step(opened, 2)
    await isAccessible(opened)
    await page.keyboard.press("o")
    await page.getByLabel("Title").fill("Another")
    await page.getByRole("button", { name: "Begin the piece" }).click()
    await page.getByRole("heading", { level: 1, name: "Another" }).waitFor()
    await expect.poll(() => line(opened).count()).toBe(0)
  })
})
