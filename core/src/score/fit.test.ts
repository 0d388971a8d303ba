import { describe, expect, test } from "vitest"
import { ratio, signId } from "../base/index.js"
import type { Reading } from "../reading/types.js"
import { alignVoices, fitOf, fitSentence } from "./index.js"
import { signsFrom, testPiece, type TestVoice } from "./testing/readings.js"

const voice = (label: string, signs: string, more: Partial<TestVoice> = {}): TestVoice => ({
  label,
  signs: signsFrom(signs),
  ...more,
})

describe("fitOf", () => {
  test("voices that begin their finals together are together, however long the finals are written", () => {
    const { readings } = testPiece([voice("cantus", "d4:2 e4:4 d4:6"), voice("tenor", "d3:6 c3:12")])
    expect(fitOf(readings)).toEqual({ together: true, durations: ["12", "18"], firstParting: null, unit: "minima" })
  })
  test("of three voices, the one that differs is named", () => {
    const { readings } = testPiece([
      voice("cantus", "d4:2 e4:4 d4:6"),
      voice("contratenor", "d4:2 e4:3 d4:6"),
      voice("tenor", "d3:6 d3:6"),
    ])
    const fit = fitOf(readings)
    expect(fit.together).toBe(false)
    expect(fit.firstParting).toEqual({ onset: "5", signs: ["2.3"] })
    expect(fit.finals).toEqual(["6", "5", "6"])
    expect(fitSentence(fit)).toBe(
      "The voices do not meet: up to their finals they last 6, 5 and 6 minims; by 5 they have parted.",
    )
  })
  test("of two voices that part, both are named", () => {
    const { readings } = testPiece([voice("cantus", "d4:4/3 e4:4 d4:6"), voice("tenor", "d3:6 d3:6")])
    expect(fitOf(readings).firstParting).toEqual({ onset: "16/3", signs: ["1.3", "2.2"] })
  })
  test.each([
    ["with the others' finals", "d4:2 e4:4 r:6"],
    ["where the others' finals begin", "d4:2 e4:2 r:2"],
  ])("a voice may close with a rest %s", (_, signs) => {
    const { readings } = testPiece([voice("cantus", signs), voice("tenor", "d3:6 d3:6"), voice("contra", "a3:6 a3:6")])
    expect(fitOf(readings).together).toBe(true)
  })
  test("where all close with rests the notes before them are finals, held freely, if they begin together", () => {
    const fits = (...signs: readonly string[]) =>
      fitOf(testPiece(signs.map((one, i) => voice(`voice ${i + 1}`, one))).readings).together
    expect(fits("d4:2 e4:4 d4:12 r:12", "d3:6 d3:6 r:12", "a3:6 a3:18 r:12")).toBe(true)
    // or they leave off one after the other, and their rests end together
    expect(fits("d4:2 e4:2 r:8", "d3:6 r:6")).toBe(true)
    expect(fits("d4:2 e4:4 r:12", "d3:6 d3:6 r:12")).toBe(false)
    expect(fits("d4:2 e4:4 d4:12 r:12", "d3:6 d3:6")).toBe(false)
  })
  test("a voice that closes with a rest anywhere else parts from the others", () => {
    const { readings } = testPiece([
      voice("cantus", "d4:2 r:2"),
      voice("tenor", "d3:6 d3:6"),
      voice("contra", "a3:6 a3:6"),
    ])
    expect(fitOf(readings).firstParting).toEqual({ onset: "4", signs: ["1.2"] })
  })
  test("units that differ are compared breve for breve, and the fit says so", () => {
    const { page, readings } = testPiece([
      voice("triplum", "d4:6 e4:3 f4:9 d4:9", { mensurations: [{ onset: ratio(0), tempus: 3, prolatio: 3 }] }),
      voice("tenor", "d3:1 c3:1 d3:3", { unit: "tempus" }),
    ])
    const fit = fitOf(readings)
    expect(fit).toMatchObject({ together: true, durations: ["27", "45"], unit: "minima" })
    expect(fit.equivalence).toBe("One tempus is taken as one breve of 9 minims, the breve with which triplum begins.")
    expect(alignVoices(page, readings).equivalence).toBe(fit.equivalence)
  })
  test("signa congruentiae of which every voice has as many are places to meet, though the finals meet", () => {
    const { readings } = testPiece([voice("cantus", "d4:3 e4:2 d4:3 d4:3"), voice("tenor", "d3:2 e3:3 d3:3 d3:3")])
    const marked = (places: readonly (readonly string[])[]) =>
      readings.map((reading, i) => ({ ...reading, signa: places[i]!.map(signId) }))
    expect(fitOf(marked([["1.3"], ["2.3"]])).together).toBe(true)
    const apart = fitOf(
      marked([
        ["1.2", "1.4"],
        ["2.2", "2.4"],
      ]),
    )
    expect(apart).toMatchObject({
      together: false,
      finalsMeet: true,
      firstParting: { onset: "2", signs: ["1.2", "2.2"] },
    })
    expect(apart.missed).toEqual({
      kind: "signum",
      number: 1,
      voices: [
        { label: "cantus", onset: "3" },
        { label: "tenor", onset: "2" },
      ],
    })
    expect(fitSentence(apart)).toBe(
      "The voices meet at their finals, but not at signum congruentiae 1: cantus has it at minim 3, tenor at minim 2.",
    )
    // one sign too few says nothing of where the others belong
    expect(fitOf(marked([["1.2", "1.4"], ["2.2"]])).together).toBe(true)
  })
  test("sections closed by a finis punctorum are compared one by one", () => {
    const pieces = testPiece([voice("cantus", "d4:3 e4:3 d4:3 d4:3"), voice("tenor", "d3:2 e3:4 d3:3 d3:3")])
    const readings = pieces.readings.map(reading => withFinis(reading, 2))
    expect(fitOf(readings).firstParting).toEqual({ onset: "2", signs: ["1.2", "2.2"] })
    expect(fitSentence(fitOf(readings))).toContain("but not before the end of section 1: cantus has its last note at")
    expect(fitOf(pieces.readings).together).toBe(true)
  })
  test("a voice of which nothing stands parts from nobody", () => {
    const { page, readings } = testPiece([
      voice("cantus", "d4:3 e4:3 d4:6"),
      { label: "contra", signs: [] },
      voice("tenor", "d3:6 d3:6"),
    ])
    const fit = fitOf(readings)
    expect(fit).toMatchObject({ together: true, durations: ["12", "0", "12"], firstParting: null })
    expect(alignVoices(page, readings).problems.map(one => one.code)).not.toContain("voices-part")
    expect(fitOf([readings[0]!, testPiece([voice("tenor", "d3:5 d3:6")]).readings[0]!]).together).toBe(false)
  })
  test("where nothing stands at all, that is said", () => {
    const { readings } = testPiece([
      { label: "a", signs: [] },
      { label: "b", signs: [] },
    ])
    expect(fitSentence(fitOf(readings))).toBe("Nothing is sung yet.")
  })
  test("no voices, and voices without a sign, have nothing to part over", () => {
    expect(fitOf([])).toMatchObject({ together: true, durations: [], firstParting: null })
    expect(fitOf(testPiece([voice("a", "d4:1")]).readings).together).toBe(true)
    expect(
      fitOf(
        testPiece([
          { label: "a", signs: [] },
          { label: "b", signs: [] },
        ]).readings,
      ).together,
    ).toBe(true)
  })
})

/** A stroke through the staff after so many signs. */
function withFinis(reading: Reading, after: number): Reading {
  const stroke: Reading["signs"][number] = {
    ...reading.signs[0]!,
    id: signId(`${reading.n}.finis`),
    kind: "stroke",
    number: 0,
    pitch: null,
    onset: reading.signs[after]!.onset,
    duration: ratio(0),
    rule: "finis-punctorum",
  }
  return { ...reading, signs: [...reading.signs.slice(0, after), stroke, ...reading.signs.slice(after)] }
}
