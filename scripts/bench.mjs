// npm run bench [-- reading | together | drawing | sound | program ...]: how fast voices are read, pieces drawn and the program
// answers. Prints what it measured on this machine; without a name everything is measured.
import { cpus, loadavg } from "node:os"
import { performance } from "node:perf_hooks"
import { checkNode, giveUp, install, runNode, step } from "./lib/tools.mjs"

checkNode()
install()
const SECTIONS = ["reading", "together", "drawing", "sound", "program"]
const asked = process.argv.slice(2)
const unknown = asked.find(one => !SECTIONS.includes(one))
if (unknown !== undefined) giveUp(`Nothing called "${unknown}" is measured; there are ${SECTIONS.join(", ")}.`)
const wanted = asked.length > 0 ? SECTIONS.filter(one => asked.includes(one)) : SECTIONS
// these two start the program as it is built
if (wanted.includes("sound") || wanted.includes("program")) build()

const { bundled } = await import("./lib/bundle.mjs")
const { LAWFUL_PRACTICES, lawfulPiece, lawfulVoice, readVoice } = await bundled(`
  export { lawfulPiece } from "./core/src/together/testing/lawful-piece.ts"
  export { readVoice } from "./core/src/reading/index.ts"
  export { lawfulVoice, LAWFUL_PRACTICES } from "./core/src/reading/testing/lawful.ts"`)
const lawful = (seed, kind) => lawfulPiece(seed, kind).page
const pieces = { practices: LAWFUL_PRACTICES, lawful, pieceOf, voiceOf, edited, withSyllables, sizeOf }
const print = { line, median, grouped, times }
const measure = {
  reading: async () => (await import("./lib/bench-reading.mjs")).measureReading(pieces, print),
  together: async () => (await import("./lib/bench-together.mjs")).measureVoices(pieces, print),
  drawing: async () => (await import("./lib/bench-drawing.mjs")).measureDrawing(pieces, print),
  sound: async () => (await import("./lib/bench-program.mjs")).measureSound(pieces, print),
  program: async () => (await import("./lib/bench-program.mjs")).measureProgram(pieces, print),
}
const load = loadavg().map(one => one.toFixed(1))
const processor = cpus()[0]?.model ?? "processor"
step(`Measuring on Node ${process.versions.node}, ${cpus().length} × ${processor}, load ${load.join(" ")}`)
for (const section of wanted) await measure[section]()

function build() {
  step("Building")
  if (runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")
}

/** About so many notes and rests in so many voices; a tenth of the phrases allow two readings. */
function pieceOf(practice, voices, notes, seed = 3) {
  const of = each => lawfulPiece(seed, { practice, voices, notes: each, doubtful: 0.1 }).page
  const each = notes / voices
  return of(Math.max(10, Math.round((each * notes) / sizeOf(of(Math.round(each))))))
}

function sizeOf(page) {
  return page.voices.reduce((sum, voice) => sum + readVoice(voice).signs.filter(one => one.number > 0).length, 0)
}

/** The voice with a syllable under every third note. */
function withSyllables(voice) {
  const syllable = (sign, at) => ({ ...sign, syllables: [{ stanza: 1, text: "lu", join: at % 2 === 0 ? "-" : " " }] })
  return {
    ...voice,
    signs: voice.signs.map((sign, at) => (sign.kind === "note" && at % 3 === 0 ? syllable(sign, at) : sign)),
  }
}

function times(count, act) {
  return Array.from({ length: count }, () => {
    const start = performance.now()
    act()
    return performance.now() - start
  }).sort((a, b) => a - b)
}

function median(count, act) {
  return times(count, act)[Math.floor(count / 2)]
}

function grouped(number) {
  return number.toLocaleString("en-US")
}

function line(what, time, note) {
  console.log(`  ${what.padEnd(18)}${time.padStart(12)}   ${note}`)
}

/** A lawful voice of at least so many notes and rests. */
function voiceOf(practice, notes, label = "cantus") {
  return lawfulVoice(3, { practice, notes, label }).voice
}

/** The voice with one breve so far along it turned into a semibreve, or another note into a breve: what an editor does. */
function edited(voice, along) {
  const at = voice.signs.findIndex((sign, index) => index > voice.signs.length * along && sign.kind === "note")
  const note = voice.signs[at]
  return {
    ...voice,
    signs: voice.signs.with(at, { ...note, level: note.level === "brevis" ? "semibrevis" : "brevis" }),
  }
}
