/** The two written forms of a page say the same: shorthand to MEI and back is the identity on the normal form. */
import * as fc from "fast-check"
import { expect, test } from "vitest"
import { parseShorthand, printShorthand, type Page } from "../../page/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei } from "./index.js"

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

test("shorthand to MEI and back", () => {
  fc.assert(
    fc.property(randomPage(), page => {
      const text = printShorthand(page)
      expect(printShorthand(throughMei(fromShorthand(text)))).toBe(text)
    }),
    { numRuns: 200 },
  )
}, 60_000)
