import * as fc from "fast-check"
import { expect, test } from "vitest"
import { type Result } from "../../base/index.js"
import type { Page } from "../page.js"
import { randomPage } from "../testing/random-page.js"
import { withPlainIds } from "./testing/plain-ids.js"
import { parseShorthand, printShorthand } from "./index.js"
import { runs } from "../../base/testing/runs.js"

function mustRead(text: string): Page {
  const result: Result<Page> = parseShorthand(text)
  expect({ text, problems: result.problems }).toEqual({ text, problems: [] })
  if (!result.ok) throw new Error("not read")
  return result.value
}

test(
  "a random page, printed and read again, is the same",
  () => {
    fc.assert(
      fc.property(randomPage(), page => {
        const text = printShorthand(page)
        expect(mustRead(text)).toEqual(page)
      }),
      { numRuns: runs(120) },
    )
  },
  runs(60_000),
)

test(
  "the normal form, read and printed again, is the same",
  () => {
    fc.assert(
      fc.property(randomPage(), page => {
        const text = printShorthand(page)
        expect(printShorthand(mustRead(text))).toBe(text)
      }),
      { numRuns: runs(60) },
    )
  },
  runs(60_000),
)

test(
  "ids that go without saying are not written and are the same when read",
  () => {
    fc.assert(
      fc.property(randomPage(), page => {
        const plain = withPlainIds(page)
        const text = printShorthand(plain)
        expect(text).not.toMatch(/^[^">]*\bid=\d/m)
        expect(mustRead(text)).toEqual(plain)
      }),
      { numRuns: runs(60) },
    )
  },
  runs(60_000),
)
