import { expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand, type Page } from "../page/index.js"
import { changesBetween, readPage } from "./index.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
/** Its own notes; perfect tempus, minor prolation: a breve of six minims. */
const PIECE = "B c4 S d e f B g S a g B c"
const by = (practice: string, sign: string) => readPage(page(`voice a black practice=${practice}\n${sign} ${PIECE}`))
const told = (before: string, after: string) =>
  changesBetween(by(before, "O"), by(after, "O"))
    .filter(one => one.after.number > 0)
    .map(({ after: { number }, lasted, lasts, unit }) => `${number}: ${toText(lasts)} ${unit}, not ${toText(lasted)}`)

test("readings that count in different units are compared in breves: what is as long is no change", () => {
  // three semibreves on a breve are a third each in both; of two the second is altered in one, the greater in the other
  expect(told("ars-nova(minims=written)", "ars-antiqua")).toEqual([])
  expect(told("ars-nova(minims=written)", "ars-antiqua(pairOrder=maior-minor)")).toEqual([
    "6: 2/3 brevis, not 1/3",
    "7: 1/3 brevis, not 2/3",
  ])
})

test("where the unit stays, they are told in it", () => {
  expect(told("ars-antiqua", "ars-antiqua(pairOrder=equal)")).toEqual([
    "6: 1/2 tempus, not 1/3",
    "7: 1/2 tempus, not 2/3",
  ])
})
