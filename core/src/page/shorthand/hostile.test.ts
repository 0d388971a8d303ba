import * as fc from "fast-check"
import { expect, test } from "vitest"
import { randomPage } from "../testing/random-page.js"
import { parseShorthand, printShorthand } from "./index.js"
import { effort } from "../../base/testing/effort.js"
import { runs } from "../../base/testing/runs.js"

/** Reads it; and whatever came of it must be a page that prints, and reads again as itself without a problem. */
function survives(text: string): void {
  const read = parseShorthand(text)
  if (!read.ok) {
    if (read.problems.length === 0) throw new Error("failed without a problem")
    return
  }
  const printed = printShorthand(read.value)
  const again = parseShorthand(printed)
  const told = again.problems.filter(({ code }) => code !== "unknown-id")
  expect({ printed, told }).toEqual({ printed, told: [] })
  expect(again.ok && again.value).toEqual(read.value)
}

test(
  "any text is survived",
  () => {
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 200 }), survives), { numRuns: runs(200) })
  },
  runs(60_000),
)

const piece = fc.constantFrom(
  ..."voice title: alternative shape zone box= for= ( ) [ ] { } red{ : = \" ' . / \\ % > 2> ~ + - _ * ? \n".split(" "),
  ..."B S L M Mx Sf o c4 bf g_ b+f3 r rB r1/3 O C. C| mens :red :id=1.2 :given(altera) :extra(a=b) /up(left) _ \\down2".split(
    " ",
  ),
  ...'clef:C3 sig:bf prop:3 accid:f custos folio:3v canon:"a" comment:"b" other:x :syllable(a) \n> a-b \n* constructor __proto__'.split(
    " ",
  ),
  "\n",
  "\r\n",
  "\n> San-ctus * a~b\n",
  "\nvoice a\n",
  " ",
  " ",
  "\t",
  "\ufeff",
  "\ud800",
  "é",
)
test(
  "words of the shorthand in any order are survived",
  () => {
    const texts = fc.array(fc.tuple(piece, fc.constantFrom("", " ")), { maxLength: 40 }).map(all => all.flat().join(""))
    fc.assert(fc.property(texts, survives), { numRuns: runs(600) })
  },
  runs(60_000),
)

test(
  "a page with letters taken out, doubled or changed is survived",
  () => {
    const broken = fc
      .tuple(randomPage({ signs: 5, voices: 2 }), fc.nat(), fc.nat(5), fc.string({ maxLength: 3 }))
      .map(([page, at, length, letters]) => {
        const text = printShorthand(page)
        const from = at % text.length
        return text.slice(0, from) + letters + text.slice(from + length)
      })
    fc.assert(fc.property(broken, survives), { numRuns: runs(200) })
  },
  runs(60_000),
)

const N = 40_000
test.each([
  ["open brackets", "[".repeat(N)],
  ["open braces", "red{".repeat(N)],
  ["open arguments", "B c4:extra(".repeat(N)],
  ["quotes", '"'.repeat(N)],
  ["colons", ":".repeat(N)],
  ["one word", "a".repeat(N)],
  ["dots in a circle", "O" + ".".repeat(N)],
  ["stems on one note", "B c4" + "/up".repeat(N)],
  ["syllables on one note", "B c4" + ":syllable(a)".repeat(N)],
  ["syllables on no note", "B c4\n>" + "a-".repeat(N)],
  ["voices", "voice\n".repeat(N)],
  ["keywords", "voice ".repeat(N)],
  ["ids counting backwards", "B " + Array.from({ length: N }, (_, i) => `o:id=1.${2 * (N - i)} o`).join(" ")],
  ["null letters", "\u0000".repeat(N)],
])(
  "%s: a great many take no great time",
  (_, text) => {
    // Quadratic work on these would take minutes.
    const spent = effort()
    const read = parseShorthand(text)
    if (read.ok) printShorthand(read.value)
    expect(spent()).toBeLessThan(6000)
  },
  runs(60_000),
)
