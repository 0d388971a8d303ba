/** Repeats, endings and sections of our own invention. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices, notate, type Score } from "./index.js"
import { structureOf } from "./structure.js"

function scoreOf(text: string): Score {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  return alignVoices(read.value, readPage(read.value))
}
const lines = (score: Score) =>
  notate(score, { reduction: 2 })
    .blocks.map(({ end }) => toText(end))
    .join(" ")

/** Bars are whole notes. */
const HEAD = "voice cantus white practice=white\nC "

describe("lines are forced", () => {
  test("an ending begins a bar, and the bars of the closed one are those of the open one", () => {
    const score = scoreOf(
      `${HEAD}repeat-start B c4 d S e ending-open S f B g S a repeat-end ending-closed S f B e S d L c section B d L c`,
    )
    // the open ending begins in the midst of the third bar, which goes on behind the line
    expect(lines(score)).toBe("1 2 5/2 3 4 9/2 5 6 7 8 17/2 19/2 21/2 23/2")
    expect(structureOf(score).endings.map(({ number, from, to }) => [number, toText(from), toText(to)])).toEqual([
      [1, "10", "18"],
      [2, "18", "34"],
    ])
  })
  test("after a repeat bars are counted from its line", () => {
    expect(lines(scoreOf(`${HEAD}B c4 d S e repeat-end B f g L c`))).toBe("1 2 5/2 7/2 9/2 11/2 13/2")
  })
  test("after a finis punctorum of all voices too", () => {
    const tenor = "\nvoice tenor white practice=white\nC B c3 S d finis B c d L c"
    expect(lines(scoreOf(`${HEAD}B c4 S d finis B c d L c${tenor}`))).toBe("1 3/2 5/2 7/2 9/2 11/2")
  })
})

test("marks of the same kind at other places are told of, once", () => {
  const { problems } = scoreOf(
    `${HEAD}B c4 d repeat-end e L f\nvoice tenor white practice=white\nC B c3 d e repeat-end L f`,
  )
  expect(problems.map(({ code, what }) => [code, what])).toEqual([
    [
      "marks-part",
      "The end of a repeat stands at 8 in cantus and at 12 in tenor; the score has it where cantus has it.",
    ],
  ])
})
test("a voice without marks goes along", () => {
  const { problems, voices } = scoreOf(
    `${HEAD}B c4 d repeat-end e L f\nvoice tenor white practice=white\nC B c3 d e L f`,
  )
  expect(problems).toEqual([])
  expect(voices).toHaveLength(2)
})
