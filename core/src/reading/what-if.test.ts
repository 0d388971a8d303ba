/** What would change in a sign if a neighbour were not there, as `explain` tells it. */
import { expect, test } from "vitest"
import { mustWork } from "../base/testing/must-work.js"
import { parseShorthand } from "../page/index.js"
import { explainLong, readPage } from "./index.js"

/** The sentences about neighbours of the note or rest of this number. */
function whatIf(practice: string, music: string, number: number): string[] {
  const page = mustWork(parseShorthand(`voice x practice=${practice}\n${music}`))
  const [reading] = readPage(page)
  const sign = reading!.signs.find(one => one.number === number)!
  return explainLong(page, 0, reading!, sign.id).filter(line => /^(Without|No single)/.test(line))
}

test("signs keep their numbers where one before them is thought away", () => {
  expect(whatIf("ars-nova", "O B c4 S d . e B f S g a b B c", 4)).toEqual([
    expect.stringMatching(/^Without the semibrevis 3 it would last 6: .*semibrevis 5, semibrevis 6, semibrevis 7/),
    expect.stringMatching(/^Without the dot it would last 6: .*semibrevis 5, semibrevis 6, semibrevis 7/),
  ])
})
test("the sign before it is a neighbour, the one after it is none", () => {
  expect(whatIf("white", "C B c4 prop:3/2 S d e f", 2)).toEqual([
    expect.stringMatching(/^Without the proportion it would last 2:/),
  ])
  expect(whatIf("white", "C S d4 O B e S f g a B b", 2)).toEqual([
    expect.stringMatching(/^Without the sign of mensuration it would last 4:/),
  ])
  expect(whatIf("white", "C B d4 O B e S f g a B b", 1)).toEqual([expect.stringMatching(/^No single/)])
})
