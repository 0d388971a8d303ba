/** The durations that the guide to the shorthand states are those that reading its examples gives. */
import { readFileSync } from "node:fs"
import { parseShorthand, readPage, toText } from "@resolutio/core"
import { expect, test } from "vitest"
import { examplesOf } from "../core/src/page/shorthand/testing/examples.js"

const examples = examplesOf(readFileSync(new URL("shorthand.md", import.meta.url), "utf8")).filter(
  ({ readings }) => readings,
)

test("the guide states some durations", () => {
  expect(examples.length).toBeGreaterThan(3)
})

test.each(examples)("line $line", ({ text, readings }) => {
  const parsed = parseShorthand(text)
  if (!parsed.ok) throw new Error("not read")
  const found = readPage(parsed.value).map(({ signs }, index) => [
    parsed.value.voices[index]?.label,
    signs.filter(({ kind }) => kind === "note" || kind === "rest").map(({ duration }) => toText(duration)),
  ])
  expect(found).toEqual([...readings!])
})
