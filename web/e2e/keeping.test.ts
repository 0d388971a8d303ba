/** What is done is kept: after a reload, a crash, without a network, with two windows on one piece. */
import { describe, expect, test } from "vitest"
import { hasBrowser, settled, windows, type Opened } from "./testing/window.js"

/** Notes and rests that are shown in time. */
const shown = ({ page }: Opened): Promise<number> =>
  page.evaluate(
    () =>
      new Set([...document.querySelectorAll("section.time .duration")].map(one => one.getAttribute("data-sign"))).size,
  )
async function untilShown(opened: Opened, count: number): Promise<void> {
  await expect.poll(() => shown(opened), { timeout: 15_000 }).toBe(count)
}
/** Alone and small, so that the whole piece is seen. */
async function openSmall(opened: Opened): Promise<number> {
  await settled(opened)
  for (let i = 0; i < 4; i++) await opened.page.keyboard.press("-")
  await opened.page.waitForTimeout(300)
  await settled(opened)
  return shown(opened)
}
const BIG = { viewport: { width: 1900, height: 2000 } }

describe.skipIf(!hasBrowser)("keeping", () => {
  const all = windows()

  test("a sign taken away is gone after a reload, and comes back by undo even then", async () => {
    const opened = await all.open(BIG)
    const { page } = opened
    const before = await openSmall(opened)
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight")
    await page.keyboard.press("Delete")
    await page.keyboard.press("Delete")
    await untilShown(opened, before - 2)
    await settled(opened)
    await page.reload()
    await openSmall(opened)
    await untilShown(opened, before - 2)
    await page.keyboard.press("Control+z")
    await untilShown(opened, before - 1)
    await page.keyboard.press("Control+z")
    await untilShown(opened, before)
    await page.keyboard.press("Control+Shift+z")
    await untilShown(opened, before - 1)
    expect(opened.complaints).toEqual([])
  })

  test("a window that is killed in mid-typing has lost at most the last act", async () => {
    const context = await all.context(BIG)
    const opened = await all.open({ context })
    const before = await openSmall(opened)
    const { page } = opened
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight")
    // faster than anyone writes, and killed with the last key
    for (let i = 0; i < 6; i++) await page.keyboard.press("Delete")
    const session = await context.newCDPSession(page)
    const crashed = page.waitForEvent("crash")
    session.send("Page.crash").catch(() => undefined)
    await crashed
    const again = await all.open({ context })
    await openSmall(again)
    expect(before - (await shown(again))).toBeGreaterThanOrEqual(5)
  })

  test("everything works without a network after the first time, and is found again", async () => {
    const context = await all.context({ ...BIG, serviceWorkers: "allow" })
    const first = await all.open({ context })
    await settled(first)
    await first.page.evaluate(() => navigator.serviceWorker.ready.then(() => true))
    await expect.poll(() => first.page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true)
    await context.setOffline(true)
    await first.page.reload()
    const before = await openSmall(first)
    for (let i = 0; i < 5; i++) await first.page.keyboard.press("ArrowRight")
    await first.page.keyboard.press("Delete")
    await untilShown(first, before - 1)
    await settled(first)
    await first.page.reload()
    await openSmall(first)
    await untilShown(first, before - 1)
    expect(first.complaints.filter(text => !/ERR_INTERNET_DISCONNECTED/.test(text))).toEqual([])
  })

  test("of two windows on one piece one writes, the other follows, and takes over with its first act", async () => {
    const context = await all.context(BIG)
    const one = await all.open({ context })
    const before = await openSmall(one)
    const other = await all.open({ context })
    await other.page.getByText("another window writes to it").waitFor()
    for (let i = 0; i < 4; i++) await other.page.keyboard.press("-")
    await untilShown(other, before)
    for (let i = 0; i < 5; i++) await one.page.keyboard.press("ArrowRight")
    await one.page.keyboard.press("Delete")
    await untilShown(one, before - 1)
    await untilShown(other, before - 1)
    for (let i = 0; i < 9; i++) await other.page.keyboard.press("ArrowRight")
    await other.page.keyboard.press("Delete")
    await untilShown(other, before - 2)
    await untilShown(one, before - 2)
    await one.page.getByText("another window writes to it").waitFor()
    // and back again, by undoing what the other did
    await one.page.keyboard.press("Control+z")
    await untilShown(one, before - 1)
    await untilShown(other, before - 1)
    expect([...one.complaints, ...other.complaints]).toEqual([])
  })
})
