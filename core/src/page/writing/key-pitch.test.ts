/** What a key of a keyboard writes, with and without a signature. Numbers of keys: MIDI 1.0 (60 is c4). */
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange } from "../change.js"
import { parseShorthand } from "../shorthand/index.js"
import { writeKey } from "./index.js"

const plain = mustWork(parseShorthand("voice 1 black\nclef:C3"))
const flat = mustWork(parseShorthand("voice 1 black\nclef:C3 sig:bf"))

function written(page: typeof plain, key: number): string {
  const gesture = writeKey(page, { voice: page.voices[0]!.id, after: page.voices[0]!.signs.at(-1)!.id }, key, "brevis")
  if (!gesture) return "nothing"
  const note = mustWork(applyChange(page, gesture.change)).page.voices[0]!.signs.at(-1)!
  if (note.kind !== "note" || !note.pitch) return "no note"
  return `${note.level} ${note.pitch.step}${note.accidental ?? ""}${note.pitch.octave}`
}

describe("a key of a keyboard", () => {
  it.each([
    [60, "brevis c4"],
    [59, "brevis b3"],
    [61, "brevis cs4"],
    [63, "brevis ef4"],
    [66, "brevis fs4"],
    [68, "brevis gs4"],
    [70, "brevis bf4"],
    [36, "brevis c2"],
  ])("%i is %s", (key, note) => expect(written(plain, key)).toBe(note))
  it("has no accidental where the signature says it, and another sign where it says otherwise", () => {
    expect(written(flat, 70)).toBe("brevis b4")
    expect(written(flat, 71)).toBe("brevis bn4")
    expect(written(flat, 69)).toBe("brevis a4")
  })
  it("that there is not writes nothing", () => {
    for (const key of [-1, 128, 60.5, NaN]) expect(written(plain, key)).toBe("nothing")
  })
})
