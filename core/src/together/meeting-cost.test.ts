import { expect, test } from "vitest"
import type { Page } from "../page/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { workVoice } from "../reading/read-voice.js"
import { meetingCost } from "./meeting-cost.js"

function page(...bodies: readonly string[]): Page {
  const text = bodies.map((body, i) => `voice v${i} black practice=ars-nova(minims=written)\n${body}`).join("\n\n")
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
function cost(count: number, ...bodies: readonly string[]): number | undefined {
  const { voices } = page(...bodies)
  return meetingCost(
    voices.map(one => workVoice(one, {})),
    voices[0]!.id,
    count,
  )
}
const meets = (count: number, ...bodies: readonly string[]): boolean => cost(count, ...bodies)! < Infinity

const C = "mens:modusmaior=2:modus=2:tempus=2:prolatio=2"
const FOUR = `${C} B c4 d e f L g`
const FIVE = `${C} B c4 d e f g L a`

test("voices of one length could meet, those of two could not", () => {
  expect(meets(2, FOUR, FOUR)).toBe(true)
  expect(meets(2, FOUR, FIVE)).toBe(false)
})
test("of three, two could", () => {
  expect(meets(2, FOUR, FIVE, FOUR)).toBe(true)
  expect(meets(3, FOUR, FIVE, FOUR)).toBe(false)
  // the first is not among those that could
  expect(meets(2, FIVE, FOUR, FOUR)).toBe(false)
})
test("every length that the signs allow counts", () => {
  // two semibreves of which the second may be altered, or both breves lose one (Libellus, c. 1340-50)
  const open = "mens:modusmaior=2:modus=2:tempus=3:prolatio=2 B c4 S d e B f L g"
  expect([7, 9, 11].filter(count => meets(2, open, `${C} S ${"c4 ".repeat(count)} L c4`))).toContain(9)
})
test("a length for which a rule has to bend is dearer", () => {
  const open = "mens:modusmaior=2:modus=2:tempus=3:prolatio=2 B c4 S d e B f L g"
  const lasting = (count: number): number => cost(2, open, `${C} S ${"c4 ".repeat(count)} L c4`)!
  expect(Math.min(lasting(7), lasting(8))).toBeGreaterThan(lasting(9))
})
test("rests after a final do not unbind it; a voice that ends early is bound to no time; of a part that others sing too it is not known", () => {
  expect(meets(2, FOUR, `${FOUR} rB`)).toBe(true)
  expect(meets(2, FOUR, `${FIVE} rB`)).toBe(false)
  const early = `${C} B c4 L d rB`
  expect(meets(2, FOUR, early)).toBe(true)
  expect(cost(2, early, FOUR)).toBeUndefined()
  expect(cost(2, FOUR.replace("B c4", 'canon:"Fuga duorum temporum" B c4'), FIVE)).toBeUndefined()
})
