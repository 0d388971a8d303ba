/** The presenter's view: the music alone, sheet by sheet and step by step, by keys. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("the presenter's view", () => {
  const all = windows()
  const HALL = { viewport: { width: 1920, height: 1080 } }
  const foot = ({ page }: Opened, text: string | RegExp) => page.getByRole("status").filter({ hasText: text }).waitFor()
  /** Layers that are seen. */
  const seen = ({ page }: Opened) => page.locator(".lecture-step:not(.coming)").count()

  /** Where the wedge stands on the axis, frame after frame. */
  const placesOf = ({ page }: Opened, frames: number): Promise<string[]> =>
    page.evaluate(async count => {
      const places: string[] = []
      while (places.length < count) {
        await new Promise(requestAnimationFrame)
        const wedge = document.querySelector(".wall .moment .wedge")
        if (wedge) places.push(wedge.getAttribute("d") ?? "")
      }
      return places
    }, frames)

  async function presenting(options?: object): Promise<Opened> {
    const opened = options ? await all.open(options) : await all.shared()
    if (options) await settled(opened)
    else await opened.page.setViewportSize(HALL.viewport)
    await opened.page.keyboard.press("Shift+P")
    await foot(opened, /^Sheet 1 of \d+\. Signs$/)
    return opened
  }

  test("goes on step by step and sheet by sheet, and back; nothing but the music is there", async () => {
    const opened = await presenting()
    const { page, complaints } = opened
    expect(await page.getByRole("button").count()).toBe(0)
    expect(await seen(opened)).toBe(1)
    await isAccessible(opened)
    await page.keyboard.press("ArrowRight")
    await foot(opened, "Perfections")
    await page.keyboard.press("PageDown")
    await foot(opened, "Imperfections")
    await page.keyboard.press("ArrowLeft")
    await foot(opened, "Perfections")
    expect(await seen(opened)).toBe(2)
    await page.keyboard.press("ArrowDown")
    await foot(opened, /^Sheet 2 of \d\. Signs$/)
    await page.keyboard.press("PageUp")
    await foot(opened, /^Sheet 1 of \d\. Result$/)
    await page.keyboard.press("End")
    await foot(opened, /^Sheet (\d) of \1\. Signs$/)
    await page.keyboard.press("Home")
    await page.keyboard.press("s")
    await foot(opened, /^Sheet 1 of \d\. Result$/)
    await page.keyboard.press("ArrowRight")
    await foot(opened, /^Sheet 2 of \d\. Result$/)
    await page.keyboard.press("1")
    await page.locator(".wall .initial, .wall .staff, .wall .line").first().waitFor({ state: "attached" })
    await page.keyboard.press("g")
    await isAccessible(opened)
    await page.keyboard.press("Escape")
    await page.getByRole("region", { name: "Time", exact: true }).waitFor()
    expect(complaints).toEqual([])
  })

  test("it is heard from the sheet that is shown, and the sheets follow", async () => {
    const opened = await all.open(HALL)
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("s")
    await page.getByRole("combobox", { name: "Sound", exact: true }).selectOption("tone")
    await page.getByRole("combobox", { name: "Tempo", exact: true }).selectOption("minima")
    const perMinute = page.getByRole("spinbutton", { name: "in a minute", exact: true })
    await perMinute.fill("900")
    await perMinute.press("Enter")
    await page.keyboard.press("Escape")
    await page.locator("section.time .listbox").focus()
    await page.keyboard.press("Shift+P")
    await foot(opened, /^Sheet 1 of \d+\. Signs$/)
    await page.keyboard.press(" ")
    await page.locator(".wall .moment .wedge").waitFor({ state: "attached", timeout: 60_000 })
    const places = await placesOf(opened, 20)
    // it glides: at most once in a while two frames show it in the same place
    expect(new Set(places).size).toBeGreaterThan(15)
    await foot(opened, /^Sheet 2 of \d/)
    await page.keyboard.press(" ")
    await page.keyboard.press("Shift+ ")
    await expect.poll(() => page.locator(".wall .wedge[d*=M]").count()).toBe(0)
    // whoever wants no motion sees it go from sign to sign
    await page.emulateMedia({ reducedMotion: "reduce" })
    await page.keyboard.press(" ")
    await page.locator(".wall .moment .wedge").waitFor({ state: "attached", timeout: 60_000 })
    expect(new Set(await placesOf(opened, 20)).size).toBeLessThan(10)
    expect(complaints).toEqual([])
  }, 120_000)

  test("a finger leafs and leaves where no key is at hand", async () => {
    const opened = await presenting({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true })
    const { page } = opened
    const [room, wall] = await page.evaluate(() => [innerWidth, document.querySelector(".wall svg")!.clientWidth])
    expect(wall).toBeLessThanOrEqual(room!)
    await isAccessible(opened)
    await page.locator(".wall").tap()
    await foot(opened, "Perfections")
    await page.locator(".wall").tap({ position: { x: 20, y: 300 } })
    await foot(opened, /Signs$/)
    await page.getByRole("button", { name: "Onward" }).tap()
    await foot(opened, "Perfections")
    await page.getByRole("button", { name: "Leave" }).tap()
    await page.getByRole("region", { name: "Time", exact: true }).waitFor()
  })

  test("no letter on the wall is smaller than can be read at three metres", async () => {
    const opened = await presenting(HALL)
    // 24 px of 1080 lines: on a wall 1.5 m high letters of 33 mm, more than a three-hundredth of 3 m
    const smallest = await opened.page
      .locator(".wall text")
      .evaluateAll(texts => Math.min(...texts.map(one => parseFloat(getComputedStyle(one).fontSize))))
    expect(smallest).toBeGreaterThanOrEqual(24)
  })

  test("begins where one stands, and moves nothing softly for whoever wants no motion", async () => {
    const opened = await all.open({ ...HALL, reducedMotion: "reduce" })
    await settled(opened)
    await opened.page.keyboard.press("End")
    await opened.page.keyboard.press("Shift+P")
    await foot(opened, /^Sheet [2-9] of \d\. Signs$/)
    // all at once in the page: a sheet that is drawn anew meanwhile would leave a step that is no longer there
    const moving = await opened.page
      .locator(".lecture-step")
      .evaluateAll(all => [...new Set(all.map(one => getComputedStyle(one).transitionDuration))])
    expect(moving).toEqual(["0s"])
    await opened.page.keyboard.press("ArrowRight")
    await foot(opened, "Perfections")
  })
})
