/** Laws: what is written and read again is the same, and what is written is valid. */
import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import { everySign, type Page } from "../../page/index.js"
import { randomPage } from "../../page/testing/random-page.js"
import { newMei, readMei } from "./index.js"
import { mensuralSchema } from "./testing/standards.js"
import { runs } from "../../base/testing/runs.js"

function readBack(text: string): Page {
  const result = readMei(text)
  expect(result.problems).toEqual([])
  if (!result.ok) throw new Error("not read")
  return result.value.page
}

/** The page as it would be read from a file without any ids. */
function withRunningIds(page: Page): Page {
  const ids = new Map<string, string>()
  for (const voice of page.voices) {
    let running = 0
    ids.set(voice.id, voice.n)
    for (const sign of everySign(voice.signs)) ids.set(sign.id, `${voice.n}.${++running}`)
  }
  const text = JSON.stringify({ ...page, alternatives: [] })
  return JSON.parse(
    text.replace(/"(s\d+|voice\d+)"/g, (whole, id: string) => (ids.has(id) ? `"${ids.get(id)}"` : whole)),
  ) as Page
}

describe("a page as a new MEI file", () => {
  it(
    "is the same page when it is read again",
    () => {
      fc.assert(
        fc.property(randomPage(), page => {
          expect(readBack(newMei(page))).toEqual(page)
        }),
        { numRuns: runs(120) },
      )
    },
    runs(60_000),
  )

  it(
    "needs no ids written where a reader gives the same ones by itself",
    () => {
      fc.assert(
        fc.property(randomPage(), page => {
          const numbered = withRunningIds(page)
          const text = newMei(numbered)
          expect(readBack(text)).toEqual(numbered)
          // words of our own stand in type; a title or label may hold any letters
          expect(text).not.toMatch(/ type="([^"]* )?id:/)
          expect(newMei(readBack(text))).toBe(text)
        }),
        { numRuns: runs(50) },
      )
    },
    runs(60_000),
  )

  it(
    "keeps ids that XML cannot hold",
    () => {
      fc.assert(
        fc.property(randomPage(), page => {
          const odd = JSON.parse(
            JSON.stringify(page).replace(/"(s\d+|zone\d|surface\d|editor\d|src[AB]|alt\d+)"/g, '"9 $1 é"'),
          ) as Page
          expect(readBack(newMei(odd))).toEqual(odd)
        }),
        { numRuns: runs(50) },
      )
    },
    runs(60_000),
  )

  // most pages are checked in a tenth of a second; the validator needs twenty seconds for a rare one
  const schema = mensuralSchema()
  it.skipIf(!schema)(
    "is valid against the mensural schema of MEI 5.1",
    async () => {
      await schema!.using(validate => {
        fc.assert(
          fc.property(randomPage(), page => {
            expect(validate(newMei(page))).toEqual([])
          }),
          { numRuns: runs(40) },
        )
      })
    },
    runs(60_000),
  )
})
