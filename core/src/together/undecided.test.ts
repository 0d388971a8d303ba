/** What would have been read without decisions takes as long as a reading: it is worked out where it is asked for. */
import { expect, test } from "vitest"
import { parseShorthand, type Page } from "../page/index.js"
import { readTogether } from "./read-together.js"
import { withUndecided } from "./undecided.js"

const VOICE = `voice motetus black practice=ars-antiqua
L c4 B d e d c b3 L c4 B e d c L d c
`
const pageOf = (text: string): Page => {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error("not read")
  return read.value
}

test("a page with decisions is read without them when one of its signs is asked, once", () => {
  const page = pageOf(`${VOICE}decision on=1.2 duration=2\ndecision on=1.6 duration=3`)
  const decided = readTogether(page).readings
  const { decisions: _, ...plain } = page
  let count = 0
  const told = withUndecided(page, [...decided], { shared: {} }, without => {
    count++
    expect(without).toEqual(plain)
    return readTogether(without)
  })
  const signs = told[0]!.signs
  expect(signs.map(sign => sign.duration)).toEqual(decided[0]!.signs.map(sign => sign.duration))
  expect(count).toBe(0)
  const free = readTogether(plain).readings[0]!.signs
  for (const at of [1, 5]) expect(signs[at]!.rulesSay).toEqual(free[at]!.duration)
  expect(count).toBe(1)
  // a copy has what is said as any other field
  expect({ ...signs[1]! }).toMatchObject({ rulesSay: free[1]!.duration })
  expect(JSON.stringify(signs[1])).toContain("rulesSay")
  expect(count).toBe(1)
})
