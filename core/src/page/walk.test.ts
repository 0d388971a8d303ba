import { describe, expect, it } from "vitest"
import { signId } from "../base/index.js"
import { everySign, flatSigns, notesOf } from "./walk.js"
import type { Dot, Ligature, Sign } from "./signs.js"
import { plainNote as note } from "./testing/plain-page.js"
import { effort } from "../base/testing/effort.js"

const dot = (id: string): Dot => ({ kind: "dot", id: signId(id) })
const ligature: Ligature = { kind: "ligature", id: signId("lig"), members: [note("b"), dot("c"), note("d"), dot("e")] }
const signs: Sign[] = [note("a"), ligature, note("f")]

describe("flatSigns", () => {
  it("gives the notes of a ligature in their own right", () => {
    expect(flatSigns({ signs }).map(flat => [flat.sign.id, flat.ligature?.id, flat.at, flat.last])).toEqual([
      ["a", undefined, undefined, undefined],
      ["b", "lig", 0, false],
      ["c", "lig", 1, false],
      ["d", "lig", 1, true],
      ["e", "lig", 2, false],
      ["f", undefined, undefined, undefined],
    ])
  })
  it("walks every sign, the ligature before its members", () => {
    expect([...everySign(signs)].map(sign => sign.id)).toEqual(["a", "lig", "b", "c", "d", "e", "f"])
    expect(notesOf(ligature).map(one => one.id)).toEqual(["b", "d"])
  })
  it("takes 200,000 notes in a blink", () => {
    const long = Array.from({ length: 100_000 }, (_, i) => (i % 10 === 0 ? ligature : note(`n${i}`)))
    const spent = effort()
    expect(flatSigns({ signs: long })).toHaveLength(130_000)
    expect(spent()).toBeLessThan(1000)
  })
})
