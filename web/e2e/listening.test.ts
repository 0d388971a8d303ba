/** Listening: the sound is made in the window, plays, is followed in the views, and can be stopped. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows } from "./testing/window.js"

describe.skipIf(!hasBrowser)("listening", () => {
  const all = windows()

  test("the space bar plays; page and time show what sounds; pause and stop", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("1")
    await page.keyboard.press(" ")
    await page.getByRole("region", { name: "Listening" }).waitFor()
    await page.getByText("Playback begins quietly.").waitFor({ timeout: 60_000 })
    await page.locator("section.time path.wedge").waitFor({ state: "attached" })
    await page.locator("section.page .wedge").first().waitFor({ state: "attached" })
    const at = (): Promise<string | null> => page.locator("section.time path.wedge").getAttribute("d")
    const first = await at()
    await expect.poll(at).not.toBe(first)
    await isAccessible(opened)
    await page.keyboard.press(" ")
    await page.getByRole("button", { name: "Listen" }).last().waitFor()
    await page.getByRole("button", { name: "Stop the sound" }).click()
    expect(await page.locator("section.time path.wedge").count()).toBe(0)
    expect(complaints).toEqual([])
  }, 120_000)
})
