import { describe, expect, test } from "vitest"
import { ratio, toText } from "../base/index.js"
import { alignVoices, notate, type NotateOptions } from "./index.js"
import { PIECES } from "./testing/pieces.js"
import { signsFrom, testPiece, type TestVoice } from "./testing/readings.js"
import { shownLayer } from "./testing/shown.js"

function layersOf(voices: readonly TestVoice[]): string[][] {
  const { page, readings } = testPiece(voices)
  const { blocks } = notate(alignVoices(page, readings))
  return voices.map((_, voice) => blocks.map(block => shownLayer(block.layers[voice]!)))
}
const voice = (signs: string, spans: TestVoice["mensurations"], more: Partial<TestVoice> = {}): TestVoice => ({
  label: "v",
  signs: signsFrom(signs),
  mensurations: spans,
  ...more,
})
const tempus = (tempus: 2 | 3, prolatio: 2 | 3, onset = 0) => ({ onset: ratio(onset), tempus, prolatio })

describe("meters and bars by practice", () => {
  test.each([
    [tempus(3, 2), "ars-nova", "3/4", ["2.", "2."]],
    [tempus(2, 3), "ars-nova", "6/8", ["2.", "2."]],
    [tempus(3, 3), "ars-nova", "9/8", ["2. 4.~", "4."]],
    [tempus(2, 2), "ars-nova", "2/4", ["2~", "4 4~", "2"]],
    [tempus(2, 2), "white", "2/2", ["1~", "2 2~", "1"]],
    [tempus(3, 2), "white", "3/2", ["1.", "1."]],
    [tempus(2, 3), "white", "6/4", ["1.", "1."]],
  ] as const)("%o of %s is %s", (span, practice, meter, bars) => {
    const { page, readings } = testPiece([voice("d4:6 e4:6", [span], { practice })])
    const { blocks, meters } = notate(alignVoices(page, readings))
    expect(`${meters[0]!.count}/${meters[0]!.unit}`).toBe(meter)
    expect(blocks.map(block => shownLayer(block.layers[0]!))).toEqual(bars)
  })
  test("a perfection of tempora is a bar of three quarters, of two where the modus is imperfect", () => {
    const tenor = (modusMinor: 2 | 3) => voice("d4:3 e4:3", [{ onset: ratio(0), modusMinor }], { unit: "tempus" })
    expect(layersOf([tenor(3)])).toEqual([["2.", "2."]])
    expect(layersOf([tenor(2)])).toEqual([["2~", "4 4~", "2"]])
  })
  test("a change in the middle of a bar cuts it short, and the meter stands where the next begins", () => {
    expect(layersOf([voice("d4:6 e4:3 f4:6 g4:6", [tempus(3, 2), tempus(2, 3, 9)])])).toEqual([
      ["2.", "4.", "[6/8] 2.", "2."],
    ])
  })
  test("a proportion that divides in three needs tuplets and no tie", () => {
    const three = { ...tempus(3, 2, 8), proportion: ratio(3, 2) }
    expect(layersOf([voice("d4:4 e4:4 f4:4/3 g4:4/3 a4:4/3 g4:8/3 f4:4/3 d4:4", [tempus(2, 2), three])])).toEqual([
      ["2", "2", "(3:2 4 4 4)", "(3:2 2 4)", "2"],
    ])
  })
  test("a stroke that all voices share is cancelled, one that a single voice has is not", () => {
    const stroke = { ...tempus(2, 2), proportion: ratio(2) }
    const signs = "d4:2 e4:2"
    expect(layersOf([voice(signs, [stroke]), voice(signs, [stroke])])[0]).toEqual(["2", "2"])
    expect(layersOf([voice(signs, [stroke]), voice(signs, [tempus(2, 2)])])[0]).toEqual(["4 | 4"])
  })
})

describe("voices in different mensurations", () => {
  test("each keeps its bars, in stretches from line to common line", () => {
    const layers = layersOf([
      voice("d4:6 e4:6 f4:6 g4:6", [tempus(3, 2)]),
      voice("d4:6 e4:6 f4:6 g4:6", [tempus(3, 2)]),
      voice("d3:4 e3:4 f3:4 r:4 r:4 a3:4", [tempus(2, 2)]),
    ])
    expect(layers).toEqual([
      ["2. | 2.", "2. | 2."],
      ["2. | 2.", "2. | 2."],
      ["2 | 2 | 2", "r2 | r2 | 2"],
    ])
  })
  test("bars of one length need no lines of their own, whatever divides them", () => {
    expect(layersOf([voice("d4:6 e4:6", [tempus(3, 2)]), voice("d4:6 r:6", [tempus(2, 3)])])).toEqual([
      ["2.", "2."],
      ["2.", "R"],
    ])
  })
  test("where no line is shared within four bars, the line of most voices cuts and the other is tied over it", () => {
    const others = voice("d4:6 e4:6 f4:6 g4:6 a4:6 g4:6 f4:6", [tempus(3, 2)])
    const late = voice("r:1 d3:6 e3:6 f3:6 g3:17", [tempus(3, 2), tempus(3, 2, 1)])
    const { page, readings } = testPiece([others, others, late])
    const { blocks } = notate(alignVoices(page, readings))
    expect(blocks.map(block => block.shared)).toEqual([false, false, false, true])
    expect(blocks.map(block => shownLayer(block.layers[0]!))[0]).toBe("2. |")
    expect(blocks.map(block => shownLayer(block.layers[2]!)).slice(0, 2)).toEqual(["r8 | 2~ 8~", "8 | 2~ 8~"])
  })
  test("bars are numbered by the mensuration that most voices have", () => {
    const { page, readings } = PIECES.threeSigns()
    const { blocks } = notate(alignVoices(page, readings))
    expect(blocks.slice(0, 3).map(block => [block.n, toText(block.start)])).toEqual([
      [1, "0"],
      [3, "3/2"],
      [5, "3"],
    ])
  })
})

test("a reduction can be chosen, and a strange one is refused with its number", () => {
  const { page, readings } = testPiece([voice("d4:4", [tempus(2, 2)])])
  const score = alignVoices(page, readings)
  expect(shownLayer(notate(score, { reduction: 8 }).blocks[0]!.layers[0]!)).toBe("4")
  expect(shownLayer(notate(score, { reduction: 1 }).blocks[0]!.layers[0]!)).toBe("breve")
  expect(() => notate(score, { reduction: 3 })).toThrow(/reduction 3/)
})

describe("notes written whole over lines", () => {
  const whole = (voices: readonly TestVoice[], more: NotateOptions = {}) => {
    const { page, readings } = testPiece(voices)
    const { blocks } = notate(alignVoices(page, readings), { overLines: "whole", ...more })
    return blocks.map(({ layers }) => layers.map(shownLayer))
  }
  const two = (a: string, b: string) => [
    { label: "a", signs: signsFrom(a) },
    { label: "b", signs: signsFrom(b) },
  ]
  test("keep their value; where their bar is over, time goes on", () => {
    expect(whole(two("d4:2 e4:4 f4:2", "d3:4 e3:4"))).toEqual([
      ["4 2=4", "2"],
      ["=4 4", "2"],
    ])
    expect(whole(two("d4:2 e4:4 f4:2", "d3:4 e3:4"), { overLines: "tied" })[0]![0]).toBe("4 4~")
  })
  test("what no one sign can show is tied at a line; within a bar nothing is that one can", () => {
    expect(whole(two("d4:3 e4:5 f4:4", "d3:4 e3:4 f3:4")).map(([a]) => a)).toEqual(["4. 8~", "2", "2"])
    expect(whole(two("d4:1 e4:2 f4:1", "d3:4")).map(([a]) => a)).toEqual(["8 4 8"])
  })
  test("are tied where a system begins", () => {
    const piece = two("d4:2 e4:4 f4:4 g4:2", "d3:4 e3:4 f3:4")
    expect(whole(piece).map(([a]) => a)).toEqual(["4 2=4", "=4 2=4", "=4 4"])
    expect(whole(piece, { systems: [2] }).map(([a]) => a)).toEqual(["4 4~", "4 2=4", "=4 4"])
  })
  test("finals of all voices stay in one stretch, as one long note if wished", () => {
    expect(whole(two("d4:4 e4:8", "d3:4 e3:8"))).toEqual([
      ["2", "2"],
      ["1=2 =2", "1=2 =2"],
    ])
    expect(whole(two("d4:4 e4:8", "d3:4 e3:8"), { longFinals: true })[1]).toEqual(["long=2 =2", "long=2 =2"])
    expect(whole(two("d4:4 e4:8", "d3:4 e3:4 f3:4"), { longFinals: true })[2]).toEqual(["=2", "long=2"])
  })
})

test("bars of most voices for all", () => {
  const of = (tempus: 2 | 3) => [{ onset: ratio(0), tempus, prolatio: 2 as const }]
  const { page, readings } = testPiece([
    { label: "a", signs: signsFrom("d4:6 e4:6"), mensurations: of(3) },
    { label: "b", signs: signsFrom("d4:4 e4:4 f4:4"), mensurations: of(2) },
    { label: "c", signs: signsFrom("d4:6 e4:6"), mensurations: of(3) },
  ])
  const { blocks, meters } = notate(alignVoices(page, readings), { bars: "common" })
  expect(meters).toEqual([3, 3, 3].map(count => ({ count, unit: 4 })))
  expect(blocks.map(({ layers }) => shownLayer(layers[1]!))).toEqual(["2 4~", "4 2"])
})
