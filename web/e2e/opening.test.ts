/** The window as a new user meets it, and what it keeps. */
import { describe, expect, test } from "vitest"
import { hasBrowser, headline, isAccessible, settled, windows } from "./testing/window.js"

describe.skipIf(!hasBrowser)("the window", () => {
  const all = windows()

  test("opens with a demo piece in time, and one sentence on what to do next", async () => {
    const opened = await all.open({ rehearsed: true })
    const { page, complaints } = opened
    await settled(opened)
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("Quatre vens")
    await page.locator("section.time svg .duration").first().waitFor()
    expect(await page.locator("section.page svg").count()).toBe(0)
    await page.getByText("Ask any sign why it lasts as long as it does.").waitFor()
    // whatever else can be wanted is loaded by now, though nothing asked for it
    await page.waitForLoadState("networkidle")
    await isAccessible(opened, { drawings: true })
    expect(complaints).toEqual([])
  })

  test("a sign asked with the arrow keys has its reason, its causes, its thread, the same sign in every band", async () => {
    const opened = await all.open()
    const { page } = opened
    await settled(opened)
    await page.keyboard.press("1")
    // a sign without length is told too, and there is nothing to decide on it
    await page.keyboard.press("ArrowRight")
    await headline(opened, "A clef of c")
    expect(await page.getByRole("button", { name: /^Decide/ }).count()).toBe(0)
    expect(await page.locator("section.time [role=option]").textContent()).toBe(
      "cantus, clef of c. The first line from below is middle c from here on.",
    )
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight")
    // clef, sign, then the first two notes: the second semibreve of the first perfection gives a third to the minim
    await headline(opened, "A semibreve of two minims, not three")
    await page.locator("section.page .cartouche").waitFor()
    await page.locator("section.time .cartouche").waitFor()
    await page.locator("section.time .because").waitFor()
    await page.locator("svg.thread path").waitFor({ state: "attached" })
    const spoken = await page.locator("section.time [role=option]").textContent()
    expect(spoken).toMatch(/^cantus 2, semibreve on f 4, imperfect, two minims$/)
    await isAccessible(opened, { drawings: true })
    await page.keyboard.press("ArrowDown")
    await headline(opened, "A breve of nine minims")
    await page.keyboard.press("Escape")
    await page.getByText("Ask any sign why").waitFor()
  })

  test("a sign is asked by pointing at it", async () => {
    const opened = await all.shared()
    const { page } = opened
    await page.locator("section.time .duration").nth(1).click()
    await headline(opened, "A semibreve of two minims, not three")
    await page.keyboard.press("1")
    const sign = page.locator("section.page [data-sign]").nth(3)
    const { x, y, width, height } = (await sign.boundingBox())!
    await page.mouse.click(x + width / 2, y + height / 2)
    await page.locator("section.page .cartouche").waitFor()
  })

  test("every sheet turns in place of the bands, is reached by keys, and is accessible", async () => {
    const opened = await all.shared()
    const { page, complaints } = opened
    for (const [key, title] of [
      ["o", "Open"],
      ["/", "Find an act"],
      ["?", "Keys"],
    ] as const) {
      await page.keyboard.press(key)
      await page.getByRole("region", { name: title, exact: true }).waitFor()
      await isAccessible(opened)
      await page.keyboard.press("Escape")
      await page.locator("section.time").waitFor()
    }
    await page.keyboard.press("g")
    await isAccessible(opened)
    expect(complaints).toEqual([])
  })

  test("an act is found by its words and done", async () => {
    const opened = await all.fresh()
    const { page } = opened
    await page.keyboard.press("/")
    await page.keyboard.type("pag")
    await page.keyboard.press("Enter")
    await page.locator("section.page svg").first().waitFor()
  })

  test("a new piece is begun, kept, and found again after the window was closed", async () => {
    const context = await all.context()
    const opened = await all.open({ context })
    const { page } = opened
    await settled(opened)
    await page.keyboard.press("o")
    await page.getByLabel("Title").fill(`<img src=x onerror="alert(1)">`)
    await page.getByLabel("Voices").fill("triplum, <b>motetus</b>, tenor")
    await page.getByRole("button", { name: "Begin the piece" }).click()
    await settled(opened)
    expect(await page.locator("section.page svg .line").count()).toBe(3)
    await page.close()
    const again = await all.open({ context })
    await settled(again)
    expect(await again.page.getByRole("heading", { level: 1 }).textContent()).toBe(`<img src=x onerror="alert(1)">`)
    expect(again.complaints).toEqual([])
  })
})
