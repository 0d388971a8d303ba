/** Accidentals that the intervals ask for: gone through, accepted and refused by keys, and seen in the edition. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, openText, windows } from "./testing/window.js"

/** Of our own making: b in the tenor against f, and a single b above a in the cantus. */
const PIECE = `title: B or not
voice cantus practice=white
C S g4 f4 B g4 S f4 a4 b4 a4 L g4
voice tenor practice=white
C S c3 b2 B g2 S d3 d3 d3 d3 L g2`

/** The tenor's b meets the f three times. */
const THRICE = `title: B thrice
voice cantus practice=white
C S g4 f4 B g4 S g4 f4 B g4 S g4 f4 L g4
voice tenor practice=white
C S c3 b2 B g2 S c3 b2 B g2 S c3 b2 L g2`

describe.skipIf(!hasBrowser)("proposed accidentals", () => {
  const all = windows()

  async function openPiece(text: string, title: string, window = all.shared()) {
    const opened = await window
    await openText(opened, text, title)
    return opened
  }

  test("are walked through by keys; each verdict is one step, a decision, and stands in the edition", async () => {
    const opened = await openPiece(PIECE, "B or not")
    const { page, complaints } = opened
    const items = page.locator(".accidentals ul.matters").first().locator("li")
    const summary = (text: string) => page.locator(".accidentals p.sentence").filter({ hasText: text }).waitFor()
    const flats = () => page.locator("svg.engraved .accid").count()
    await page.keyboard.press("a")
    await summary("Proposed: 1 required, 1 likely.")
    await isAccessible(opened)
    // nothing is decided unseen: first it is gone to
    await page.keyboard.press("y")
    await page.locator(".accidentals [aria-current=true]").filter({ hasText: "tenor 2 b flat." }).waitFor()
    await summary("Proposed: 1 required, 1 likely.")
    await page.keyboard.press("n")
    await page.locator(".accidentals [aria-current=true]").filter({ hasText: "cantus 6" }).waitFor()
    await page.keyboard.press("Shift+N")
    await page.locator(".accidentals [aria-current=true]").filter({ hasText: "tenor 2 b flat." }).waitFor()
    // none is shown before it is accepted or asked for
    await page.keyboard.press("3")
    await page.locator("svg.engraved .note").first().waitFor({ timeout: 60_000 })
    expect(await flats()).toBe(0)
    // two keys, one after the other
    await page.keyboard.press("y")
    await page.keyboard.press("u")
    await summary("Nothing is proposed.")
    await expect.poll(flats).toBe(1)
    await page.getByRole("button", { name: "tenor 2 it is sung flat. With the cantus" }).waitFor()
    await page.keyboard.press("Control+z")
    await summary("Proposed: 1 likely.")
    await page.keyboard.press("Shift+A")
    await page.getByText("The edition shows accidentals that are required.").waitFor()
    expect(await flats()).toBe(1)
    await page.keyboard.press("Shift+A")
    await expect.poll(flats).toBe(2)
    await page.keyboard.press("Control+z")
    await summary("Proposed: 1 required, 1 likely.")
    expect(await items.count()).toBe(2)
    // what had the keys is gone: the next has them
    await items.first().getByRole("button").focus()
    await page.keyboard.press("y")
    await summary("Proposed: 1 likely.")
    await expect.poll(() => page.locator(":focus").innerText()).toContain("cantus 6")
    await isAccessible(opened)
    expect(complaints).toEqual([])
  }, 120_000)

  test("all of one voice for one reason are refused at once, and one step back brings them back", async () => {
    const opened = await openPiece(THRICE, "B thrice", all.fresh())
    const { page, complaints } = opened
    await page.keyboard.press("a")
    await page.keyboard.press("n")
    await page.locator(".accidentals [aria-current=true]").waitFor()
    const summary = await page.locator(".accidentals p.sentence").innerText()
    await page.getByRole("button", { name: /^Refuse all 3 like it/ }).waitFor()
    await isAccessible(opened)
    await page.keyboard.press("Shift+U")
    await page.getByRole("status").filter({ hasText: "Refused: 3 alike (tenor, false fifth, flat)." }).waitFor()
    await expect.poll(() => page.locator(".accidentals li.proposed").count()).toBe(3)
    expect(await page.locator(".accidentals .matter b", { hasText: "tenor" }).count()).toBe(0)
    await page.keyboard.press("Control+z")
    await page.locator(".accidentals p.sentence", { hasText: summary }).waitFor()
    await expect.poll(() => page.locator(".accidentals li.proposed").count()).toBe(0)
    expect(complaints).toEqual([])
  }, 120_000)
})
