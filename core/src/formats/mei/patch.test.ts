/** Laws of edited documents: what was edited is there, what was not is untouched. */
import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange, type Page } from "../../page/index.js"
import { randomChange } from "../../page/testing/random-change.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei, withPage, writeMei } from "./index.js"
import { runs } from "../../base/testing/runs.js"

const open = (text: string) => mustWork(readMei(text))

const randomEdit = randomPage().chain(page =>
  fc.record({ page: fc.constant(page), changes: fc.array(randomChange(page), { minLength: 1, maxLength: 3 }) }),
)

/** The page after those of the changes that can be made. */
function edited(page: Page, changes: readonly Parameters<typeof applyChange>[1][]): Page {
  let now = page
  for (const change of changes) {
    const result = applyChange(now, change)
    if (result.ok) now = result.value.page
  }
  return now
}

describe("an edited document", () => {
  it(
    "says what the edited page says",
    () => {
      fc.assert(
        fc.property(randomEdit, ({ page, changes }) => {
          const document = open(newMei(page))
          const now = edited(document.page, changes)
          const text = writeMei(withPage(document, now))
          expect(open(text).page).toEqual(now)
        }),
        { numRuns: runs(80) },
      )
    },
    runs(60_000),
  )
})
