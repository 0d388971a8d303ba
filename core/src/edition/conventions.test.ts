import { describe, expect, test } from "vitest"
import { alignVoices } from "../score/index.js"
import { PIECES } from "../score/testing/pieces.js"
import { signsFrom, testPiece } from "../score/testing/readings.js"
import {
  clefFor,
  clefNamed,
  conventionsInWords,
  CONVENTIONS,
  conventionsWith,
  HOUSE_STYLES,
  pitchAt,
  styleNamed,
  USUAL_CLEFS,
  USUAL_CONVENTIONS,
} from "./index.js"

const score = (make: () => ReturnType<typeof testPiece>) => {
  const { page, readings } = make()
  return alignVoices(page, readings)
}

describe("what is chosen", () => {
  test("nothing chosen is the usual, which is the first of each", () => {
    expect(conventionsWith({})).toEqual(USUAL_CONVENTIONS)
    for (const { name, choices } of CONVENTIONS) expect(USUAL_CONVENTIONS[name]).toBe(choices[0].value)
  })
  test.each([
    ["between", "whole"],
    ["ticks", "whole"],
    ["full", "tied"],
    ["own", "tied"],
  ] as const)("bars %s: notes %s, unless said otherwise", (bars, overLines) => {
    expect(conventionsWith({ bars }).overLines).toBe(overLines)
    expect(conventionsWith({ bars, overLines: "tied" }).overLines).toBe("tied")
  })
  test("what is undefined is not chosen", () => {
    expect(conventionsWith({ bars: undefined }, styleNamed("ticks")!.conventions).bars).toBe("ticks")
  })
})

describe("house styles", () => {
  test("each has a name of its own and a sentence; each value is one that there is", () => {
    expect(new Set(HOUSE_STYLES.map(({ name }) => name)).size).toBe(HOUSE_STYLES.length)
    for (const { name, description, conventions } of HOUSE_STYLES) {
      expect(description, name).toMatch(/^[A-Z].*\.$/)
      for (const { name: of, choices } of CONVENTIONS)
        expect(
          choices.map(({ value }) => value),
          `${name}, ${of}`,
        ).toContain(conventions[of])
    }
  })
})

describe("clefs", () => {
  // Common practice: the note that each clef names, and the middle line it gives.
  test.each([
    ["treble", "b4"],
    ["treble-8", "b3"],
    ["bass", "d3"],
    ["alto", "c4"],
    ["tenor", "a3"],
    ["soprano", "g4"],
    ["mezzo-soprano", "e4"],
    ["baritone", "f3"],
  ] as const)("%s has %s on its middle line", (name, pitch) => {
    const { step, octave } = pitchAt(clefNamed(name).middle)
    expect(`${step}${octave}`).toBe(pitch)
  })
  test("by range, or as asked by label or number", () => {
    const [triplum, motetus, tenor] = score(PIECES.oldMotet).voices
    expect([triplum!, motetus!, tenor!].map(voice => clefFor(voice).name)).toEqual(["treble", "treble-8", "bass"])
    expect(clefFor(tenor!, { ...USUAL_CLEFS, voices: { tenor: "alto" } }).name).toBe("alto")
    expect(clefFor(motetus!, { ...USUAL_CLEFS, voices: { "2": "alto" } }).name).toBe("alto")
    expect(clefFor(motetus!, { from: ["alto", "bass"], voices: {} }).name).toBe("alto")
    expect(clefFor({ ...motetus!, label: "constructor" }).name).toBe("treble-8")
  })
})

describe("in words", () => {
  test("whole sentences, in every style, of a piece and of none", () => {
    for (const { conventions } of HOUSE_STYLES)
      for (const said of [conventionsInWords(conventions), conventionsInWords(conventions, score(PIECES.oldMotet))])
        for (const sentence of said) expect(sentence).toMatch(/^[A-Z][^.]*\.$/)
  })
  test("values and clefs of the piece", () => {
    const [values, clefs] = conventionsInWords(USUAL_CONVENTIONS, score(PIECES.oldMotet))
    expect(values).toBe("Note values are shortened to 1:8 of those of the source.")
    expect(clefs).toBe(
      "Of the modern clefs, Triplum has the treble clef, Motetus has the treble clef that sounds an octave lower and Tenor has the bass clef.",
    )
    expect(conventionsInWords(USUAL_CONVENTIONS, score(PIECES.strokeForAll)).join(" ")).toContain(
      "The proportion 2 that all voices share is cancelled.",
    )
  })
  test("nothing of what the piece does not have", () => {
    const plain = score(() => testPiece([{ label: "cantus", signs: signsFrom("d4:4 e4:4") }]))
    const said = conventionsInWords(USUAL_CONVENTIONS, plain).join(" ")
    expect(said).not.toMatch(/ligature|coloration|plica|italics/i)
    expect(conventionsInWords(USUAL_CONVENTIONS).join(" ")).toMatch(/ligature.*coloration.*plica.*italics/i)
  })
})
