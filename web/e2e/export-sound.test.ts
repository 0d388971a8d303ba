/** Sound as a file: as it is heard in the window, and as the command line writes it. */
import { spawnSync } from "node:child_process"
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { describe, expect, test } from "vitest"
import { exporting, saved } from "./testing/exporting.js"
import { hasBrowser, windows } from "./testing/window.js"

const inProject = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url))
const PROGRAM = inProject("cli/bin/resolutio.mjs")
const DEMO = inProject("demo/4-four-prolations.figurae")
const hasProgram = existsSync(inProject("cli/dist/main.cjs"))
/** Left and right in turn, of a WAV file of 16 bits. */
const samplesOf = (wav: Buffer): Int16Array => new Int16Array(Uint8Array.from(wav.subarray(44)).buffer)

describe.skipIf(!hasBrowser)("sound as a file", () => {
  const all = windows()

  test("sound is made as it is heard, can be ended on the way, and comes as one file for each voice", async () => {
    const opened = await exporting(all)
    const { page, complaints } = opened
    const wav = page.getByRole("button", { name: "WAV: as it is heard here", exact: true })
    await wav.click()
    await page.getByText("Making it: WAV").waitFor()
    await page.getByRole("button", { name: "Stop", exact: true }).click()
    await expect.poll(() => page.getByText("Making it: WAV").count()).toBe(0)
    await page.getByLabel("Files of sound").selectOption("each")
    const each = await saved(opened, "WAV: as it is heard here")
    expect(each.file).toBe("Quatre-vens.zip")
    const names = [...each.bytes.toString("latin1").matchAll(/Quatre-vens-\d-[a-z]+\.wav/g)].map(([name]) => name)
    expect(new Set(names).size).toBeGreaterThan(1)
    expect(complaints).toEqual([])
  }, 120_000)

  test.skipIf(!hasProgram)(
    "it sounds as the command line's file does",
    async () => {
      const opened = await exporting(all)
      const here = samplesOf((await saved(opened, "WAV: as it is heard here")).bytes)
      const folder = mkdtempSync(join(tmpdir(), "resolutio-"))
      try {
        const file = join(folder, "piece.wav")
        spawnSync(process.execPath, [PROGRAM, "hear", DEMO, "-o", file], { encoding: "utf8" })
        const there = samplesOf(readFileSync(file))
        expect(here.length).toBe(there.length)
        let [power, difference] = [0, 0]
        there.forEach((sample, i) => {
          power += sample ** 2
          difference += (sample - here[i]!) ** 2
        })
        expect(10 * Math.log10(difference / power)).toBeLessThan(-60)
      } finally {
        rmSync(folder, { recursive: true, force: true })
      }
    },
    120_000,
  )
})
