/** What docs/sound.md promises of sound files, measured on the files that `resolutio hear` writes. */
import { spawnSync } from "node:child_process"
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import { run } from "../cli/src/program.js"
import { MARKER_COLUMNS } from "../core/src/formats/markers/index.js"
import { EQUIVALENCES, loudnessMeter, TEMPO_RANGES, TIMBRES, tunerOf, TUNINGS } from "../core/src/performance/index.js"
import {
  centsAbove,
  largest,
  measuredHertz,
  measuredOnset,
  periodHertz,
} from "../core/src/performance/testing/measure.js"

const RATE = 44_100
let folder = ""
beforeAll(() => void (folder = mkdtempSync(join(tmpdir(), "resolutio-sound-"))))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const at = (name: string) => join(folder, name)
const demo = (name: string) => new URL(`../demo/${name}`, import.meta.url).pathname

/** The file's left and right. */
function samplesOf(name: string): [Float32Array, Float32Array] {
  const bytes = readFileSync(at(name))
  const frames = (bytes.length - 44) / 4
  const side = (offset: number) =>
    Float32Array.from({ length: frames }, (_, i) => bytes.readInt16LE(44 + 4 * i + offset) / 32_767)
  return [side(0), side(2)]
}
const middle = (name: string): Float32Array => {
  const [left, right] = samplesOf(name)
  return left.map((one, i) => (one + right[i]!) / 2)
}
async function hear(...args: string[]): Promise<string> {
  const err: string[] = []
  const status = await run(["hear", ...args, "--force"], {
    out: () => {},
    err: line => void err.push(line),
    colour: false,
  })
  expect(status, err.join("\n")).toBeLessThan(2)
  return err.join("\n")
}

/** A scale with sharps and flats apart; each note lasts half a second, and so does the rest after it. */
const NAMES = [
  "g2",
  "bf2",
  "c3",
  "cs3",
  "df3",
  "d3",
  "ef3",
  "e3",
  "f3",
  "fs3",
  "gs3",
  "af3",
  "a3",
  "b3",
  "c4",
  "fs4",
  "gs4",
  "af4",
  "bf4",
  "d5",
]
const SCALE = `title: A scale (invented)\n\nvoice cantus white practice=white\nC M ${NAMES.map(name => `${name} r`).join(" ")} B c4\n`
const pitch = (name: string) => {
  const [, step, accidental, octave] = /^([a-g])([sf]?)(\d)$/.exec(name)!
  return { step: step as "c", accidental: accidental!, octave: Number(octave) }
}

/** How far the notes of the scale are from what the tuning says, in cents, and from when they are to begin, in seconds. */
function faults(name: string, tuning: (typeof TUNINGS)[number], threshold: number) {
  const samples = middle(name)
  const tuner = tunerOf(tuning, { reference: 440 })
  return NAMES.map((note, n) => {
    const start = n
    const exact = tuner(pitch(note))!
    const sounding = samples.subarray((start + 0.06) * RATE, (start + 0.36) * RATE)
    const cents = [measuredHertz(sounding, RATE, exact), periodHertz(sounding, RATE, exact)].map(one =>
      Math.abs(centsAbove(one, exact)),
    )
    const late = Math.abs(measuredOnset(samples, RATE, start - 0.2, start + 0.4, threshold) - start)
    return { note, cents, late, rest: largest(samples, start + 0.5, start + 0.99, RATE) }
  })
}
const most = (numbers: readonly number[]) => Math.max(...numbers)

describe("a scale", () => {
  beforeAll(() => writeFileSync(at("scale.figurae"), SCALE))
  const scale = (...args: string[]) =>
    hear(at("scale.figurae"), "-o", at("scale.wav"), "--tempo", "minima=120", ...args)
  test.each(TUNINGS)("by the test tone, %s: within 2 cents and a millisecond", async tuning => {
    await scale("--sound", "tone", "--tuning", tuning)
    const found = faults("scale.wav", tuning, 0.02)
    expect(most(found.flatMap(one => one.cents))).toBeLessThan(2)
    expect(most(found.map(one => one.late))).toBeLessThan(0.001)
    expect(most(found.map(one => one.rest))).toBe(0)
  })
  test.each(TIMBRES.filter(one => one !== "tone"))(
    "by the bank, %s: within 6 cents and 15 ms, rests silent",
    async sound => {
      await scale("--sound", sound, "--tuning", "pythagorean")
      const found = faults("scale.wav", "pythagorean", 0.2)
      expect(found.filter(one => most(one.cents) >= 6)).toEqual([])
      expect(found.filter(one => one.late >= 0.015)).toEqual([])
      // 60 dB under the notes.
      expect(most(found.map(one => one.rest)) / largest(middle("scale.wav"), 0, 20, RATE)).toBeLessThan(0.001)
    },
  )
})

const ffmpeg = spawnSync("ffmpeg", ["-version"]).status === 0

describe("loudness and peaks", () => {
  const pieces = [
    ["4-four-prolations.figurae", "voices"],
    ["2-hocket.figurae", "strings"],
    ["6-proportion-coloration.figurae", "organ"],
    ["5-changing-signs.figurae", "recorder"],
  ] as const
  describe.each(pieces)("%s, %s", (piece, sound) => {
    beforeAll(() => hear(demo(piece), "-o", at(`${sound}.wav`), "--sound", sound, "--to", "48"))
    test("by our own meter: -18 LUFS, no sample over -1 dBFS", () => {
      const meter = loudnessMeter(RATE)
      meter.add(...samplesOf(`${sound}.wav`))
      expect(Math.abs(meter.loudness() + 18)).toBeLessThan(0.5)
      expect(meter.peak()).toBeLessThan(10 ** (-1 / 20))
      expect(meter.peak()).toBeGreaterThan(0.1)
    })
    test.skipIf(!ffmpeg)("by ffmpeg's ebur128, true peak too", () => {
      const args = [
        "-nostdin",
        "-hide_banner",
        "-nostats",
        "-i",
        at(`${sound}.wav`),
        "-af",
        "ebur128=peak=true",
        "-f",
        "null",
        "-",
      ]
      const told = spawnSync("ffmpeg", args, { encoding: "utf8" }).stderr
      const summary = told.slice(told.lastIndexOf("Summary:"))
      const number = (name: string) => Number(new RegExp(`${name}:\\s+(-?[\\d.]+)`).exec(summary)?.[1])
      expect(Math.abs(number("I") + 18)).toBeLessThan(0.5)
      expect(number("Peak")).toBeLessThan(-1)
    })
  })
  test("a peak that would be over it is taken back, and the rest stays as it was", async () => {
    // Notes so short that their loudness is small against their peaks.
    const text = `title: Short\n\nvoice a white practice=white\nC ${"F c5 S r ".repeat(16)} B c4\n`
    writeFileSync(at("short.figurae"), text)
    await hear(at("short.figurae"), "-o", at("short.wav"), "--sound", "strings", "--tempo", "minima=200")
    const meter = loudnessMeter(RATE)
    meter.add(...samplesOf("short.wav"))
    expect(meter.peak()).toBeLessThan(10 ** (-1 / 20))
    expect(meter.peak()).toBeGreaterThan(0.7)
  })
})

describe("a hocket, a file for each voice", () => {
  const files = ["h-1-triplum.wav", "h-2-motetus.wav", "h-3-tenor.wav"]
  beforeAll(() =>
    hear(demo("2-hocket.figurae"), "-o", at("h.wav"), "--files", "each", "--markers", at("h.json"), "--to", "60"),
  )
  test("all equally long", () => {
    expect(new Set(files.map(name => statSync(at(name)).size)).size).toBe(1)
  })
  test("each silent in its rests and nowhere else", () => {
    const { markers } = JSON.parse(readFileSync(at("h.json"), "utf8")) as {
      markers: { start: number; end: number; voice: string }[]
    }
    for (const [n, voice] of ["triplum", "motetus"].entries()) {
      const samples = middle(files[n]!)
      const loudest = largest(samples, 0, 100, RATE)
      const own = markers.filter(one => one.voice === voice)
      const rests = own.slice(0, -1).flatMap((one, at) => {
        const next = own[at + 1]!
        // From where the tone has died away.
        return next.start - one.end > 0.2 ? [[one.end + 0.07, next.start - 0.002] as const] : []
      })
      expect(rests.length).toBeGreaterThan(8)
      for (const [from, to] of rests)
        expect(largest(samples, from, to, RATE) / loudest, `${voice} ${from}`).toBeLessThan(0.002)
      for (const { start, end } of own) expect(largest(samples, start + 0.02, end, RATE) / loudest).toBeGreaterThan(0.1)
    }
  })
})

test("places: left is louder on the left, and for practice one voice is louder than the others", async () => {
  const piece = `title: Apart\n\nvoice high white practice=white\nC B c5 c5\n\nvoice low white practice=white\nC B c3 c3\n`
  writeFileSync(at("apart.figurae"), piece)
  const args = [at("apart.figurae"), "-o", at("p.wav"), "--sound", "tone", "--tuning", "equal"]
  const level = (samples: Float32Array, hertz: number) => {
    let [re, im] = [0, 0]
    for (let i = 0; i < RATE; i++) {
      re += samples[i]! * Math.cos((2 * Math.PI * hertz * i) / RATE)
      im += samples[i]! * Math.sin((2 * Math.PI * hertz * i) / RATE)
    }
    return 20 * Math.log10(Math.hypot(re, im) / RATE + 1e-9)
  }
  const [high, low] = [440 * 2 ** (3 / 12), 440 * 2 ** (-21 / 12)]
  await hear(...args, "--place", "high=-1", "--place", "low=1")
  const [left, right] = samplesOf("p.wav")
  expect(level(left, high) - level(right, high)).toBeGreaterThan(40)
  expect(level(right, low) - level(left, low)).toBeGreaterThan(40)
  await hear(...args, "--files", "practice")
  const [first, second] = ["p-1-high.wav", "p-2-low.wav"].map(middle)
  expect(level(first!, high) - level(first!, low)).toBeCloseTo(12, 0)
  expect(level(second!, low) - level(second!, high)).toBeCloseTo(12, 0)
})

test.skipIf(!ffmpeg)("Ogg Vorbis and MP3 are what they say, and as long as the WAV", async () => {
  const lengths = []
  for (const ending of ["wav", "ogg", "mp3"]) {
    await hear(demo("4-four-prolations.figurae"), "-o", at(`f.${ending}`), "--sound", "tone", "--to", "24")
    const probed = spawnSync(
      "ffprobe",
      ["-v", "error", "-show_entries", "stream=codec_name,duration", "-of", "csv=p=0", at(`f.${ending}`)],
      { encoding: "utf8" },
    )
    lengths.push(probed.stdout.trim().split(","))
  }
  expect(lengths.map(([codec]) => codec)).toEqual(["pcm_s16le", "vorbis", "mp3"])
  for (const [, seconds] of lengths) expect(Math.abs(Number(seconds) - Number(lengths[0]![1]))).toBeLessThan(0.1)
})

describe("the page", () => {
  const page = readFileSync(new URL("sound.md", import.meta.url), "utf8")
  test("names every column of the markers, in order", () => {
    const named = [...page.slice(page.indexOf("## Markers")).matchAll(/^\| `([^`]+)` \|/gm)].map(([, name]) => name)
    expect(named).toEqual([...MARKER_COLUMNS])
  })
  test("names every tuning, timbre, equivalence and range of speed", () => {
    for (const name of [...TUNINGS, ...TIMBRES, ...EQUIVALENCES]) expect(page).toContain(`\`${name}\``)
    for (const { practice, period, from, to } of TEMPO_RANGES)
      expect(page).toMatch(new RegExp(`\\| \`${practice}\` \\| ${period} \\| ${from} to ${to} `))
  })
  test("names every option of the command", async () => {
    const out: string[] = []
    await run(["help", "hear"], { out: text => void out.push(text), err: () => {}, colour: false })
    const options = [...out.join("\n").matchAll(/^ {2}(?:-\w, )?(--[a-z-]+)/gm)].map(([, name]) => name!)
    const ours = options.filter(
      name => !["--output", "--practice", "--ignore-given", "--alone", "--help", "--force"].includes(name),
    )
    expect(ours.length).toBeGreaterThan(15)
    expect(ours.filter(name => !page.includes(name))).toEqual([])
  })
})
