/** What holds for every voice, tried on many: lawful ones with known durations, and rows of signs that nobody wrote. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, ONE, plus, ZERO } from "../base/index.js"
import type { Page, Voice } from "../page/index.js"
import { readPage, readVoice } from "./index.js"
import { compareNotes, Tally } from "./testing/compare.js"
import { unfilled } from "./testing/filled.js"
import { LAWFUL_PRACTICES, lawfulVoice, type LawfulPractice } from "./testing/lawful.js"
import { voiceOfLetters, type LetterOptions } from "./testing/letters.js"
import { runs } from "../base/testing/runs.js"

const seed = fc.integer({ min: 0, max: 2 ** 31 - 1 })
const practice = fc.constantFrom(...LAWFUL_PRACTICES)
const lawful = fc.record({ seed, practice, notes: fc.integer({ min: 1, max: 80 }) })
const make = (of: { seed: number; practice: LawfulPractice; notes: number }) => lawfulVoice(of.seed, of)

const division = fc.constantFrom<2 | 3>(2, 3)
const word = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom("L", "B", "B", "S", "S", "M", "M") },
  { weight: 1, arbitrary: fc.constantFrom("-L", "-B", "-S", "-M", "Mx", "Sm") },
  { weight: 1, arbitrary: fc.constant(".") },
)
const oldWord = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom("L", "L", "B", "B", "B", "S S", "S S S") },
  { weight: 1, arbitrary: fc.constantFrom("-L", "-B", "LD", "S", "|", ".") },
)
/** Any row of signs, most of them against the rules somewhere. */
const mensuralRow = fc.record({
  text: fc.array(word, { minLength: 1, maxLength: 14 }).map(words => words.join(" ")),
  options: fc.record({
    practice: fc.constantFrom("ars-nova", "white"),
    divisions: fc.tuple(fc.constant<2>(2), division, division, division),
  }),
})
const oldRow = fc.record({
  text: fc.array(oldWord, { minLength: 1, maxLength: 14 }).map(words => words.join(" ")),
  options: fc.constant({ practice: "ars-antiqua" }),
})
const anyRow: fc.Arbitrary<{ text: string; options: LetterOptions }> = fc.oneof(mensuralRow, oldRow)

const pageOf = (voices: readonly Voice[]): Page => ({
  title: "Invented for a test",
  voices,
  shapes: [],
  surfaces: [],
  zones: [],
  alternatives: [],
})

describe("a reading without problems fills every perfection", () => {
  // Two voices of these 1,500 are displaced without a word: a note shortened by what precedes, with two units before it.
  test("of a lawful voice, but for one in five hundred", () => {
    const bad: string[] = []
    let free = 0
    for (const kind of LAWFUL_PRACTICES)
      for (let seed = 1; seed <= 300; seed++) {
        const reading = readVoice(lawfulVoice(seed, { practice: kind, notes: 40 }).voice)
        // A cut sign halves the durations, not the perfections.
        const isCut = !equals(reading.mensurations[0]!.proportion, ONE)
        if (reading.problems.length > 0 || isCut) continue
        free++
        const [complaint] = unfilled(reading)
        if (complaint !== undefined) bad.push(`${kind} ${seed}: ${complaint}`)
      }
    expect(free).toBeGreaterThan(1000)
    expect(percent(bad.length, free), bad.join("\n")).toBeLessThan(0.2)
  })

  test("and the count that says so sees a perfection that is not", () => {
    const options: LetterOptions = { practice: "ars-nova", divisions: [2, 2, 3, 2] }
    const reading = readVoice(voiceOfLetters("B S B B S S B", options))
    expect(unfilled(reading)).toEqual([])
    // The first breve left whole: all that follows stands too late.
    let time = ZERO
    const signs = reading.signs.map((sign, i) => {
      const late = { ...sign, onset: time, duration: i === 1 ? { num: 6, den: 1 } : sign.duration }
      time = plus(time, late.duration)
      return late
    })
    expect(unfilled({ ...reading, signs }).length).toBeGreaterThan(1)
  })

  // Not yet a law without exceptions: a unit that is carried to the very end, and semibreves left alone, go unreported.
  test.each([
    ["mensural", mensuralRow, 0.3],
    ["older", oldRow, 0.001],
  ] as const)("of a row of %s signs, but for a few in a thousand", (_, rows, most) => {
    let free = 0
    const bad: string[] = []
    for (const { text, options } of fc.sample<{ text: string; options: LetterOptions }>(rows, {
      numRuns: 3000,
      seed: 7,
    })) {
      const reading = readVoice(voiceOfLetters(text, options))
      if (reading.problems.length > 0) continue
      free++
      const [complaint] = unfilled(reading)
      if (complaint !== undefined)
        bad.push(`${options.practice} ${String(options.divisions ?? "")}: ${text}: ${complaint}`)
    }
    expect(free).toBeGreaterThan(1000)
    expect(percent(bad.length, free), bad.slice(0, 10).join("\n")).toBeLessThan(most)
  })
})

describe("time is exact", () => {
  test("onsets are running sums, the whole is their end, and every sign of the page has its entry", () => {
    fc.assert(
      fc.property(lawful, of => {
        const { voice, durations } = make(of)
        const reading = readVoice(voice)
        let time = ZERO
        for (const sign of reading.signs) {
          expect(equals(sign.onset, time)).toBe(true)
          time = plus(time, sign.duration)
        }
        expect(equals(reading.duration, time)).toBe(true)
        const lasting = reading.signs.filter(sign => sign.kind === "note" || sign.kind === "rest")
        expect(lasting.map(sign => sign.id)).toEqual([...durations.keys()])
      }),
      { numRuns: runs(30) },
    )
  })

  test("reading twice gives the same, and the page stays as it was", () => {
    const rows = anyRow.map(({ text, options }) => voiceOfLetters(text, options))
    const voices = fc.oneof(
      lawful.map(of => make(of).voice),
      rows,
    )
    fc.assert(
      fc.property(voices, voice => {
        const before = JSON.stringify(voice)
        const first = readVoice(voice)
        expect(readVoice(structuredClone(voice))).toEqual(first)
        expect(JSON.stringify(voice)).toBe(before)
      }),
      { numRuns: runs(40) },
    )
  })

  test("what stands beside a voice changes nothing in it", () => {
    fc.assert(
      fc.property(lawful, fc.array(lawful, { minLength: 1, maxLength: 3 }), fc.nat(3), (of, others, at) => {
        const { voice } = make(of)
        const beside = others.map((other, i) => lawfulVoice(other.seed, { ...other, label: `other${i}` }).voice)
        const voices = beside.toSpliced(at, 0, voice)
        const readings = readPage(pageOf(voices))
        expect(readings[voices.indexOf(voice)]).toEqual(readVoice(voice))
      }),
      { numRuns: runs(30) },
    )
  })
})

/**
 * In per cent, a little less than was measured (scripts/measure.mjs): stretches read at once as they were made, those
 * with the true durations at least among the rivals, notes with a doubt under 0.05.
 */
const FLOORS: Record<LawfulPractice, { exact: number; offered: number; sure: number }> = {
  "ars-antiqua": { exact: 98.5, offered: 99.5, sure: 94 },
  "divided-breves": { exact: 99, offered: 99.5, sure: 75 },
  "ars-nova-early": { exact: 98.5, offered: 99.5, sure: 64 },
  "ars-nova": { exact: 96, offered: 99, sure: 90 },
  white: { exact: 97.5, offered: 99.5, sure: 90 },
}

function measured(kind: LawfulPractice, voices: number): Tally {
  const tally = new Tally()
  for (let seed = 1; seed <= voices; seed++) {
    const made = lawfulVoice(seed, { practice: kind })
    tally.add(made, readVoice(made.voice))
  }
  return tally
}
const percent = (part: number, whole: number): number => (100 * part) / whole

describe("lawful voices give back the durations they were made of", () => {
  test.each(LAWFUL_PRACTICES)("%s", kind => {
    const tally = measured(kind, 200)
    const exact = percent(tally.exact, tally.stretches)
    const offered = percent(tally.offered, tally.stretches)
    const sure = percent(tally.sure, tally.notes)
    const wrong = percent(tally.sureWrong, tally.sure)
    console.log(
      `${kind}: ${exact.toFixed(1)} % of ${tally.stretches} stretches at once, ${offered.toFixed(1)} % with the rivals; ` +
        `doubt under 0.05 on ${sure.toFixed(1)} % of the notes, ${wrong.toFixed(2)} % of them wrong`,
    )
    expect(exact).toBeGreaterThan(FLOORS[kind].exact)
    expect(offered).toBeGreaterThan(FLOORS[kind].offered)
    expect(sure).toBeGreaterThan(FLOORS[kind].sure)
    expect(wrong).toBeLessThan(1)
  })

  test("the generator is the same for the same seed, and fills whole perfections itself", () => {
    fc.assert(
      fc.property(lawful, of => {
        const made = make(of)
        expect(make(of)).toEqual(made)
        const reading = readVoice(made.voice)
        expect(compareNotes(made, reading).length).toBe(made.durations.size)
        expect(made.walls.length).toBeGreaterThan(1)
      }),
      { numRuns: runs(20) },
    )
  })
})
