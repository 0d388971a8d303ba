/** What speaks for a change, added up. */
import { expect, test } from "vitest"
import { evidenceOf, gainOf, type Terms } from "./rank.js"
import { LAID_AGAINST, READ_ANEW, SUPPLIED_SOUND } from "./weights.js"

const TERMS: Terms = {
  kind: "note-missing",
  laid: 10,
  anew: 20,
  habit: 0,
  alike: 0,
  agree: 0,
  meets: true,
  regret: 0,
  heard: 0,
  price: 7,
}

test("a note that is supplied is the likelier the better the others sound with what it may have been", () => {
  expect(evidenceOf({ ...TERMS, heard: 2 }) - evidenceOf(TERMS)).toBeCloseTo(2 * SUPPLIED_SOUND, 9)
  expect(gainOf({ ...TERMS, heard: -2 })).toBeLessThan(gainOf(TERMS) - 1)
})

test("of two repairs that read alike together, the one comes first whose voice lies better against the others", () => {
  expect(evidenceOf(TERMS)).toBeCloseTo(LAID_AGAINST * 10 + READ_ANEW * 20, 9)
  // what one gains by as much as the other loses
  expect(gainOf({ ...TERMS, laid: 12, anew: 18 })).toBeGreaterThan(gainOf(TERMS) + 0.5)
})
