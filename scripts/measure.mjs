// node scripts/measure.mjs [--voices N] [--seed S] [--notes N] [--careless P] [--undotted P [--by-voice]] [--practice NAME]
// How much of invented but lawful voices is read as it was meant, and whether the doubt that is shown can be trusted.
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { row, share } from "./lib/rows.mjs"
import { giveUp } from "./lib/tools.mjs"

const { voices, seed, notes, careless, undotted, byVoice, practice } = options()
const made = await bundled(`
  export { readVoice } from "./core/src/reading/index.ts"
  export { lawfulVoice, LAWFUL_PRACTICES } from "./core/src/reading/testing/lawful.ts"
  export { randomFrom } from "./core/src/reading/testing/random.ts"
  export { DOUBT_BINS, Tally } from "./core/src/reading/testing/compare.ts"`)
const { DOUBT_BINS, LAWFUL_PRACTICES, Tally, lawfulVoice, randomFrom, readVoice } = made
if (practice !== undefined && !LAWFUL_PRACTICES.includes(practice))
  giveUp(`There are no lawful voices of "${practice}"; there are some of ${LAWFUL_PRACTICES.join(", ")}.`)

const left = careless > 0 ? `, ${share(careless, 1)} % of the needed divisions left out` : ""
const bare =
  undotted > 0
    ? `, ${share(undotted, 1)} % of the dots between groups of semibreves${byVoice ? ", more or fewer by voice" : ""}`
    : ""
console.log(`${voices} voices of ${notes} notes for each practice, seeds ${seed} to ${seed + voices - 1}${left}${bare}`)
const tallies = new Map()
for (const name of practice ? [practice] : LAWFUL_PRACTICES) tallies.set(name, tallyOf(name))
printShares()
printCalibration()

function options() {
  const text = { type: "string" }
  const asked = {
    voices: text,
    seed: text,
    notes: text,
    careless: text,
    undotted: text,
    practice: text,
    "by-voice": { type: "boolean" },
  }
  try {
    const { values } = parseArgs({ options: asked })
    const number = (name, otherwise) => {
      const value = Number(values[name] ?? otherwise)
      if (!Number.isFinite(value) || value < 0) giveUp(`--${name} needs a number, not "${String(values[name])}".`)
      return value
    }
    const { practice } = values
    return {
      voices: Math.max(1, Math.trunc(number("voices", 400))),
      seed: Math.trunc(number("seed", 1)),
      notes: Math.max(1, Math.trunc(number("notes", 60))),
      careless: Math.min(1, number("careless", 0)),
      undotted: Math.min(1, number("undotted", 0)),
      byVoice: values["by-voice"] ?? false,
      practice,
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}

function tallyOf(name) {
  const tally = new Tally()
  for (let i = 0; i < voices; i++) {
    const lawful = lawfulVoice(seed + i, { practice: name, notes, careless, undotted: undottedIn(seed + i) })
    tally.add(lawful, readVoice(lawful.voice))
  }
  return tally
}

/**
 * Chance that a dot between groups is left out of the voice: the same for all, or by the voice's own habit. Most scribes
 * then leave out few, some nearly all, and on the whole it is the share that was asked for.
 */
function undottedIn(seed) {
  return byVoice && undotted > 0 ? randomFrom(seed ^ 0x5bd1e995).next() ** (1 / undotted - 1) : undotted
}

function printShares() {
  console.log(
    "\n                    notes   right   under 0.05   wrong of these   stretches exact   with rivals   problems",
  )
  for (const [name, t] of tallies) {
    const cells = [
      [t.notes, 10],
      [`${share(t.notes - t.wrong, t.notes)} %`, 10],
      [`${share(t.sure, t.notes)} %`, 12],
      [`${share(t.sureWrong, t.sure, 3)} %`, 17],
      [`${share(t.exact, t.stretches)} %`, 18],
      [`${share(t.offered, t.stretches)} %`, 14],
      [t.problems, 11],
    ]
    console.log(row(name, 15, cells))
  }
}

/** Doubt is twice the estimated chance of being wrong: half of it should be met. */
function printCalibration() {
  console.log("\nOf the notes with a doubt up to … : how many, how many of them wrong, how many the doubt expects")
  for (const [name, t] of tallies) {
    console.log(`\n${name}`)
    t.bins.forEach((bin, i) => {
      if (bin.notes === 0) return
      const wrong = `${share(bin.wrong, bin.notes)} % wrong`
      const expected = `${share(bin.doubt / 2, bin.notes)} % expected`
      const bound = String(DOUBT_BINS[i])
      console.log(`${bound.padStart(8)}${String(bin.notes).padStart(9)}${wrong.padStart(16)}${expected.padStart(20)}`)
    })
  }
}
