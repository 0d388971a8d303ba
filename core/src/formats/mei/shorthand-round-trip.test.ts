/** The two written forms of a page say the same: shorthand to MEI and back is the identity on the normal form. */
import * as fc from "fast-check"
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { parseShorthand, printShorthand, type Page } from "../../page/index.js"
import { examplesOf } from "../../page/shorthand/testing/examples.js"
import { withPlainIds } from "../../page/shorthand/testing/plain-ids.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei } from "./index.js"
import { runs } from "../../base/testing/runs.js"

function fromShorthand(text: string): Page {
  const result = parseShorthand(text)
  if (!result.ok || result.problems.length > 0) throw new Error(`not read: ${JSON.stringify(result.problems)}`)
  return result.value
}
function throughMei(page: Page): Page {
  const result = readMei(newMei(page))
  if (!result.ok || result.problems.length > 0) throw new Error(`not read: ${JSON.stringify(result.problems)}`)
  return result.value.page
}
/** A page's normal form, and what is left of it after the way through MEI. */
function bothWays(page: Page): { before: string; after: string } {
  const before = printShorthand(page)
  return { before, after: printShorthand(throughMei(fromShorthand(before))) }
}

test.each([
  ["ids from elsewhere", (page: Page) => page],
  ["the ids that go without saying", withPlainIds],
])(
  "a random page with %s, to MEI and back",
  (_, withIds) => {
    fc.assert(
      fc.property(randomPage(), page => {
        const { before, after } = bothWays(withIds(page))
        expect(after).toBe(before)
      }),
      { numRuns: runs(60) },
    )
  },
  runs(60_000),
)

const guide = readFileSync(new URL("../../../../docs/shorthand.md", import.meta.url), "utf8")
test.each(examplesOf(guide))("the example on line $line of the guide, to MEI and back", ({ text }) => {
  const { before, after } = bothWays(fromShorthand(text))
  expect(after).toBe(before)
})

test.each([
  'canon:" a\\n  b "',
  'text:""',
  'comment:"a--b-"',
  "%   two  words ",
  "%",
  'other:"a b"',
  'folio:" x"',
  'c4:id="a b"',
  'c4:shape="a  b"',
  'c4:supplied(reason=" a\\n")',
  'c4:syllable("a  b")',
  'c4:extra("a b"="c\\nd" "x:y"="")',
  'c4/up(form=" a")',
  '.:form="x y"',
  'mens:letter="a b"',
  'canon:"\\u0001 \\ud800"',
  "[] [.] []:recta",
])("odd texts go to MEI and back: %s", text => {
  const { before, after } = bothWays(fromShorthand(`title: "x  y "\nvoice "a  b"\nB d4 ${text}`))
  expect(after).toBe(before)
})
