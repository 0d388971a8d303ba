import { describe, expect, test } from "vitest"
import { parseShorthand } from "./shorthand/index.js"
import { flatSigns } from "./walk.js"
import { signTold } from "./sign-told.js"

function told(signs: string) {
  const read = parseShorthand(`voice tenor black\n${signs}`)
  return flatSigns(read.ok ? read.value.voices[0]! : { signs: [] }).map(({ sign }) => signTold(sign))
}

describe("of a sign that is no matter of duration it is said what it is and what it does", () => {
  test.each([
    ["clef:C3", "A clef of c", "The third line from below is middle c from here on."],
    ["clef:F4", "A clef of f", "The fourth line from below is the f below middle c from here on."],
    ["sig:bf", "A signature of b flat", "From here on each is sung so, unless something else is written: b flat."],
    ["accid:f", "A flat", "It stands apart from its note."],
    ["accid:s:at=f4", "A sharp", "It stands at f 4, apart from its note."],
    ["custos:g4", "A guide", "It shows where the next line begins, at g 4, and is not sung."],
    ["signum", "A signum congruentiae", "The voices come together here, or another begins."],
    ["other:handShift", "Not read: handShift", "It keeps its place in the file, and nothing is read from it."],
  ])("%s", (shorthand, headline, sentence) => {
    expect(told(shorthand)).toEqual([{ headline, sentence }])
  })
  test("what the reading tells of itself is left to it", () => {
    expect(told("O B c4 . r1 | finis")).toEqual(expect.not.arrayContaining([expect.anything()]))
  })
})
