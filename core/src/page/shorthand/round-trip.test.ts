import * as fc from "fast-check"
import { expect, test } from "vitest"
import { signId, type Result } from "../../base/index.js"
import type { Page, Sign } from "../signs.js"
import { randomPage as anyPage } from "../testing/random-page.js"
import { parseShorthand, printShorthand } from "./index.js"

/** Notes that say nothing of their coloration have none. */
const coloured = (sign: Sign): Sign =>
  sign.kind === "ligature"
    ? { ...sign, members: sign.members.map(one => coloured(one) as (typeof sign.members)[number]) }
    : sign.kind === "note"
      ? { ...sign, coloration: sign.coloration ?? "none" }
      : sign
const randomPage = () =>
  anyPage().map(page => ({
    ...page,
    voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.map(coloured) })),
  }))

function mustRead(text: string): Page {
  const result: Result<Page> = parseShorthand(text)
  expect({ text, problems: result.problems }).toEqual({ text, problems: [] })
  if (!result.ok) throw new Error("not read")
  return result.value
}

test("a random page, printed and read again, is the same", () => {
  fc.assert(
    fc.property(randomPage(), page => {
      const text = printShorthand(page)
      expect(mustRead(text)).toEqual(page)
    }),
    { numRuns: 300 },
  )
})

test("the normal form, read and printed again, is the same", () => {
  fc.assert(
    fc.property(randomPage(), page => {
      const text = printShorthand(page)
      expect(printShorthand(mustRead(text))).toBe(text)
    }),
    { numRuns: 100 },
  )
})

/** The same page with the ids that signs have when none is written. */
function withoutIds(page: Page): Page {
  return {
    ...page,
    voices: page.voices.map(voice => ({ ...voice, signs: renumbered(voice.signs, voice.n) })),
    alternatives: [],
  }
}
function renumbered(signs: readonly Sign[], n: string): Sign[] {
  let running = 0
  const next = () => signId(`${n}.${++running}`)
  return signs.map(sign => {
    const id = next()
    if (sign.kind !== "ligature") return { ...sign, id }
    return { ...sign, id, members: sign.members.map(member => ({ ...member, id: next() })) }
  })
}

test("ids that go without saying are not written and are the same when read", () => {
  fc.assert(
    fc.property(randomPage(), page => {
      const plain = withoutIds(page)
      const text = printShorthand(plain)
      expect(text).not.toMatch(/:id=(?!.*["])/)
      expect(mustRead(text)).toEqual(plain)
    }),
    { numRuns: 100 },
  )
})
