/** Asking: why, what if, deciding otherwise; and the modern score of what was decided. */
import { describe, expect, test } from "vitest"
import { hasBrowser, headline, isAccessible, openDemo, settled, windows, type Opened } from "./testing/window.js"

/** Counts in the bands of a voice, from the first on. */
const counts = ({ page }: Opened, many: number): Promise<string[]> =>
  page.evaluate(
    n =>
      [...document.querySelectorAll("section.time .voice .duration .count")]
        .slice(0, n)
        .map(one => one.textContent ?? ""),
    many,
  )
async function untilCounts(opened: Opened, wanted: string): Promise<void> {
  const all = wanted.split(" ")
  await expect.poll(() => counts(opened, all.length), { timeout: 15_000 }).toEqual(all)
}
/** The piece as it is: the second of the four winds' semibreves before a minim loses a third. */
const AS_READ = "3 2 1 3 3 3 2 1 6"

describe.skipIf(!hasBrowser)("asking", () => {
  const all = windows()
  async function atSeventh(window = all.shared()): Promise<Opened> {
    const opened = await window
    await openDemo(opened, "Quatre vens")
    for (let i = 0; i < 9; i++) await opened.page.keyboard.press("ArrowRight")
    await headline(opened, "A semibreve of two minims, not three")
    await untilCounts(opened, AS_READ)
    return opened
  }

  test("what if: shown at once in every band, told what would follow, and gone without a trace", async () => {
    const opened = await atSeventh()
    const { page } = opened
    await page.keyboard.press("q")
    await isAccessible(opened)
    await page.getByRole("button", { name: "it were a breve" }).click()
    await page.getByText("If it were a breve").waitFor()
    await page.getByRole("button", { name: "cantus 7: 6 minims, not 2" }).waitFor()
    await untilCounts(opened, "3 2 1 3 3 3 6 1 5")
    await page.getByText("Only supposed: nothing is changed.").waitFor()
    await isAccessible(opened)
    await page.keyboard.press("Escape")
    await untilCounts(opened, AS_READ)
    await page.reload()
    await settled(opened)
    await untilCounts(opened, AS_READ)
    expect(opened.complaints).toEqual([])
  })

  test("what if all voices were read by another practice: for once, the document stays", async () => {
    const opened = await atSeventh()
    const { page } = opened
    const ofVoices = (): Promise<string[]> =>
      page.evaluate(() =>
        [...document.querySelectorAll("section.time svg")[0]!.querySelectorAll(".voice")].map(voice =>
          [...voice.querySelectorAll(".duration .count")].map(one => one.textContent).join(" "),
        ),
      )
    const [cantus, tenor] = await ofVoices()
    await page.keyboard.press("q")
    await page.getByRole("button", { name: "all voices were read as Ars antiqua" }).click()
    await page.getByText("Only supposed: nothing is changed.").waitFor()
    await expect.poll(async () => (await ofVoices())[0]).not.toBe(cantus)
    await expect.poll(async () => (await ofVoices())[1]).not.toBe(tenor)
    await page.keyboard.press("Escape")
    await expect.poll(ofVoices).toEqual([cantus, tenor])
    expect(await page.getByRole("button", { name: /^Undo/ }).count()).toBe(0)
  })

  test("what if voices were read by another practice or option, by keys alone and without a sign", async () => {
    const opened = await all.shared()
    const { page } = opened
    await openDemo(opened, "Quatre vens")
    await untilCounts(opened, AS_READ)
    await page.keyboard.press("Shift+Q")
    // the first field has the keys; a letter chooses in it
    await page.locator("select[data-first]:focus").waitFor()
    await page.keyboard.press("Tab")
    await page.keyboard.press("A")
    await page.getByText("If all voices were read as Ars antiqua, c. 1260-1320").waitFor()
    await page.getByText(/would be read otherwise, the first of them \w+ \d+: .+ breves?, not .+ The voices/).waitFor()
    await isAccessible(opened)
    await page.keyboard.press("Tab")
    await page.keyboard.press("Tab")
    await page.keyboard.press("ArrowRight")
    await page
      .getByText(
        /^If all voices were read as Ars antiqua, c\. 1260-1320; how breves between two longs are counted .+: by threes$/,
      )
      .waitFor()
    // each value says what it means and who says so; a second option is tried beside the first
    await page.getByText(/^by threes .+ Libellus cantus mensurabilis, c\. 1340, 3\.$/).waitFor()
    await page.getByLabel("with", { exact: true }).selectOption("pairOrder")
    await page.getByRole("radio", { name: /^equal Both alike: half a breve each\./ }).check()
    await page.getByText(/: by threes; .+: equal$/).waitFor()
    expect(await page.getByRole("list", { name: "Tried together" }).getByRole("listitem").count()).toBe(2)
    await isAccessible(opened)
    await page
      .getByRole("button", { name: /: as it is again$/ })
      .first()
      .click()
    await page.getByText(/^If all voices were read as Ars antiqua, c\. 1260-1320; [^;]+: equal$/).waitFor()
    await page.keyboard.press("Escape")
    await untilCounts(opened, AS_READ)
    await page.getByText("Ask any sign why").waitFor()
    expect(await page.getByRole("button", { name: /^Undo/ }).count()).toBe(0)
    expect(opened.complaints).toEqual([])
  })

  test("what is typed before a sheet has come is meant for it", async () => {
    const opened = await all.shared()
    const { page } = opened
    await page.keyboard.press("Shift+O")
    await page.keyboard.type("Nova ars")
    await page.keyboard.press("Enter")
    await page.locator("h1").filter({ hasText: "Nova ars" }).waitFor()
    // and what is typed when it has gone acts again
    await page.keyboard.press("m")
    await page.locator(".chapter .measure").waitFor()
    expect(opened.complaints).toEqual([])
  })

  test("a new piece, a note supposed to be gone, a decision: by keys alone, and the keys are never lost", async () => {
    const opened = await all.shared()
    const { page } = opened
    await page.keyboard.press("Shift+O")
    await page.locator("input[name=title]:focus").waitFor()
    await page.keyboard.type("Nova")
    await page.keyboard.press("Enter")
    await page.locator("h1").filter({ hasText: "Nova" }).waitFor()
    for (const key of ["w", "Shift+C", "3", "g", "4", "a", "g", "Escape"]) await page.keyboard.press(key)
    await settled(opened)
    // of a voice in which nothing stands yet it is not said that it does not meet the others
    await page.getByRole("status").filter({ hasText: "Read. Still to be written: tenor." }).waitFor()
    await page.keyboard.press("q")
    await page.locator(".choice-list button:focus").waitFor()
    await page.keyboard.press("Enter")
    // of a sign that is supposed to be gone it is still told what would follow
    await page.getByRole("heading", { name: "If this semibreve were gone" }).waitFor()
    expect(await page.evaluate(() => document.activeElement?.className)).toBe("reason")
    await page.keyboard.press("Escape")
    await page.locator(".choice-list button:focus").waitFor()
    await page.keyboard.press("Escape")
    await page.keyboard.press("d")
    await page.locator("form.deciding input:focus").waitFor()
    await page.keyboard.press(" ")
    // past the field for another length, which is not chosen by that
    for (const key of ["Tab", "Tab"]) await page.keyboard.press(key)
    await page.keyboard.type("it is so in the other source")
    await page.keyboard.press("Enter")
    await page.getByText("You decided: it lasts 2 minims (it is so in the other source).").waitFor()
    expect(opened.complaints).toEqual([])
  })

  test("what was supposed can be made so, and taken back", async () => {
    const opened = await atSeventh(all.fresh())
    const { page } = opened
    await page.keyboard.press("q")
    await page.getByRole("button", { name: "a dot stood after it" }).click()
    await page.getByRole("button", { name: "Make it so" }).click()
    await settled(opened)
    await untilCounts(opened, "3 2 1 3 3 3 3")
    await page.keyboard.press("Control+z")
    await untilCounts(opened, AS_READ)
  })

  test("deciding otherwise, with a reason; the rest is read around it; it is kept, and taken back", async () => {
    const opened = await atSeventh()
    const { page } = opened
    await page.keyboard.press("d")
    await isAccessible(opened)
    await page.getByLabel("another length", { exact: true }).fill("no")
    await page.getByLabel("Because").fill("as in <b>the other</b> source")
    await page.getByLabel("Decided by").fill("An editor")
    await page.getByRole("button", { name: "Decide", exact: true }).click()
    await page.getByText("“no” is no duration").waitFor()
    await page.getByLabel("another length", { exact: true }).fill("3")
    await page.getByRole("button", { name: "Decide", exact: true }).click()
    await headline(opened, "A semibreve of three minims")
    await page.getByText("You decided: it lasts 3 minims (An editor: as in <b>the other</b> source).").waitFor()
    await page.locator("section.time .seal").first().waitFor({ state: "attached" })
    await untilCounts(opened, "3 2 1 3 3 3 3 1 5")
    await isAccessible(opened)
    await settled(opened)
    await page.reload()
    await settled(opened)
    await untilCounts(opened, "3 2 1 3 3 3 3 1 5")
    for (let i = 0; i < 9; i++) await page.keyboard.press("ArrowRight")
    await page.getByRole("button", { name: "Take it back" }).click()
    await untilCounts(opened, AS_READ)
    expect(opened.complaints).toEqual([])
  })

  test("the edition follows: the same sign is framed, and can be pointed at", async () => {
    const opened = await atSeventh()
    const { page } = opened
    await page.keyboard.press("3")
    await page.locator("section.edition .notehead").first().waitFor({ timeout: 60_000 })
    expect(await page.locator("section.edition .cartouche").count()).toBe(1)
    await isAccessible(opened)
    await page.locator("section.edition .notehead").nth(1).click({ force: true })
    await page.locator("section.time .cartouche").waitFor()
    await headline(opened, "A semibreve of two minims, not three")
    await page.getByText("cantus 2.", { exact: false }).first().waitFor()
    expect(opened.complaints).toEqual([])
  })
})
