// npm run bench: how fast a voice is read, and how soon the program answers. Prints what it measured on this machine.
import { spawnSync } from "node:child_process"
import { mkdirSync, writeFileSync } from "node:fs"
import { cpus } from "node:os"
import { performance } from "node:perf_hooks"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"
import { edited, pageOf, practices, voiceOf } from "./lib/voices.mjs"

const SIZES = [2_000, 20_000, 200_000]

checkNode()
install()
step("Building")
if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")
const core = await import("../core/dist/index.js")

step(`Measuring on Node ${process.versions.node}, ${cpus().length} × ${cpus()[0]?.model ?? "processor"}`)
for (const practice of practices) {
  const voices = SIZES.map(notes => voiceOf(practice, notes))
  // The first calls are slower: what runs often is compiled only then.
  for (let call = 0; call < 10; call++) core.readVoice(voices[0])
  const milliseconds = voices.map(voice => best(voice.signs.length > 50_000 ? 2 : 5, () => core.readVoice(voice)))
  console.log(`\nReading from the page, one voice, ${practice}`)
  SIZES.forEach((notes, at) => {
    const rate = Math.round((notes / milliseconds[at]) * 1000)
    const growth =
      at > 0 ? `   ${(milliseconds[at] / milliseconds[at - 1]).toFixed(1)} × the time for 10 × the notes` : ""
    line(`${grouped(notes)} notes`, `${milliseconds[at].toFixed(1)} ms`, `${grouped(rate)} notes/s${growth}`)
  })
}

console.log("\nReading again after one edit in a voice of 2,000 notes")
for (const practice of practices) {
  const voice = voiceOf(practice, 2_000)
  const changed = edited(voice)
  // Two voices in turn, so that no answer can be the one just given.
  let turn = 0
  const time = median(40, () => core.readVoice(turn++ % 2 === 0 ? changed : voice))
  line(practice, `${time.toFixed(2)} ms`, "median of 40")
}

console.log("\nThe program, started cold")
mkdirSync(inRoot("out"), { recursive: true })
for (const practice of practices) {
  const labels = ["triplum", "motetus", "tenor"]
  const file = inRoot("out", `bench-${practice}.figurae`)
  writeFileSync(
    file,
    core.printShorthand(
      pageOf(
        "For measuring",
        labels.map(label => voiceOf(practice, 200, label)),
      ),
    ),
  )
  for (const format of ["text", "json"]) {
    const time = median(9, () => mustRun("read", file, "--format", format))
    line(practice, `${(time / 1000).toFixed(2)} s`, `read --format ${format}, 600 notes in 3 voices, median of 9`)
  }
}
line("nothing to do", `${(median(9, () => mustRun("--version")) / 1000).toFixed(2)} s`, "--version, median of 9")

function mustRun(...args) {
  const outcome = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], { encoding: "utf8" })
  if (outcome.status !== 0 && outcome.status !== 1) giveUp(`resolutio ${args.join(" ")} failed: ${outcome.stderr}`)
}

function times(count, act) {
  return Array.from({ length: count }, () => {
    const start = performance.now()
    act()
    return performance.now() - start
  }).sort((a, b) => a - b)
}
function best(count, act) {
  return times(count, act)[0]
}
function median(count, act) {
  return times(count, act)[Math.floor(count / 2)]
}
function grouped(number) {
  return number.toLocaleString("en-US")
}
function line(what, time, note) {
  console.log(`  ${what.padEnd(16)}${time.padStart(12)}   ${note}`)
}
