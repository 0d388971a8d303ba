/** Listening: the sound is made in the window, plays, is followed in the views, and is had as one likes. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

describe.skipIf(!hasBrowser)("listening", () => {
  const all = windows()

  const wedge = ({ page }: Opened) => page.locator("section.time path.wedge")
  const at = async (opened: Opened): Promise<number> => {
    const d = await wedge(opened).getAttribute("d", { timeout: 5000 })
    return Number(/^M([\d.]+)/.exec(d ?? "")?.[1])
  }
  /** Plain tones are made at once, without the bank. */
  async function withPlainTones({ page }: Opened): Promise<void> {
    await page.keyboard.press("s")
    await page.getByRole("combobox", { name: "Sound", exact: true }).selectOption("tone")
  }

  test("the space bar plays; page and time show what sounds; pause and stop", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("1")
    await page.keyboard.press(" ")
    await page.getByRole("region", { name: "Listening" }).waitFor()
    await page.getByText("Playback begins quietly.").waitFor({ timeout: 60_000 })
    await wedge(opened).waitFor({ state: "attached" })
    await page.locator("section.page .wedge").first().waitFor({ state: "attached" })
    const first = await at(opened)
    await expect.poll(() => at(opened), { timeout: 20_000 }).not.toBe(first)
    await page.keyboard.press(" ")
    await page.getByRole("button", { name: "Listen" }).last().waitFor()
    await page.getByRole("button", { name: "Stop the sound" }).click()
    expect(await wedge(opened).count()).toBe(0)
    expect(complaints).toEqual([])
  }, 120_000)

  test("a measure again and again; a voice silent, another tuning and tempo: kept for the piece", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await withPlainTones(opened)
    await page.getByRole("combobox", { name: "Tuning", exact: true }).selectOption("equal")
    await page.getByRole("combobox", { name: "Tempo", exact: true }).selectOption("minima")
    const perMinute = page.getByRole("spinbutton", { name: "in a minute", exact: true })
    await perMinute.fill("400")
    await perMinute.press("Enter")
    await page.getByRole("checkbox", { name: "tenor is silent", exact: true }).check()
    await isAccessible(opened)
    // past the clef and the sign of mensuration
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight")
    await page.getByText("¶ cantus 1.").waitFor()
    await page.keyboard.press("k")
    await page.getByRole("checkbox", { name: "This measure again and again", exact: true }).waitFor()
    await page.getByText("What was chosen, and what is an estimate").click({ timeout: 60_000 })
    await page.getByText("minima = 400 in a minute.").waitFor()
    await wedge(opened).waitFor({ state: "attached" })
    let furthest = await at(opened)
    await expect
      .poll(
        async () => {
          const now = await at(opened)
          const isBack = now < furthest
          furthest = Math.max(furthest, now)
          return isBack
        },
        { timeout: 30_000, interval: 60 },
      )
      .toBe(true)
    await page.reload()
    await settled(opened)
    await page.keyboard.press("s")
    expect(await page.getByRole("combobox", { name: "Tuning", exact: true }).inputValue()).toBe("equal")
    expect(await perMinute.inputValue()).toBe("400")
    expect(await page.getByRole("checkbox", { name: "tenor is silent", exact: true }).isChecked()).toBe(true)
    expect(complaints).toEqual([])
  }, 120_000)

  test("a doubtful sign is heard in both readings", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("o")
    await page.getByRole("button", { name: /^Florent rivi/ }).click()
    await settled(opened)
    await withPlainTones(opened)
    await page.keyboard.press("n")
    await page.getByText(/^¶ /).first().waitFor()
    await page.keyboard.press("b")
    await page.getByText(/^As it is read\. After one click/).waitFor({ timeout: 60_000 })
    await page.getByText(/^As it could be\. After one click/).waitFor({ timeout: 60_000 })
    expect(complaints).toEqual([])
  }, 120_000)

  test("a table of one's own, longer fermatas, one single change, a sound for one voice: taken, told, and kept", async () => {
    const opened = await all.open()
    const { page, complaints } = opened
    await settled(opened)
    await withPlainTones(opened)
    await page.getByRole("combobox", { name: "Tuning", exact: true }).selectOption("own")
    const table = page.getByRole("textbox", { name: "Table of the tuning" })
    await table.fill("c 0\nx 100")
    await table.blur()
    await page.getByRole("alert").filter({ hasText: "Line 2: “x 100” does not tune a note." }).waitFor()
    await table.fill("c 0\nd 9/8\na 5/3")
    await table.blur()
    await expect.poll(() => page.getByRole("alert").count()).toBe(0)
    const listen = page.getByRole("region", { name: "Listening" }).getByRole("button", { name: "Listen" })
    await listen.click()
    await page.getByText(/The tuning has no .*Add a line for each to the table/).waitFor({ timeout: 60_000 })
    await table.fill("c 0\ncs 71\nfs 569\ngs 773\nd 9/8\ne 5/4\nf 4/3\ng 3/2\na 5/3\nb 15/8\nbf 16/9")
    await table.blur()
    await expect.poll(() => page.getByRole("alert").count()).toBe(0)
    await page.getByText("Fermatas, plicas, repeats, single changes").click()
    const fermata = page.getByRole("spinbutton", { name: "Fermata, times as long" })
    await fermata.fill("3")
    await fermata.press("Enter")
    await page.getByRole("textbox", { name: "At another moment" }).fill("12")
    await page.getByRole("button", { name: "Another speed from 12 on" }).click()
    const faster = page.getByRole("textbox", { name: "Times as fast" })
    await faster.fill("2")
    await faster.blur()
    await page.getByRole("combobox", { name: "Sound of tenor" }).selectOption("tone")
    await isAccessible(opened)
    await listen.click()
    await page.getByText("What was chosen, and what is an estimate").click({ timeout: 60_000 })
    await page.getByText("the tuning “Table of the tuning”").waitFor()
    await page.getByRole("button", { name: "Stop the sound" }).click()
    await page.reload()
    await settled(opened)
    await page.keyboard.press("s")
    expect(await table.inputValue()).toMatch(/^c 0\ncs 71\n[^]*\nd 203\.91\n/)
    await page.getByText("Fermatas, plicas, repeats, single changes").click()
    expect(await fermata.inputValue()).toBe("3")
    expect(await faster.inputValue()).toBe("2")
    expect(complaints).toEqual([])
  }, 120_000)
})
