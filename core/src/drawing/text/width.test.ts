import { expect, test } from "vitest"
import { textWidth } from "./width.js"

const words = { family: "words", size: 1000 } as const
const figures = { family: "figures", size: 1000 } as const

test("the figures for counts are all of one width", () => {
  const widths = [..."0123456789"].map(one => textWidth(one, { ...figures, weight: 600 }))
  expect(new Set(widths).size).toBe(1)
  expect(textWidth("1", figures)).toBe(497)
})
test("letters add up, and grow with the size", () => {
  const sum = textWidth("L", words) + textWidth("u", words)
  expect(textWidth("Lu", words)).toBe(sum)
  expect(textWidth("Lu", { ...words, size: 20 })).toBeCloseTo(sum / 50, 9)
})
test("bold is wider than plain; an accent put on by a sign of its own takes no room", () => {
  expect(textWidth("resolutio", { ...words, weight: 700 })).toBeGreaterThan(textWidth("resolutio", words))
  expect(textWidth("e\u0301", words)).toBe(textWidth("e", words))
})
test("a letter that the face lacks still takes room, one of a script whose letters fill a square the whole of it", () => {
  expect(textWidth("ש", words)).toBe(600)
  expect(textWidth("語", words)).toBe(1000)
  expect(textWidth("🎶", figures)).toBe(1000)
})
test("marks that join letters or turn their direction take none", () => {
  expect(textWidth("\u200d\u202e\ufe0f", words)).toBe(0)
})
