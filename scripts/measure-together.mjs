// node scripts/measure-together.mjs [--pieces N] [--voices V] [--notes N] [--doubtful P] [--doubts KIND,KIND] [--careless P] [--mixed] [--seed S] [--practice NAME]
// How much of invented but lawful pieces is read as it was meant, each voice alone and all together; finals left out.
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { row, share } from "./lib/rows.mjs"
import { giveUp } from "./lib/tools.mjs"

const asked = options()
const made = await bundled(`
  export { readPage } from "./core/src/reading/index.ts"
  export { readTogether } from "./core/src/together/index.ts"
  export { DOUBTS, lawfulPiece, LAWFUL_PRACTICES } from "./core/src/together/testing/lawful-piece.ts"
  export { PieceTally } from "./core/src/together/testing/compare.ts"`)
const { DOUBTS, LAWFUL_PRACTICES, PieceTally, lawfulPiece, readPage, readTogether } = made
if (asked.practice !== undefined && !LAWFUL_PRACTICES.includes(asked.practice))
  giveUp(`There are no lawful pieces of "${asked.practice}"; there are some of ${LAWFUL_PRACTICES.join(", ")}.`)

const doubts = asked.doubts?.split(",") ?? DOUBTS
const unknown = doubts.find(doubt => !DOUBTS.includes(doubt))
if (unknown !== undefined) giveUp(`There is no doubt of the kind "${unknown}"; there are ${DOUBTS.join(", ")}.`)

const { pieces, seed, voices, notes, doubtful, careless, mixed } = asked
const kinds = asked.doubts ? ` (${doubts.join(", ")})` : ""
const left = careless > 0 ? `, ${share(careless, 1, 0)} % of the divisions left out` : ""
console.log(
  `${pieces} pieces in ${voices} voices of about ${notes} notes for each practice, seeds ${seed} to ${seed + pieces - 1}, ` +
    `${share(doubtful, 1, 0)} % of the phrases doubtful${kinds}${left}${mixed ? ", voices of different mensurations" : ""}`,
)
console.log("\n                              notes   right   under 0.05   wrong of these   pieces that meet        ms")
for (const practice of asked.practice ? [asked.practice] : LAWFUL_PRACTICES) {
  const all = Array.from({ length: pieces }, (_, i) =>
    lawfulPiece(seed + i, { practice, voices, notes, doubtful, doubts, careless, mixed }),
  )
  print(`${practice} alone`, all, readPage)
  print(`${practice} together`, all, page => readTogether(page).readings)
}

function print(name, all, read) {
  const tally = new PieceTally()
  let took = 0
  for (const piece of all) {
    const from = performance.now()
    const readings = read(piece.page)
    took += performance.now() - from
    tally.add(piece, readings)
  }
  const cells = [
    [tally.notes, 11],
    [`${share(tally.notes - tally.wrong, tally.notes)} %`, 10],
    [`${share(tally.sure, tally.notes)} %`, 12],
    [`${share(tally.sureWrong, tally.sure, 3)} %`, 17],
    [`${share(tally.meeting, tally.pieces)} %`, 18],
    [took.toFixed(0), 10],
  ]
  console.log(row(name, 24, cells))
}

function options() {
  const text = { type: "string" }
  const names = {
    pieces: text,
    voices: text,
    notes: text,
    doubtful: text,
    careless: text,
    seed: text,
    practice: text,
    doubts: text,
  }
  try {
    const { values } = parseArgs({ options: { ...names, mixed: { type: "boolean" } } })
    const number = (name, otherwise) => {
      const value = Number(values[name] ?? otherwise)
      if (!Number.isFinite(value) || value < 0) giveUp(`--${name} needs a number, not "${String(values[name])}".`)
      return value
    }
    return {
      pieces: Math.max(1, Math.trunc(number("pieces", 50))),
      voices: Math.max(2, Math.min(8, Math.trunc(number("voices", 3)))),
      notes: Math.max(1, Math.trunc(number("notes", 60))),
      seed: Math.trunc(number("seed", 1)),
      doubtful: Math.min(1, number("doubtful", 0)),
      careless: Math.min(1, number("careless", 0)),
      mixed: values.mixed ?? false,
      practice: values.practice,
      doubts: values.doubts,
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}
