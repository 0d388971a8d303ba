/** Laws: what is written and read again is the same, and what is written is valid. */
import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import type { Page } from "../../page/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei } from "./index.js"
import { mensuralSchema } from "./testing/standards.js"

function readBack(text: string): Page {
  const result = readMei(text)
  expect(result.problems).toEqual([])
  if (!result.ok) throw new Error("not read")
  return result.value.page
}

describe("a page as a new MEI file", () => {
  it("is the same page when it is read again", () => {
    fc.assert(
      fc.property(randomPage(), page => {
        expect(readBack(newMei(page))).toEqual(page)
      }),
      { numRuns: 300 },
    )
  }, 60_000)

  const schema = mensuralSchema()
  it.skipIf(!schema)(
    "is valid against the mensural schema of MEI 5.1",
    async () => {
      await schema!.using(validate => {
        fc.assert(
          fc.property(randomPage(), page => {
            expect(validate(newMei(page))).toEqual([])
          }),
          { numRuns: 60 },
        )
      })
    },
    60_000,
  )
})
