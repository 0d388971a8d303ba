import { expect, test } from "vitest"
import { columns, paragraph, wrap } from "./layout.js"

const rows = [
  ["1", "B", "it stays perfect, for one of its own kind follows"],
  ["12", "S.", ""],
]

test("columns are as wide as their widest cell; the last is free", () => {
  expect(columns(rows, undefined)).toEqual(["1   B   it stays perfect, for one of its own kind follows", "12  S."])
})
test("on a terminal the last column breaks between words and stays a column", () => {
  expect(columns(rows, 36)).toEqual(["1   B   it stays perfect, for one of", "        its own kind follows", "12  S."])
})
test("where there is no room for it, it goes below", () => {
  expect(columns(rows, 24)).toEqual([
    "1  B",
    "    it stays perfect,",
    "    for one of its own",
    "    kind follows",
    "12  S.",
  ])
})
test.each([1, 2, 5, 20])("nothing is wider than %i and nothing is lost", width => {
  const text = "imperfectio a parte post 𝄞𝄞𝄞"
  const lines = wrap(text, width)
  expect(Math.max(...lines.map(line => [...line].length))).toBeLessThanOrEqual(width)
  expect(lines.join("").replaceAll(" ", "")).toBe(text.replaceAll(" ", ""))
})
test("a paragraph keeps its indents", () => {
  expect(paragraph("one two\n  three four", 8)).toEqual(["one two", "  three", "  four"])
})
