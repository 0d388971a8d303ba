/** Dots of a scribe who cuts breves into many: which of them part breves alone. */
import { expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { explainShort, readPage, type Reading } from "./index.js"

const reading = (music: string): Reading => {
  const parsed = parseShorthand(`voice triplum black practice=ars-antiqua(breveDivision=equal)\n${music}`)
  if (!parsed.ok) throw new Error("the shorthand of this test is wrong")
  return readPage(parsed.value)[0]!
}
const read = (music: string): string => {
  return reading(music)
    .signs.flatMap(({ number, duration }) => (number > 0 ? [toText(duration)] : []))
    .join(" ")
}

test("right after a long a dot keeps it perfect, so that what follows is taken from the next long", () => {
  expect(read("L a3 . S b a L g L a b")).toBe("3 1/3 2/3 2 3 3")
  expect(read("L a3 S b a L g L a b")).toBe("2 1/3 2/3 3 3 3")
})

test("a dot with no semibreve beside it parts perfections", () => {
  expect(read("L a3 B b . B a g L a b")).toBe("2 1 1 2 3 3")
  expect(read("L a3 B b a g L a b")).toBe("3 1 1 1 3 3")
  expect(read("L a3 . rB L g L a b")).toBe("3 1 2 3 3")
})

test("beside semibreves dots part breves and no perfections", () => {
  expect(read("L a3 B b . S a g b a . B g L a b")).toBe("3 1 1/4 1/4 1/4 1/4 1 3 3")
  expect(read("L a3 . S a g b a . L a b")).toBe("2 1/4 1/4 1/4 1/4 3 3")
})

test("the sentence counts the semibreves of a breve, not the dot behind them", () => {
  const one = reading("L a3 B b . S a g b a . S g a b a g . B g L a b")
  const said = one.signs.filter(sign => sign.rule === "brevis-divisa").map(sign => explainShort(one, sign))
  expect([...new Set(said)]).toEqual([
    "One of 4 semibreves on a breve, 1/4 tempora.",
    "One of 5 semibreves on a breve, 1/5 tempora.",
  ])
})
