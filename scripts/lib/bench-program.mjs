// How soon the program answers when it is started cold, and how fast it makes sound.
import { spawnSync } from "node:child_process"
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs"
import { bundled } from "./bundle.mjs"
import { giveUp, inRoot } from "./tools.mjs"

const { printShorthand } = await bundled(`export { printShorthand } from "./core/src/page/index.ts"`)
mkdirSync(inRoot("out"), { recursive: true })

export function measureSound({ pieceOf }, { line, median }) {
  console.log("\nSound: a piece in 4 voices as WAV, from the program's start to the whole file")
  for (const sound of ["voices", "tone"]) {
    const file = inRoot("out", "bench-sound.figurae")
    writeFileSync(file, printShorthand(pieceOf("ars-nova", 4, 2_400)))
    const target = inRoot("out", "bench-sound.wav")
    const time = median(3, () => mustRun("hear", file, "-o", target, "--sound", sound, "--force"))
    const plays = (statSync(target).size - 44) / 4 / 44.1
    line(
      sound,
      `${(plays / time).toFixed(0)} ×`,
      `as fast as it plays: ${(plays / 1000).toFixed(0)} s in ${(time / 1000).toFixed(2)} s`,
    )
    rmSync(target)
  }
}

const STARTS = 15
const inSeconds = milliseconds => `${(milliseconds / 1000).toFixed(2)} s`

/** Other programs, and other machines on the same hardware, make a start slower, never quicker: the least is told too. */
export function measureProgram(pieces, { line, median, times, grouped }) {
  console.log("\nThe program, started cold")
  for (const practice of pieces.practices) {
    const file = inRoot("out", `bench-${practice}.figurae`)
    writeFileSync(file, printShorthand(pieces.pieceOf(practice, 3, 600)))
    for (const format of ["text", "json"]) {
      const all = times(STARTS, () => mustRun("read", file, "--format", format))
      const told = `read --format ${format}, 600 notes in 3 voices, median of ${STARTS}; least ${inSeconds(all[0])}`
      line(practice, inSeconds(all[STARTS >> 1]), told)
    }
  }
  const edition = editionOfTenPages(pieces, grouped)
  const printing = ["score", edition.file, "-o", edition.pdf, "--force"]
  const printed = median(3, () => mustRun(...printing))
  const busy = Math.min(...Array.from({ length: 3 }, () => processorTime(...printing)))
  line(
    "an edition",
    `${(printed / 1000).toFixed(2)} s`,
    `score -o NAME.pdf, ${edition.about}, median of 3; ${busy.toFixed(2)} s of processor time, least of 3`,
  )
  line("nothing to do", `${(median(9, () => mustRun("--version")) / 1000).toFixed(2)} s`, "--version, median of 9")
}

/** A piece in four voices with words, so long that its book has ten pages or a few more. */
function editionOfTenPages({ pieceOf, sizeOf, withSyllables }, grouped) {
  const [file, pdf] = [inRoot("out", "bench-edition.figurae"), inRoot("out", "bench-edition.pdf")]
  for (let notes = 200; ; notes += 100) {
    const page = { ...pieceOf("ars-nova", 4, notes), title: "An edition" }
    writeFileSync(file, printShorthand({ ...page, voices: page.voices.map(withSyllables) }))
    mustRun("score", file, "-o", pdf, "--force")
    const pages = readFileSync(pdf, "latin1").match(/\/Type \/Page\b/g)?.length ?? 0
    if (pages >= 10) return { file, pdf, about: `${pages} pages, ${grouped(sizeOf(page))} notes and rests in 4 voices` }
  }
}

function mustRun(...args) {
  const outcome = spawnSync(process.execPath, [inRoot("cli/bin/resolutio.mjs"), ...args], { encoding: "utf8" })
  if (outcome.status !== 0 && outcome.status !== 1) giveUp(`resolutio ${args.join(" ")} failed: ${outcome.stderr}`)
}

/** Seconds that the program is at work, whatever else the machine does. */
function processorTime(...args) {
  const tell = "process.on('exit',()=>{const{user,system}=process.cpuUsage();console.error('cpu '+(user+system))})"
  const hook = ["--import", `data:text/javascript,${encodeURIComponent(tell)}`]
  const { stderr } = spawnSync(process.execPath, [...hook, inRoot("cli/bin/resolutio.mjs"), ...args], {
    encoding: "utf8",
  })
  return Number(/^cpu (\d+)$/m.exec(stderr)?.[1] ?? Number.NaN) / 1e6
}
