import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices } from "./index.js"

/** Invented. */
const PAGE = `voice cantus white practice=white
O folio:3v line:1 B c4 S d4 line:2 prop:3/2 B e4 S d finis column:b C|2 B c4 . d4
voice tenor white practice=white
O L c3 B d suspirium L c`

function scoreOf(text: string) {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  return alignVoices(read.value, readPage(read.value))
}

describe("signs of the page that last nothing", () => {
  const [cantus, tenor] = scoreOf(PAGE).voices
  test("signs of mensuration and proportion, as written, where what follows begins", () => {
    expect(cantus!.signs.map(({ onset, written }) => [toText(onset), written.kind])).toEqual([
      ["0", "mensuration"],
      ["6", "proportion"],
      ["10", "mensuration"],
    ])
    expect(cantus!.signs[2]!.written).toMatchObject({ sign: "C", strokes: 1, figures: [2] })
    expect(cantus!.events.find(({ id }) => id === cantus!.signs[2]!.before)!.onset).toEqual(cantus!.signs[2]!.onset)
  })
  test("folios, columns and lines", () => {
    expect(cantus!.breaks.map(({ onset, written }) => [toText(onset), written.of, written.n])).toEqual([
      ["0", "folio", "3v"],
      ["0", "line", "1"],
      ["6", "line", "2"],
      ["10", "column", "b"],
    ])
  })
  test("strokes of division", () => {
    expect(cantus!.strokes.map(({ onset, written }) => [toText(onset), written.form])).toEqual([
      ["10", "finis-punctorum"],
    ])
    expect(tenor!.strokes).toMatchObject([{ written: { form: "suspirium" } }])
  })
  test("every note names its sign and its part", () => {
    expect(cantus!.part).toBe(cantus!.id)
    expect(cantus!.events.map(({ id, sign }) => id === sign)).toEqual(cantus!.events.map(() => true))
  })
})
