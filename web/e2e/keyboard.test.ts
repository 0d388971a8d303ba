/** A keyboard that is plugged in: asked for only when it is wanted, and each of its keys a note. */
import { describe, expect, test } from "vitest"
import { hasBrowser, isAccessible, settled, windows, type Opened } from "./testing/window.js"

interface Faked {
  asked: number
  press(key: number, velocity?: number): void
}
const faked = "faked keyboard"

/** The browser's keyboards, as far as they are used: two events and a list. */
function fakeKeyboard(name: string): void {
  const input = Object.assign(new EventTarget(), { name: "Clavicymbalum", state: "connected" })
  const access = Object.assign(new EventTarget(), { inputs: new Map([["one", input]]) })
  const fake: Faked = {
    asked: 0,
    press(key, velocity = 80) {
      for (const data of [[0xfe], [0x92, key, velocity], [0x82, key, 0]])
        input.dispatchEvent(Object.assign(new Event("midimessage"), { data: new Uint8Array(data) }))
    },
  }
  ;(globalThis as unknown as Record<string, Faked>)[name] = fake
  Object.defineProperty(navigator, "requestMIDIAccess", {
    value: () => {
      fake.asked++
      return Promise.resolve(access)
    },
  })
}

describe.skipIf(!hasBrowser)("a keyboard", () => {
  const all = windows()
  const press = ({ page }: Opened, key: number, velocity?: number) =>
    page.evaluate(
      ([name, key, velocity]) => (globalThis as unknown as Record<string, Faked>)[name]!.press(key, velocity),
      [faked, key, velocity] as const,
    )
  const asked = ({ page }: Opened) =>
    page.evaluate(name => (globalThis as unknown as Record<string, Faked>)[name]!.asked, faked)

  test("writes the pitch of each key in the level that is chosen, once it was turned on and while one writes", async () => {
    const context = await all.context()
    await context.addInitScript(fakeKeyboard, faked)
    const opened = await all.open({ context })
    const { page, complaints } = opened
    await settled(opened)
    await page.keyboard.press("o")
    await page.getByLabel("Voices").fill("tenor")
    await page.getByRole("button", { name: "Begin the piece" }).click()
    await settled(opened)
    await page.keyboard.press("x")
    await page.locator(".cm-content").waitFor()
    await page.keyboard.press("w")
    const button = page.getByRole("button", { name: "Notes from a keyboard", exact: true })
    await press(opened, 60)
    expect(await asked(opened)).toBe(0)
    await button.click()
    await page.getByText("Each key of Clavicymbalum writes a note while one writes.").waitFor()
    expect(await asked(opened)).toBe(1)
    await isAccessible(opened)
    await page.keyboard.press("3")
    await press(opened, 60)
    await press(opened, 66)
    await press(opened, 62, 0)
    await expect.poll(() => page.locator(".cm-content").innerText()).toMatch(/B c4 f\+?s/)
    await page.keyboard.press("Control+z")
    await expect.poll(() => page.locator(".cm-content").innerText()).not.toMatch(/f\+?s/)
    await button.click()
    await expect.poll(() => button.getAttribute("aria-pressed")).toBe("false")
    await press(opened, 64)
    await page.keyboard.press("a")
    await expect.poll(() => page.locator(".cm-content").innerText()).toMatch(/B c4 a3/)
    expect(complaints).toEqual([])
  })

  test("that is refused is told in a sentence", async () => {
    const context = await all.context()
    await context.addInitScript(() => {
      Object.defineProperty(navigator, "requestMIDIAccess", { value: () => Promise.reject(new Error("no")) })
    })
    const opened = await all.open({ context })
    await settled(opened)
    await opened.page.keyboard.press("w")
    await opened.page.getByRole("button", { name: "Notes from a keyboard", exact: true }).click()
    await opened.page.getByText("The browser gives no access to a keyboard").waitFor()
  })
})
