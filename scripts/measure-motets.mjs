// node scripts/measure-motets.mjs [--pieces N] [--breves N] [--seed S] [--bare] [--unnamed]
// How much of invented motets, written as those of three repertories are and read from MEI, is read as it was meant; finals left
// out. --bare: no mensuration is stated; --unnamed: no practice either.
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { row, share } from "./lib/rows.mjs"
import { giveUp } from "./lib/tools.mjs"

const { pieces, breves, seed, bare, unnamed } = asked()
const { measured, REPERTORIES } = await bundled(`
  export { REPERTORIES } from "./core/src/together/testing/motets/compose.ts"
  export { measured } from "./core/src/together/testing/motets/measured.ts"`)

const stated = [bare ? "no mensuration" : "the mensuration", unnamed ? "no practice" : "the practice"].join(" and ")
console.log(
  `${pieces} motets of about ${breves} breves for each repertory, seeds ${seed} to ${seed + pieces - 1}, ${stated} stated`,
)
console.log("\n          notes   right   under 0.05   wrong of these   pieces that meet        ms")
for (const repertory of REPERTORIES) {
  const from = process.cpuUsage().user
  const all = Array.from({ length: pieces }, (_, i) => measured(seed + i, repertory, { breves, bare, unnamed }))
  const took = (process.cpuUsage().user - from) / 1000
  const sum = name => all.reduce((total, one) => total + one[name], 0)
  const notes = sum("notes")
  const cells = [
    [notes, 7],
    [`${share(notes - sum("wrong"), notes)} %`, 9],
    [`${share(sum("sure"), notes)} %`, 12],
    [`${share(sum("sureWrong"), sum("sure"), 3)} %`, 17],
    [`${share(all.filter(one => one.meets).length, pieces)} %`, 18],
    [took.toFixed(0), 10],
  ]
  console.log(row(repertory, 8, cells))
}

function asked() {
  const text = { type: "string" }
  const yes = { type: "boolean" }
  try {
    const { values } = parseArgs({ options: { pieces: text, breves: text, seed: text, bare: yes, unnamed: yes } })
    const whole = (name, otherwise) => {
      const value = Number(values[name] ?? otherwise)
      if (!Number.isInteger(value) || value < 0)
        giveUp(`--${name} needs a whole number, not "${String(values[name])}".`)
      return value
    }
    return {
      pieces: Math.max(1, whole("pieces", 40)),
      breves: Math.max(24, whole("breves", 60)),
      seed: whole("seed", 1),
      bare: values.bare ?? false,
      unnamed: values.unnamed ?? false,
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}
