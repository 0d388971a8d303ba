/** Where all voices fall silent together. */
import { expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand, type Page } from "../page/index.js"
import { readTogether } from "./read-together.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const lengths = (text: string): string[] =>
  readTogether(page(text)).readings.map(({ signs }) => signs.map(sign => toText(sign.duration)).join(" "))
const doubts = (text: string): number =>
  Math.max(...readTogether(page(text)).readings.flatMap(({ signs }) => signs.map(sign => sign.doubt)))

/** Five breves between longs may be 9 or 12 tempora; the tenor's longs say how many before the rest, and how many after. */
const voices = (before: string, after: string, rest = "r3 r3"): string => `voice motetus black practice=ars-antiqua
L c4 B g c g c g L c ${rest} L c B g c g c g L c L c
voice triplum black practice=ars-antiqua
${before} ${rest} ${after} L c4
voice tenor black practice=ars-antiqua
${before.replaceAll("4", "3")} ${rest} ${after} L c3
`
const SHORT = "L c4 c c"
const LONG = "L c4 c c c"
const [NINE, TWELVE] = ["2 1 1 1 1 1 2", "3 1 1 1 1 2 3"]

test.each([
  ["before", LONG, SHORT.replace("c4", "c"), `${TWELVE} 3 3 ${NINE}`],
  ["after", SHORT, LONG.replace("c4", "c"), `${NINE} 3 3 ${TWELVE}`],
])("a general rest tells that the longer reading stands %s it, surely", (_, before, after, expected) => {
  const text = voices(before, after)
  expect(lengths(text)[0]).toBe(`${expected} 3`)
  expect(doubts(text)).toBeLessThan(0.05)
})

test("without the rest the finals meet either way, and it is in doubt", () => {
  const text = voices(LONG, SHORT.replace("c4", "c"), "")
  expect(lengths(text).map(own => own.split(" ").reduce((sum, one) => sum + Number(one), 0))).toEqual([24, 24, 24])
  expect(doubts(text)).toBeGreaterThan(0.2)
})

test("the order of the voices does not matter", () => {
  const whole = page(voices(LONG, SHORT.replace("c4", "c")))
  const turned = { ...whole, voices: whole.voices.toReversed() }
  expect(readTogether(turned).readings.toReversed()).toEqual(readTogether(whole).readings)
})
