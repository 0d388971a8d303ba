import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { alignVoices, notate, type LayerItem } from "./index.js"
import { signsFrom, testPiece } from "./testing/readings.js"

/** Bars of two quarters. */
function layers(...voices: readonly string[]): string[][] {
  const piece = testPiece(voices.map((signs, i) => ({ label: `voice ${i + 1}`, signs: signsFrom(signs) })))
  const { blocks } = notate(alignVoices(piece.page, piece.readings))
  return voices.map((_, voice) => blocks.map(block => block.layers[voice]!.map(named).join(" ")))
}

const named = (item: LayerItem): string => {
  if (item.kind === "bar-rest") return "bar of rest"
  if (item.kind !== "sign") return item.kind
  return `${item.event.kind === "rest" ? "rest" : "note"} ${toText(item.start)}-${toText(item.end)}`
}

describe("rests", () => {
  test("that fill bars become one rest in each", () => {
    expect(layers("d4:4 r:2 r:1 r:1 r:12 d4:4 d4:4")[0]).toEqual([
      "note 0-1/2",
      "bar of rest",
      "bar of rest",
      "bar of rest",
      "bar of rest",
      "note 5/2-3",
      "note 3-7/2",
    ])
  })
  test("among notes stay as they are: a hocket", () => {
    expect(layers("d4:1 r:1 d4:1 r:1 r:1 d4:1 r:1 r:1 d4:4")[0]!.slice(0, 2)).toEqual([
      "note 0-1/8 rest 1/8-1/4 note 1/4-3/8 rest 3/8-1/2",
      "rest 1/2-5/8 note 5/8-3/4 rest 3/4-7/8 rest 7/8-1",
    ])
  })
  test("that begin within a bar are whole from the next line on", () => {
    expect(layers("d4:2 r:1 r:6 r:3 d4:4")[0]!.slice(0, 3)).toEqual([
      "note 0-1/4 rest 1/4-3/8 rest 3/8-1/2",
      "bar of rest",
      "bar of rest",
    ])
  })
  test("of an editor are not joined with those of the source", () => {
    const signs = signsFrom("d4:4 r:2 r:2 r:2 r:2 d4:4")
    const { page, readings } = testPiece([{ label: "v", signs }])
    const voice = page.voices[0]!
    const supplied = voice.signs.map((sign, i) =>
      i > 1 && sign.kind === "rest" ? { ...sign, editorial: { kind: "supplied" as const } } : sign,
    )
    const { blocks } = notate(alignVoices({ ...page, voices: [{ ...voice, signs: supplied }] }, readings))
    expect(blocks.slice(1, 3).map(block => block.layers[0]!.map(named).join(" "))).toEqual([
      "rest 1/2-3/4 rest 3/4-1",
      "bar of rest",
    ])
  })
})
