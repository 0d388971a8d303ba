import { describe, expect, test } from "vitest"
import { pitchOf } from "./pitch.js"
import { transposer } from "./transpose.js"

const FLAT = [{ step: "b", accidental: "f" }] as const
function sung(pitches: string, interval: number, steps?: "exact" | "diatonic", signature: typeof FLAT | [] = []) {
  const to = transposer({ interval, ...(steps && { steps }) }, signature)
  return pitches
    .split(" ")
    .map(text => {
      const { step, accidental, octave } = to.pitch(pitchOf(text)!)
      return `${step}${accidental}${octave}`
    })
    .join(" ")
}

describe("a part at another pitch", () => {
  test.each([
    ["c4 d4 e4 f4 g4 a4 b4", -5, undefined, "f3 g3 a3 bf3 c4 d4 e4"],
    ["c4 d4 e4 f4 g4 a4 b4", 5, undefined, "g4 a4 b4 c5 d5 e5 f5"],
    ["c4 d4 e4 f4 g4 a4 b4", 5, "exact", "g4 a4 b4 c5 d5 e5 fs5"],
    ["c4 d4 e4 f4 g4 a4 b4", -5, "diatonic", "f3 g3 a3 b3 c4 d4 e4"],
    ["f4 fs4 bf4 ef4", -5, undefined, "bf3 b3 ef4 af3"],
    ["c4 f4 bf4", 4, undefined, "f4 bf4 ef5"],
    ["c4 fs4", 8, undefined, "c5 fs5"],
    ["c4 e4 f4", -12, undefined, "f2 a2 bf2"],
    ["c4 e4 fs4", 2, undefined, "d4 f4 gs4"],
  ] as const)("%s at %i %s: %s", (from, interval, steps, to) => {
    expect(sung(from, interval, steps)).toBe(to)
  })
  test("the signature goes with it", () => {
    expect(transposer({ interval: -5 }, FLAT).signature(FLAT)).toEqual([
      { step: "b", accidental: "f" },
      { step: "e", accidental: "f" },
    ])
    expect(transposer({ interval: 5 }, FLAT).signature(FLAT)).toEqual([])
    expect(transposer({ interval: 5 }, []).signature([])).toEqual([])
    expect(transposer({ interval: 3 }, FLAT).signature(FLAT)).toEqual(FLAT)
  })
  test("by steps alone a note keeps to the signature where it goes", () => {
    expect(sung("g4 bf4 b4", 3, undefined, FLAT)).toBe("bf4 d5 d5")
  })
  test("an accidental that is written is written there too, as what it is there", () => {
    const down = transposer({ interval: -5 }, [])
    expect(down.written({ step: "f", octave: 4 }, "s")).toBe("n")
    expect(down.written({ step: "b", octave: 4 }, "f")).toBe("f")
    expect(transposer({ interval: 5 }, []).written({ step: "b", octave: 4 }, "n")).toBe("s")
  })
  test("turned upside down", () => {
    const turned = transposer({}, [], { step: "d", octave: 4 })
    expect(
      ["d4", "f4", "a4", "c4"].map(text => turned.pitch(pitchOf(text)!)).map(one => one.step + one.octave),
    ).toEqual(["d4", "b3", "g3", "e4"])
  })
})
