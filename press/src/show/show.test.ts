/** A piece as one file: nothing in it can do harm, and its sound is what was performed. */
import { createHash } from "node:crypto"
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { spawnSync } from "node:child_process"
import { createRequire } from "node:module"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { alignVoices, parseShorthand, perform, readTogether, type Page } from "@resolutio/core"
import { describe, expect, test } from "vitest"
import type { Tools } from "../tools.js"
import { BLOCK_BYTES, BLOCK_SAMPLES, packed, unpacked } from "./adpcm.js"
import { HalvedMono } from "./resample.js"
import { showPiece } from "./show.js"

const bank = readFileSync(createRequire(import.meta.url).resolve("../../../core/assets/sound/voices.sf3"))
const TOOLS: Tools = {
  typefaces: () => Promise.resolve(new Map()),
  png: () => Promise.reject(new Error("not asked for")),
  bank: () => Promise.resolve(Uint8Array.from(bank).buffer),
  pageFonts: () => Promise.resolve([]),
}

async function shown(text: string, sound: boolean): Promise<string> {
  const parsed = parseShorthand(text)
  if (!parsed.ok) throw new Error(parsed.problems[0]!.what)
  const page: Page = parsed.value
  const { readings } = readTogether(page)
  const score = alignVoices(page, readings)
  const performed = perform(score, { timbre: "tone" })
  const performance = sound && performed.ok ? { performance: performed.value } : {}
  const wanted = { page, readings, score, ...performance, views: ["page", "time"] as const, maker: "Resolutio" }
  return showPiece(wanted, TOOLS, () => undefined)
}

const HOSTILE = `title: </title><script>alert(1)</script> & "x" \u2028 <img src=x onerror=alert(1)>
voice "a</script><b>" practice=ars-nova
clef:C3 O B c4 S d4 B e4
> </script><svg onload=alert(1)> - -
`

describe("one file", () => {
  test("titles, names and words of markup are text, and the policy fits script and style", async () => {
    const html = await shown(HOSTILE, false)
    expect(html.match(/<script/g)).toHaveLength(2)
    expect(html).not.toMatch(/<img|<b>|<svg onload|onerror=alert\(1\)>/)
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)![1]!
    const hash = (part: string) => `'sha256-${createHash("sha256").update(part).digest("base64")}'`
    const script = html.slice(html.lastIndexOf("<script>") + 8, html.lastIndexOf("</script>"))
    const style = /<style>([\s\S]*?)<\/style>/.exec(html)![1]!
    expect(policy).toContain(`script-src ${hash(script)};`)
    expect(policy).toContain(`style-src ${hash(style)};`)
    expect(policy).toContain("default-src 'none'")
    expect(html).not.toMatch(/ style="|https?:\/\/(?!www\.w3\.org)/)
    const data: { voices: { label: string; signs: unknown[] }[] } = JSON.parse(
      /id="piece">([\s\S]*?)<\/script>/.exec(html)![1]!,
    )
    expect(data.voices[0]!.label).toBe("a</script><b>")
    expect(data.voices[0]!.signs).toHaveLength(3)
  })

  test("the same piece gives the same file, with its sound", async () => {
    const piece = "title: A tone\nvoice tenor practice=ars-nova\nclef:C3 O B c4 S d4\n"
    const [one, other] = [await shown(piece, true), await shown(piece, true)]
    expect(one).toBe(other)
    expect(one).toMatch(/id="sound">[A-Za-z0-9+/=]{1000,}</)
  })
})

const RATE = 24_000
const tone = Float32Array.from(
  { length: 2 * RATE },
  (_, i) => 0.2 * Math.sin((2 * Math.PI * 440 * i) / RATE) + 0.1 * Math.sin((2 * Math.PI * 1320 * i) / RATE),
)
/** In decibels. */
function above(signal: Float32Array, got: ArrayLike<number>): number {
  let [power, noise] = [0, 0]
  signal.forEach((sample, i) => {
    power += sample ** 2
    noise += (sample - got[i]! / 32_767) ** 2
  })
  return 10 * Math.log10(power / noise)
}

describe("packed sound", () => {
  test("comes back with its noise 40 decibels below it, in a quarter of its room", () => {
    const bytes = packed(tone)
    expect(bytes.length / (2 * tone.length)).toBeLessThan(0.27)
    expect(above(tone, unpacked(bytes))).toBeGreaterThan(40)
  })

  test.skipIf(!existsSync("/usr/bin/ffmpeg"))("another program unpacks it alike", () => {
    const folder = mkdtempSync(join(tmpdir(), "resolutio-"))
    try {
      const bytes = packed(tone)
      writeFileSync(join(folder, "tone.wav"), inWav(bytes))
      const { stdout } = spawnSync("ffmpeg", ["-v", "error", "-i", "tone.wav", "-f", "s16le", "-"], { cwd: folder })
      const theirs = new Int16Array(new Uint8Array(stdout).buffer)
      const ours = unpacked(bytes)
      expect(theirs.length).toBe(ours.length)
      expect(ours.every((sample, i) => Math.abs(sample - theirs[i]!) <= 1)).toBe(true)
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  test("halved, a low tone stays and one that is too high for it goes", () => {
    const halved = (hertz: number) => {
      const side = Float32Array.from({ length: 48_000 }, (_, i) => Math.sin((2 * Math.PI * hertz * i) / 48_000))
      const mono = new HalvedMono(side.length)
      mono.add({ left: side, right: side })
      return Math.max(...mono.samples().slice(200, -200).map(Math.abs))
    }
    expect(halved(1000)).toBeCloseTo(1, 2)
    expect(20 * Math.log10(halved(15_000))).toBeLessThan(-60)
  })
})

/** As a WAV file of format 2, whose head holds the seven pairs of coefficients. */
function inWav(blocks: Uint8Array): Uint8Array {
  const pairs = [256, 0, 512, -256, 0, 0, 192, 64, 240, 0, 460, -208, 392, -232]
  const head = new DataView(new ArrayBuffer(78))
  const letters = (at: number, word: string) => [...word].forEach((one, i) => head.setUint8(at + i, one.charCodeAt(0)))
  letters(0, "RIFF")
  head.setUint32(4, 70 + blocks.length, true)
  letters(8, "WAVEfmt ")
  head.setUint32(16, 50, true)
  ;[2, 1].forEach((value, i) => head.setUint16(20 + 2 * i, value, true))
  head.setUint32(24, RATE, true)
  head.setUint32(28, Math.round((RATE * BLOCK_BYTES) / BLOCK_SAMPLES), true)
  ;[BLOCK_BYTES, 4, 32, BLOCK_SAMPLES, 7].forEach((value, i) => head.setUint16(32 + 2 * i, value, true))
  pairs.forEach((value, i) => head.setInt16(42 + 2 * i, value, true))
  letters(70, "data")
  head.setUint32(74, blocks.length, true)
  const all = new Uint8Array(78 + blocks.length)
  all.set(new Uint8Array(head.buffer))
  all.set(blocks, 78)
  return all
}
