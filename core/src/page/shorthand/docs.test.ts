import { readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import type { Sign } from "../signs.js"
import { HEADS } from "./heads.js"
import { parseShorthand, printShorthand } from "./index.js"
import { COLORATIONS } from "./properties-common.js"
import { PROPERTIES } from "./properties.js"
import { examplesOf } from "./testing/examples.js"
import { KEYWORDS } from "./words.js"

const guide = readFileSync(new URL("../../../../docs/shorthand.md", import.meta.url), "utf8")
const examples = examplesOf(guide)

test("the guide has its examples", () => {
  expect(examples.length).toBeGreaterThan(12)
  expect(examples.some(({ readings }) => readings)).toBe(true)
})

describe.each(examples)("line $line", ({ text, readings }) => {
  test("reads without problems and comes back the same", () => {
    const read = parseShorthand(text)
    expect(read.problems).toEqual([])
    if (!read.ok) throw new Error("not read")
    const printed = printShorthand(read.value)
    const again = parseShorthand(printed)
    expect(again).toEqual(read)
    expect(again.ok && printShorthand(again.value)).toBe(printed)
  })

  if (readings === undefined) return
  test("states a duration for every note and rest", () => {
    const read = parseShorthand(text)
    if (!read.ok) throw new Error("not read")
    for (const { label, signs } of read.value.voices) {
      const lasting = signs
        .flatMap((sign): readonly Sign[] => (sign.kind === "ligature" ? sign.members : [sign]))
        .filter(sign => sign.kind === "note" || sign.kind === "rest")
      expect(readings.get(label)).toHaveLength(lasting.length)
    }
  })
})

test("the guide names every word of the shorthand", () => {
  const flags = Object.values(PROPERTIES)
    .flatMap(all => all as readonly { readonly kind: string; readonly names: readonly string[] }[])
    .flatMap(({ kind, names }) => (kind === "flag" ? names.map(name => `:${name}`) : []))
  const words = [...HEADS.keys(), ...KEYWORDS].filter(word => word !== "." && word !== "'")
  const missing = [...flags, ...words].filter(
    word => !named(word) && !(word.slice(1) in COLORATIONS && named(word.slice(1))),
  )
  expect(missing).toEqual([])
})

/** What the guide has in code: examples and words in backquotes. */
const code = [...guide.matchAll(/^```.*?^```|`[^`\n]+`/gms)].map(([text]) => text).join("\n")
function named(word: string): boolean {
  return new RegExp(`(?<![\\w-])${word}(?![\\w-])`).test(code)
}
