/** Voices that close with rests: where their finals are, and that they meet there. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readTogether } from "./index.js"

/** Five breves between longs: by custom the first long loses a third, and the voice is three breves shorter than otherwise. */
const TRIPLUM = "voice triplum black practice=ars-nova\nclef:C2 C:modus=3 L c5 B b4 a g a b L c5"
const TENOR = (longs: string) => `voice tenor black practice=ars-nova\nclef:C4 C:modus=3 L ${longs}`

function read(triplum: string, tenor: string) {
  const page = parseShorthand(`${triplum}\n${tenor}\n`)
  if (!page.ok || page.problems.length > 0) throw new Error("the shorthand of this test is wrong")
  const { readings, meeting } = readTogether(page.value)
  const [first] = readings[0]!.signs.filter(one => one.number > 0)
  return { first: toText(first!.duration), meets: meeting.length === 2 }
}

describe("a voice that closes with rests", () => {
  test.each([
    ["no rests", "", ""],
    ["rests after its final", " rL", ""],
    ["rests after both finals", " rL rL", " rL"],
    ["rests after the other's", "", " rL rL"],
  ])("%s: the finals meet", (_, after, afterOther) => {
    const at = (longs: string) => read(`${TRIPLUM} L c5${after}`, TENOR(longs) + afterOther)
    // perfect longs of six, of which the first five units take one or none
    expect(at("c4 a3 g3 c4")).toEqual({ first: "8", meets: true })
    expect(at("c4 a3 g3 a3 c4")).toEqual({ first: "12", meets: true })
  })

  test("one that ends early meets nobody, and is read by itself", () => {
    const { first } = read(`${TRIPLUM} rL rL rL`, TENOR("c4 a3 g3 a3 c4 a3 c4"))
    expect(first).toBe("8")
  })
})
