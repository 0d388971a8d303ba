/** What is said of a sign first. Durations: Libellus cantus mensurabilis, c. 1340, on perfect and imperfect breves and alteration. */
import { describe, expect, test } from "vitest"
import { parseShorthand } from "../page/index.js"
import { headlineOf, otherLengths, readPage, spokenName, type Reading } from "./index.js"

function reading(text: string): Reading {
  const read = parseShorthand(text)
  expect(read.problems).toEqual([])
  return readPage((read as Extract<typeof read, { ok: true }>).value)[0]!
}
const all = (text: string, tell: typeof headlineOf): string[] => {
  const one = reading(text)
  return one.signs.map(sign => tell(one, sign))
}

describe("the headline", () => {
  test("says what the level would last whole where the sign does not", () => {
    expect(all("voice tenor black practice=ars-nova\nclef:C4 O B c3 S d B e . S f g B f finis", headlineOf)).toEqual([
      "A sign of mensuration",
      "A breve of four minims, not six",
      "A semibreve of two minims",
      "A breve of six minims",
      "A dot of perfection",
      "A semibreve of two minims",
      "A semibreve of four minims, not two",
      "A breve of six minims",
      "The end of a section",
    ])
  })
  test("counts in the values of a proportion", () => {
    const words = all("voice cantus white practice=white\nclef:C1 C B c4 prop:3/2 S d e f B g", headlineOf)
    expect(words.slice(1)).toEqual([
      "A breve of four minims",
      "A sign of proportion",
      ...Array.from({ length: 3 }, () => "A semibreve of 1⅓ minims"),
      "A breve of 2⅔ minims",
    ])
  })
  test("counts tempora in the thirteenth century", () => {
    expect(all("voice tenor black practice=ars-antiqua\nclef:C4 L c3 B d L e r1", headlineOf)).toEqual([
      "A long of two tempora, not three",
      "A breve of one tempus",
      // the final is held as long as one likes
      "A long of two tempora",
      "A breve rest of one tempus",
    ])
  })
})

describe("a sign's name for the ear", () => {
  test("has voice, number, level, pitch, quality, length", () => {
    const names = all("voice tenor black practice=ars-nova\nclef:C4 O B bf3 S d4 B e S f g B f rB L f", spokenName)
    expect(names[1]).toBe("tenor 1, breve on b flat 3, imperfect, four minims")
    expect(names.at(-2)).toBe("tenor 7, breve rest, six minims")
    expect(names.at(-1)).toBe("tenor 8, long on f 4, imperfect, held")
  })
  test("of a mark says what it is taken for", () => {
    expect(all("voice tenor black practice=ars-nova\nclef:C4 O B c3 . S d e f B f", spokenName)[2]).toBe(
      "tenor, dot of perfection",
    )
  })
})

test("other lengths are told only of what is in doubt", () => {
  const sure = reading("voice tenor black practice=ars-nova\nclef:C4 O B c3 B d B e")
  expect(sure.signs.map(sign => otherLengths(sure, sign))).toEqual(["", "", "", ""])
  const open = reading("voice motetus black practice=ars-nova\nclef:C3 O B c3 S d e f g B a S b c4 d B c")
  const told = open.signs.map(sign => otherLengths(open, sign)).filter(text => text !== "")
  expect(open.signs.some(sign => sign.doubt >= 0.05)).toBe(told.length > 0)
  for (const text of told) expect(text).toMatch(/^It could also last .+ minims? \(\d+ in 100\)( or .+)?\.$/)
})
