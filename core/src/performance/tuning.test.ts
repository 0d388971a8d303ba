/** Tunings against ratios that anyone can work out, and against what a test tone really sounds. */
import { describe, expect, test } from "vitest"
import { toneRenderer } from "./audio/index.js"
import { intervalFrom } from "./spelling.js"
import { centsAbove, largest, measuredHertz, measuredOnset, periodHertz } from "./testing/measure.js"
import { performed, PLAIN, scoreFrom } from "./testing/scores.js"
import { tuningDefault } from "./tuning-default.js"
import { parseTuning, tunerOf, tuningTitle, type Tuning } from "./tuning.js"

const pitch = (name: string) => {
  const [, step, accidental, octave] = /^([a-g])([sf]*)(\d)$/.exec(name)!
  return { step: step as "c", accidental: accidental!, octave: Number(octave) }
}

/** Ratio above the c below it. */
const RATIOS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  // Divisions of the monochord: tone 9/8, semitone 256/243, major third 81/64; the chain of pure fifths beyond them.
  pythagorean: {
    c4: 1,
    d4: 9 / 8,
    e4: 81 / 64,
    f4: 4 / 3,
    g4: 3 / 2,
    a4: 27 / 16,
    b4: 243 / 128,
    c5: 2,
    bf4: 16 / 9,
    ef4: 32 / 27,
    fs4: 729 / 512,
    cs4: 2187 / 2048,
    gs4: 6561 / 4096,
    af4: 128 / 81,
    ds4: 19683 / 16384,
    df4: 256 / 243,
    a3: 27 / 32,
  },
  // Quarter-comma meantone (Toscanello in musica, 1523, from memory): major thirds 5/4, fifths their fourth root.
  meantone: {
    c4: 1,
    e4: 5 / 4,
    g4: 5 ** 0.25,
    d4: 5 ** 0.5 / 2,
    a4: 5 ** 0.75 / 2,
    b4: (5 / 4) * 5 ** 0.25,
    gs4: 25 / 16,
    af4: 8 / 5,
    f4: 2 / 5 ** 0.25,
    bf4: 4 / 5 ** 0.5,
    ef4: (4 / 5) * 5 ** 0.25 * 1,
    fs4: (5 / 4) * (5 ** 0.5 / 2),
    cs4: 25 / 16 / 5 ** 0.25,
  },
  equal: {
    c4: 1,
    cs4: 2 ** (1 / 12),
    df4: 2 ** (1 / 12),
    gs4: 2 ** (8 / 12),
    af4: 2 ** (8 / 12),
    b4: 2 ** (11 / 12),
    c5: 2,
  },
}

describe.each(Object.entries(RATIOS))("%s", (name, ratios) => {
  const tuner = tunerOf(name as Tuning, { reference: 440 })
  const c4 = tuner(pitch("c4"))!
  test.each(Object.entries(ratios))(`%s stands ${name === "equal" ? "" : "exactly "}at %f of c`, (note, ratio) => {
    expect(tuner(pitch(note))! / c4).toBeCloseTo(ratio, 12)
  })
  test("has a4 at the reference", () => {
    expect(tuner(pitch("a4"))).toBeCloseTo(440, 10)
    expect(tunerOf(name as Tuning, { reference: 466 })(pitch("a4"))).toBeCloseTo(466, 10)
  })
})

test.each([
  ["pythagorean", 23.46],
  ["meantone", -41.06],
  ["equal", 0],
] as const)("in %s g sharp is %f cents above a flat", (tuning, cents) => {
  const tuner = tunerOf(tuning, { reference: 440 })
  expect(centsAbove(tuner(pitch("gs4"))!, tuner(pitch("af4"))!)).toBeCloseTo(cents, 2)
})

describe("a tone sounds what the tuning says", () => {
  // A scale with sharps and flats apart, in two octaves; each note a second, parted by rests.
  const NAMES = "c3 cs3 df3 d3 ds3 ef3 e3 f3 fs3 gf3 g3 gs3 af3 a3 as3 bf3 b3 c4 fs4 gs4 af4 bf4 c5".split(" ")
  const score = scoreFrom(NAMES.map(name => `${name}:1 r:1`).join(" "))
  const table = parseTuning(
    "c 0\ncs 80\ndf 110\nd 200\nds 280\nef 310\ne 390\nf 500\nfs 580\ngf 610\ng 700\ngs 25/16\naf 8/5\na 890\nas 970\nbf 1010\nb 1085",
    "own.txt",
  )
  if (!table.ok) throw new Error("the table is not read")
  const RATE = 44_100
  test.each([
    ["pythagorean", "pythagorean"],
    ["meantone", "meantone"],
    ["equal", "equal"],
    ["a table of one's own", table.value],
  ] as const)("%s", (_, tuning) => {
    const { sounds, voices, duration } = performed(score, { ...PLAIN, tuning })
    const samples = new Float32Array(Math.ceil(duration * RATE))
    toneRenderer(sounds, RATE).add(voices[0]!.id, samples, 0)
    const tuner = tunerOf(tuning, { reference: 440 })
    NAMES.forEach((name, n) => {
      const start = 2 * n
      const exact = tuner(pitch(name))!
      const sounding = samples.subarray((start + 0.1) * RATE, (start + 0.6) * RATE)
      expect(Math.abs(centsAbove(measuredHertz(sounding, RATE, exact), exact)), name).toBeLessThan(0.5)
      expect(Math.abs(centsAbove(periodHertz(sounding, RATE, exact), exact)), `${name} by its period`).toBeLessThan(2)
      expect(Math.abs(measuredOnset(samples, RATE, start - 0.5, start + 0.5) - start), name).toBeLessThan(0.001)
      expect(largest(samples, start + 1, start + 2, RATE), `the rest after ${name}`).toBe(0)
    })
  })
})

describe("a shift", () => {
  test.each([
    ["P4", 4 / 3],
    ["-P4", 3 / 4],
    ["P5", 3 / 2],
    ["-M2", 8 / 9],
    ["m3", 32 / 27],
    ["P8", 2],
    ["-P8", 1 / 2],
    ["P1", 1],
    ["M9", 9 / 4],
  ])("%s in pure fifths makes every note %f times as high", (name, ratio) => {
    const shift = intervalFrom(name)!
    const [as, moved] = [tunerOf("pythagorean", { reference: 440 }), tunerOf("pythagorean", { reference: 440, shift })]
    for (const note of ["c4", "gs4", "bf3"]) expect(moved(pitch(note))! / as(pitch(note))!).toBeCloseTo(ratio, 12)
  })
  test.each(["P3", "M4", "M5", "x", "P0", "", "m99"])("“%s” is no interval", name => {
    expect(intervalFrom(name)).toBeUndefined()
  })
})

describe("a table of one's own", () => {
  test("is read with remarks, sharps by any sign, ratios and cents", () => {
    const read = parseTuning("# mine\na 27/16   # the reference\ng# 772.6\nbb: 1010\ncf 1110\nbs 20", "own.txt", "mine")
    expect(read.ok && read.value.title).toBe("mine")
    const { cents } = read.ok ? read.value : { cents: {} as Record<string, number> }
    expect(cents["a"]).toBeCloseTo(905.865, 3)
    // A c flat stands below the c of its own octave, a b sharp above the b.
    expect(cents).toMatchObject({ gs: 772.6, bf: 1010, cf: -90, bs: 1220 })
  })
  test.each([
    ["a 900\nh 20", 2, "does not tune a note"],
    ["a 900\ng", 2, "does not tune a note"],
    ["a 900\na 905", 2, "tuned twice"],
    ["a 900\ng 3/0", 2, "does not tune a note"],
    ["c 0", undefined, "does not tune the note a"],
    ["", undefined, "does not tune the note a"],
  ])("%j is refused with its line", (text, line, what) => {
    const read = parseTuning(text, "own.txt")
    expect(read.ok).toBe(false)
    expect(read.problems[0]).toMatchObject({ where: { file: "own.txt", ...(line ? { line } : {}) } })
    expect(read.problems[0]!.what).toContain(what)
  })
  test("must have what the piece needs", () => {
    const score = scoreFrom("a3:1 gs3:1 af3:1")
    expect(() => performed(score, { tuning: { title: "mine", cents: { a: 900, af: 810 } } })).toThrow("no g sharp")
  })
})

test.each([
  ["ars-antiqua", undefined, "pythagorean"],
  ["ars-nova", undefined, "pythagorean"],
  ["white", undefined, "meantone"],
  ["white", 1450, "pythagorean"],
  ["white", 1480, "meantone"],
  ["ars-nova", 1370, "pythagorean"],
])("%s, %o: %s by default, and a sentence says so", (practice, year, tuning) => {
  const usual = tuningDefault({ practice, year })
  expect(usual.tuning).toBe(tuning)
  expect(usual.sentence).toContain(tuningTitle(usual.tuning))
  expect(usual.sentence).toContain("editor's default")
})
