// node scripts/measure-motets.mjs [--pieces N] [--breves N] [--seed S] [--bare] [--unnamed] [--with FEATURES] [--faults]
// How much of invented motets, written as those of three repertories are and read from MEI, is read as it was meant; finals left
// out. --bare: no mensuration is stated; --unnamed: no practice either. --with NAME,NAME or all: what else the motets have (colour,
// diminution, hockets …); each: one table for each of these. --faults: every note that is read otherwise than it is meant.
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { row, share } from "./lib/rows.mjs"
import { giveUp } from "./lib/tools.mjs"

const { pieces, breves, seed, bare, unnamed, faults, wanted } = asked()
const { measured, REPERTORIES, FEATURES } = await bundled(`
  export { REPERTORIES } from "./core/src/together/testing/motets/compose.ts"
  export { FEATURES } from "./core/src/together/testing/motets/features.ts"
  export { measured } from "./core/src/together/testing/motets/measured.ts"`)

const stated = [bare ? "no mensuration" : "the mensuration", unnamed ? "no practice" : "the practice"].join(" and ")
console.log(
  `${pieces} motets of about ${breves} breves for each repertory, seeds ${seed} to ${seed + pieces - 1}, ${stated} stated`,
)
if (wanted === "each") for (const feature of FEATURES) table([feature])
else table(wanted === "all" ? FEATURES : wanted)

function table(features) {
  if (features.length > 0) console.log(`\nwith ${features.join(", ")}`)
  console.log("\n          notes   right   under 0.05   wrong of these   pieces that meet        ms")
  for (const repertory of REPERTORIES) {
    const from = process.cpuUsage().user
    const asked = { breves, bare, unnamed, features }
    const all = Array.from({ length: pieces }, (_, i) => measured(seed + i, repertory, asked))
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
    if (faults) all.forEach((one, i) => tellFaults(one, seed + i))
  }
}

/** The figures around each wrong note, that one between bars, with what each is meant to last. */
function tellFaults({ faults, meets }, number) {
  if (!meets) console.log(`  ${number} does not meet`)
  for (const { voice, at, read, rule, doubt } of faults) {
    const around = voice.figures.slice(Math.max(0, at - 5), at + 6).map((figure, i) => {
      const length = `${figure.lasts.num}${figure.lasts.den > 1 ? `/${figure.lasts.den}` : ""}`
      const sign = `${figure.red ? "red " : ""}${figure.rest ? "-" : ""}${figure.letter}${figure.stemDown ? "'" : ""}${figure.dotted ? "." : ""}`
      return i + Math.max(0, at - 5) === at ? `| ${sign} ${length} |` : `${sign} ${length}`
    })
    console.log(`  ${number} ${voice.label} ${at}: ${read} (${rule}, ${doubt.toFixed(3)})  ${around.join("  ")}`)
  }
}

function asked() {
  const text = { type: "string" }
  const yes = { type: "boolean" }
  try {
    const { values } = parseArgs({
      options: { pieces: text, breves: text, seed: text, bare: yes, unnamed: yes, with: text, faults: yes },
    })
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
      faults: values.faults ?? false,
      wanted: ["all", "each"].includes(values.with) ? values.with : (values.with?.split(",") ?? []),
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}
