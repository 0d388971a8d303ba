import { expect, test } from "vitest"
import { parseShorthand } from "../page/shorthand/index.js"
import { explainLong, explainShort, readPage } from "./index.js"

const told = (music: string): string[] => {
  const parsed = parseShorthand(`voice cantus black practice=ars-nova\nO ${music}`)
  if (!parsed.ok) throw new Error("the shorthand of this test is wrong")
  const [reading] = readPage(parsed.value)
  return reading!.signs.filter(sign => sign.number > 0).map(sign => explainShort(reading!, sign))
}

test("a run that is told by its first and last note is told as one", () => {
  expect(told("B c4 S d e f g a b B c5 L d")[0]).toBe(
    "It stays whole: what follows (semibrevis 2, semibrevis 3, semibrevis 4, semibrevis 5, semibrevis 6, semibrevis 7) fills its perfections without it.",
  )
  expect(told("B c4 S d e f g a b a g f B c5 L d")[0]).toBe(
    "It stays whole: what follows (semibrevis 2 to semibrevis 10) fills its perfections without it.",
  )
  // the note itself stands between them
  expect(told("B c4 S d e B c5 L d")[2]).toBe("It is doubled, so that the perfection is full: semibrevis 2, brevis 4.")
})

test("of a scaled note it is not said that it has the value of its shape", () => {
  const parsed = parseShorthand('voice tenor white practice=white\nclef:C4 C canon:"Crescit in duplo"\nS d3 g B d')
  if (!parsed.ok) throw new Error("the shorthand of this test is wrong")
  const reading = readPage(parsed.value)[0]!
  const first = reading.signs.find(sign => sign.number === 1)!
  const lines = explainLong(parsed.value, 0, reading, first.id)
  expect(lines[1]).toBe("Its value is only scaled by the proportion in force: 4 minims.")
  expect(lines.filter(line => line.startsWith("Also true"))).toEqual([])
})
