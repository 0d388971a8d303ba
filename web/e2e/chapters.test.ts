/** The chapters of the lowest band: doubts and slips, the measure, what comes again, the practice. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, openText, settled, windows, type Opened } from "./testing/window.js"

/** Of our own making: the tenor lost a breve, so it comes four minims short. */
const SLIP = `title: A slip
voice cantus black practice=ars-nova
clef:C1 C S c5 d e d M c b4 a g S a b c5 d e f M e d c b4 a b c5 S d e f M e d c S b4 c5 B d c L c
voice tenor black practice=ars-nova
clef:C4 C B c4 g3 a f c4 b3 a g a d4 c g3 L c`

const UNSIGNED = `title: Without a sign
voice cantus white
B c4 S d4 B e4 f4 S e4 d4 B e4 . S d4 B c4 e4 S d4 B f4 S e4 d4 c4 B d4 S e4 B f4 S g4 f4 B e4 . S d4 B c4 L d4
voice tenor white
L c3 B d3 c3 L e3 d3 c3 d3 B c3 d3 L e3`

const TENOR = `title: A tenor
voice tenor black practice=ars-nova
clef:C4 mens:modusmaior=2:modus=2:tempus=2:prolatio=2
L d3 B f e rB L g B a S g f rL2  L e B d c rB L d B e S f g rL2
L d3 L f B e rB L g B a S g f rL2  L e B d c rB L d B e S f g rL2`

describe.skipIf(!hasBrowser)("chapters", () => {
  const all = windows()
  async function open(text: string, window = all.shared()): Promise<Opened> {
    const opened = await window
    await openText(opened, text, /^(A |Without)/)
    return opened
  }

  test("what is in doubt or parts is listed, and walked through by a key", async () => {
    const opened = await open(SLIP)
    const { page } = opened
    await page.keyboard.press("l")
    await page.locator("ul.matters li").first().waitFor()
    await isAccessible(opened)
    await page.keyboard.press("n")
    await page.locator("section.time .cartouche").waitFor()
  })

  test("slips are looked for, supposed, made with a trace for the report, and taken back", async () => {
    const opened = await open(SLIP)
    const { page } = opened
    await page.keyboard.press("l")
    await page.getByRole("button", { name: "Look for slips of the pen" }).click()
    const first = page.locator("li.proposed").first()
    await first.waitFor({ timeout: 60_000 })
    await isAccessible(opened)
    await first.getByRole("button", { name: "What if" }).click()
    await page.getByText("Only supposed: nothing is changed.").waitFor()
    await page.keyboard.press("Escape")
    await page.keyboard.press("l")
    // what was found is still there; with keys alone it is made
    await first.locator("button").first().focus()
    await page.keyboard.press("Tab")
    await page.keyboard.press("Tab")
    await page.keyboard.press("Enter")
    await page.getByText("For the critical report:").waitFor()
    await settled(opened)
    await page.getByRole("status").filter({ hasText: "The voices meet at their finals." }).waitFor()
    await page.keyboard.press("Control+z")
    await settled(opened)
    await page.getByRole("status").filter({ hasText: "The voices do not meet" }).waitFor()
    // the search is in the list of acts, and whoever began it there stands on it, and then on what it found
    await page.keyboard.press("/")
    await page.keyboard.type("slips")
    await page.keyboard.press("Enter")
    await page.locator("button:focus", { hasText: "Stop looking" }).waitFor()
    await page.locator("li.proposed button:focus").waitFor({ timeout: 60_000 })
    expect(opened.complaints).toEqual([])
  })

  test("the evidence for the measure is told, leads to its signs, and the signs can be written", async () => {
    const opened = await open(UNSIGNED)
    const { page } = opened
    await page.keyboard.press("m")
    await page.getByText("perfect tempus", { exact: false }).first().waitFor({ timeout: 60_000 })
    await isAccessible(opened)
    await page.locator("li.evidence button").first().click()
    await page.locator("section.time .cartouche").waitFor()
    await page.getByRole("button", { name: "Write the signs that were found" }).click()
    await settled(opened)
    await page.locator("section.time .capital").first().waitFor({ state: "attached" })
    expect(opened.complaints).toEqual([])
  })

  test("color and talea stand statement under statement; what differs is marked and said", async () => {
    const opened = await open(TENOR, all.fresh())
    const { page } = opened
    await page.keyboard.press("t")
    await page.getByText("Two colores, each of two taleae.").waitFor()
    await page
      .getByRole("button", { name: "tenor 20 (talea 3, place 2): longa, where the others have brevis" })
      .waitFor()
    expect(await page.locator("table").first().locator("tbody tr").count()).toBe(2)
    await isAccessible(opened)
    await page.locator("table td button").first().click()
    await page.locator("section.time .cartouche").waitFor()
  })

  test("a voice is read by another practice, and by another option of it", async () => {
    const opened = await open(UNSIGNED)
    const { page } = opened
    await page.keyboard.press("p")
    await isAccessible(opened)
    await page.getByRole("combobox", { name: "Practice of cantus" }).selectOption("ars-nova")
    await settled(opened)
    const options = page.locator("details").first()
    await options.locator("summary").click()
    await isAccessible(opened)
    await options.getByLabel("How breves between two longs are counted when more than three").selectOption("by-threes")
    await settled(opened)
    await page.keyboard.press("Control+z")
    await page.keyboard.press("Control+z")
    await settled(opened)
    expect(await page.getByRole("combobox", { name: "Practice of cantus" }).inputValue()).toBe("")
    expect(opened.complaints).toEqual([])
  })
})
