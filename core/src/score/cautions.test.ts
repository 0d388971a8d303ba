import { describe, expect, test } from "vitest"
import { alignVoices, notate, type NotateOptions } from "./index.js"
import { testPiece, signsFrom, type TestSign } from "./testing/readings.js"

/** Notes by name; "#" and "b" before the duration are written on the page, "^" by an editor. Bars of four minims. */
function voice(text: string): TestSign[] {
  return text.split(" ").map(token => {
    const [, pitch, mark] = /^([a-g])(.?)/.exec(token)!
    const written = { "#": "s", "^": "s", b: "f" }[mark!]
    const [sign] = signsFrom(`${pitch}${written ?? ""}${/\d/.exec(token)![0]}:1`)
    return written
      ? { ...sign!, note: { ...sign!.note, accidental: written, accidentalByEditor: mark === "^" } }
      : sign!
  })
}

/** Accidentals in parentheses, "(n)" after the note's number. */
function cautions(voices: readonly string[], cautionary: NotateOptions["cautionary"] = "usual"): string[] {
  const { page, readings } = testPiece(voices.map((text, i) => ({ label: `v${i}`, signs: voice(text) })))
  const { blocks } = notate(alignVoices(page, readings), { cautionary })
  return blocks.flatMap(({ layers }) =>
    layers.flat().flatMap(item => {
      if (item.kind !== "sign" || item.accidental?.kind !== "caution") return []
      return [`${item.event.id} ${item.accidental.accidental}`]
    }),
  )
}

describe("in one voice", () => {
  test("after the bar line, the first time only", () => {
    expect(cautions(["f#4 g4 a4 g4 f4 g4 f4 g4"])).toEqual(["1.5 n"])
  })
  test("not two bars later", () => {
    expect(cautions(["f#4 g4 a4 g4 a4 g4 a4 g4 f4 g4 a4 g4"])).toEqual([])
  })
  test("an octave apart, in the same bar and over the line", () => {
    expect(cautions(["f#4 g4 f5 g4"])).toEqual(["1.3 n"])
    expect(cautions(["f#4 g4 a4 g4 g5 f5 g5 f5"])).toEqual(["1.6 n"])
  })
  test("after an editor's accidental, which holds for its note alone", () => {
    expect(cautions(["f^4 g4 f4 g4"])).toEqual(["1.3 n"])
  })
  test("what needs an accidental anyway gets no other; what is the same gets none", () => {
    expect(cautions(["f#4 g4 f#4 g4"])).toEqual([])
    expect(cautions(["f#4 e4 f#4 g4 f#4 e4 d4 c4"])).toEqual([])
  })
  test("none where none is wanted", () => {
    expect(cautions(["f#4 g4 a4 g4 f4 g4 f4 g4"], "none")).toEqual([])
  })
})

describe("after another voice", () => {
  const [upper, lower] = ["f#4 g4 a4 g4", "d3 f3 e3 f3"]
  test("in the same bar, if many are wanted", () => {
    expect(cautions([upper, lower])).toEqual([])
    expect(cautions([upper, lower], "many")).toEqual(["2.2 n"])
  })
  test("at the same moment, and not in the next bar", () => {
    expect(cautions(["f#4 g4 a4 g4", "f3 e3 d3 c3"], "many")).toEqual(["2.1 n"])
    expect(cautions(["f#4 g4 a4 g4 a4 g4 a4 g4", "d3 e3 d3 c3 f3 e3 d3 c3"], "many")).toEqual([])
  })
  test("not before it is heard", () => {
    expect(cautions(["g4 a4 g4 f#4", "f3 e3 d3 c3"], "many")).toEqual([])
  })
})
