/** Writing a piece: on the drawn page with keys and clicks, and as text; both are one document. */
import { describe, expect, test } from "vitest"
import { hasBrowser, headline, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("writing", () => {
  const all = windows()

  /** A new piece of one voice, the page open and its text beside it. */
  async function begun(withText = true, window = all.shared()): Promise<Opened> {
    const opened = await window
    const { page } = opened
    await page.keyboard.press("o")
    await page.getByLabel("Title").fill("Invented")
    await page.getByLabel("Voices").fill("tenor")
    await page.getByRole("button", { name: "Begin the piece" }).click()
    await settled(opened)
    if (withText !== (await page.locator(".text-beside").isVisible())) await page.keyboard.press("x")
    if (withText) await page.locator(".cm-content").waitFor()
    return opened
  }
  const textOf = ({ page }: Opened): Promise<string> => page.locator(".cm-content").innerText()
  const hasText = async (opened: Opened, wanted: RegExp): Promise<void> => {
    await expect.poll(() => textOf(opened), { timeout: 5000 }).toMatch(wanted)
  }

  test("keys write a voice, bind a ligature, and the reading follows; every act can be undone", async () => {
    const opened = await begun()
    const { page, complaints } = opened
    await page.keyboard.press("w")
    await page.getByRole("toolbar", { name: "Writing" }).waitFor()
    for (const key of ["3", "a", "g", "2", "f"]) await page.keyboard.press(key)
    await hasText(opened, /B a\d g L f/)
    await isAccessible(opened)
    await page.keyboard.press("Escape")
    await headline(opened, /A long of/)
    await page.keyboard.press("w")
    await page.keyboard.press("ArrowLeft")
    await page.keyboard.press("Shift+ArrowLeft")
    expect(await page.locator("section.page .cartouche").count()).toBe(2)
    await page.keyboard.press("l")
    await hasText(opened, /\[a\d g\] L f/)
    await page.keyboard.press("l")
    await hasText(opened, /\[a\d\/down\(left\) g\]/)
    await page.keyboard.press("Control+z")
    await page.keyboard.press("Control+z")
    await hasText(opened, /B a\d g L f/)
    await page.keyboard.press("Control+Shift+z")
    await hasText(opened, /\[a\d g\] L f/)
    expect(complaints).toEqual([])
  })

  test("a click on the staff writes a note at that height", async () => {
    const opened = await begun()
    const { page } = opened
    await page.keyboard.press("w")
    const staff = (await page.locator("section.page svg .line").first().boundingBox())!
    const middle = await page.locator("section.page .listbox").boundingBox()
    await page.mouse.click(middle!.x + 260, staff.y + staff.height / 2)
    await hasText(opened, /S [a-g]\d/)
  })

  test("text that is typed becomes signs; signs that stay keep their ids and decisions", async () => {
    const opened = await begun()
    const { page } = opened
    await page.locator(".cm-content").click()
    await page.keyboard.press("Control+End")
    await page.keyboard.type("\nL c4 d\n")
    await settled(opened)
    const before = await page
      .locator("section.page [data-sign]")
      .evaluateAll(all => all.map(one => one.getAttribute("data-sign")))
    await page.keyboard.press("Control+End")
    await page.keyboard.type("B e")
    await expect.poll(() => page.locator("section.page [data-sign]").count()).toBe(before.length + 1)
    const after = await page
      .locator("section.page [data-sign]")
      .evaluateAll(all => all.map(one => one.getAttribute("data-sign")))
    expect(after).toEqual(expect.arrayContaining(before))
    await page.keyboard.press("Control+z")
    await expect.poll(() => textOf(opened)).not.toMatch(/B e/)
  })

  test("the cursor of the text and the selected sign follow each other", async () => {
    const opened = await begun(true, all.fresh())
    const { page } = opened
    await page.locator(".cm-content").click()
    await page.keyboard.press("Control+End")
    await page.keyboard.type("\nL c4 B d e [f g] L a\n")
    await settled(opened)
    await page.keyboard.press("ArrowUp")
    await page.keyboard.press("End")
    const asked = page.locator(".cm-asked")
    const spoken = page.locator("section.page [role=option]")
    await expect.poll(() => asked.innerText()).toBe("a")
    await expect.poll(() => spoken.textContent()).toMatch(/^tenor \d+, long on a/)
    for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowLeft")
    await expect.poll(() => spoken.textContent()).toMatch(/on g/)
    await expect.poll(() => asked.innerText()).toBe("g")
    await page.locator("section.page .listbox").focus()
    await page.keyboard.press("ArrowLeft")
    await page.keyboard.press("ArrowLeft")
    await expect.poll(() => asked.innerText()).toBe("e")
    // and the cursor stands behind that word
    await page.locator(".cm-content").focus()
    await page.keyboard.type(" b")
    await hasText(opened, /B d e b \[f g\] L a/)
    await expect.poll(() => spoken.textContent()).toMatch(/on b/)
    expect(opened.complaints).toEqual([])
  })

  test("a place that cannot be read is told with its mend, the page waits, and the text outlives the window", async () => {
    const context = await all.context()
    const opened = await all.open({ context })
    const { page } = opened
    await settled(opened)
    await page.keyboard.press("x")
    await page.locator(".cm-content").click()
    await page.keyboard.press("Control+End")
    await page.keyboard.type("\nB <img src=x onerror=alert(1)> q4")
    await page.getByText(/in the text cannot be read/).waitFor()
    await page.locator(".cm-lintRange-error").first().waitFor()
    await page.close({ runBeforeUnload: false })
    const again = await all.open({ context })
    await settled(again)
    await again.page.keyboard.press("x")
    await again.page.locator(".cm-content").click()
    await again.page.keyboard.press("Control+End")
    await expect.poll(() => textOf(again)).toMatch(/B <img.*q4/)
    expect(again.complaints).toEqual([])
  })
})
