// node scripts/compare-pieces.mjs: reads the real pieces by the rules alone and compares each voice, note by note, with
// an independent modern transcription. What is left out is told in scripts/lib/transcription.mjs.
import { existsSync } from "node:fs"
import { realPieces } from "./lib/pieces.mjs"
import { row, share } from "./lib/rows.mjs"
import { giveUp, inRoot } from "./lib/tools.mjs"
import { compare } from "./lib/transcription.mjs"

if (!existsSync(inRoot("core/dist/index.js"))) giveUp("The library is not built yet: npm run build.")
const { readMei, readPage, readTogether } = await import("../core/dist/index.js")
const pieces = realPieces()
if (pieces.length === 0) giveUp("There is no piece to compare.")
for (const { name, mei, modern, except } of pieces) {
  const read = readMei(mei, name)
  if (!read.ok) giveUp(`${name}: ${read.problems[0].what}`)
  const { page } = read.value
  print(`${name}, each voice alone`, compare(page, readPage(page, { ignoreGiven: true }), modern, except))
  print(`${name}, together`, compare(page, readTogether(page, { ignoreGiven: true }).readings, modern, except))
}

function print(name, { quarters, voices }) {
  console.log(`\n${name}: a unit is ${quarters} quarter notes in the transcription`)
  console.log("  voice        length   notes   agreeing           rests   left out")
  for (const { label, duration, notes, agreeing, rests, leftOut } of voices) {
    const cells = [
      [duration, 8],
      [notes, 8],
      [agreeing, 8],
      [`${share(agreeing, notes)} %`, 11],
      [rests, 8],
      [leftOut, 11],
    ]
    console.log(row(`  ${label}`, 12, cells))
  }
  const all = voices.reduce((sum, one) => sum + one.notes, 0)
  const right = voices.reduce((sum, one) => sum + one.agreeing, 0)
  console.log(`  all voices: ${right} of ${all} notes agree, ${share(right, all)} %`)
  for (const { label, differing } of voices) for (const one of differing) console.log(`  ${label}: ${one}`)
}
