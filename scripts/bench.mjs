// npm run bench: how fast a voice is read, and how soon the program answers. Prints what it measured on this machine.
// With `-- drawing` only the drawings are measured.
import { spawnSync } from "node:child_process"
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs"
import { cpus, loadavg } from "node:os"
import { performance } from "node:perf_hooks"
import { checkNode, giveUp, inRoot, install, runNode, step } from "./lib/tools.mjs"
import { measureDrawing } from "./lib/bench-drawing.mjs"
import { growthOf } from "./lib/bench-growth.mjs"
import { busyFor } from "./lib/busy.mjs"
import { bundled } from "./lib/bundle.mjs"

/** Notes in the longest voice that is read. */
const LONGEST = 200_000

checkNode()
install()
const onlyDrawing = process.argv.includes("drawing")
if (!onlyDrawing) step("Building")
if (!onlyDrawing && runNode("scripts/build.mjs") !== 0) giveUp("The build failed; its message stands above.")
const {
  applyChange,
  LAWFUL_PRACTICES,
  lawfulPiece,
  lawfulVoice,
  printShorthand,
  readPage,
  readTogether,
  readingTogether,
  readVoice,
  rereadVoice,
} = await bundled(`
  export { readTogether, readingTogether } from "./core/src/together/index.ts"
  export { lawfulPiece } from "./core/src/together/testing/lawful-piece.ts"
  export { readPage, readVoice, rereadVoice } from "./core/src/reading/index.ts"
  export { applyChange, printShorthand } from "./core/src/page/index.ts"
  export { lawfulVoice, LAWFUL_PRACTICES } from "./core/src/reading/testing/lawful.ts"`)

const load = loadavg().map(one => one.toFixed(1))
step(
  `Measuring on Node ${process.versions.node}, ${cpus().length} × ${cpus()[0]?.model ?? "processor"}, load ${load.join(" ")}`,
)
if (onlyDrawing) {
  measureDrawings()
  process.exit()
}
for (const practice of LAWFUL_PRACTICES) measureReading(practice)

console.log("\nReading again after one edit in a voice of 2,000 notes")
for (const practice of LAWFUL_PRACTICES) {
  const voice = voiceOf(practice, 2_000)
  const first = readVoice(voice)
  const edits = Array.from({ length: 60 }, (_, at) => edited(voice, (at + 1) / 62))
  for (let round = 0; round < 3; round++) for (const changed of edits) rereadVoice(first, changed)
  let turn = 0
  const time = median(edits.length, () => rereadVoice(first, edits[turn++]))
  line(practice, `${time.toFixed(2)} ms`, "median of 60 edits along the voice")
}

console.log("\nVoices read together (pieces of which a tenth of the phrases allow two readings)")
for (const practice of LAWFUL_PRACTICES) measureTogether(practice)

console.log("\nVoices read together again after a note is taken away, and after it is put back")
for (const practice of LAWFUL_PRACTICES) {
  measureReread(practice, { voices: 4, signs: 500, edits: 20 })
  measureReread(practice, { voices: 8, signs: 1500, edits: 4 })
}

measureDrawings()

mkdirSync(inRoot("out"), { recursive: true })
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

console.log("\nThe program, started cold")
for (const practice of LAWFUL_PRACTICES) {
  const file = inRoot("out", `bench-${practice}.figurae`)
  writeFileSync(file, printShorthand(pieceOf(practice, 3, 600)))
  for (const format of ["text", "json"]) {
    const time = median(9, () => mustRun("read", file, "--format", format))
    line(practice, `${(time / 1000).toFixed(2)} s`, `read --format ${format}, 600 notes in 3 voices, median of 9`)
  }
}
const edition = editionOfTenPages()
const printing = ["score", edition.file, "-o", edition.pdf, "--force"]
const printed = median(3, () => mustRun(...printing))
const busy = Math.min(...Array.from({ length: 3 }, () => processorTime(...printing)))
line(
  "an edition",
  `${(printed / 1000).toFixed(2)} s`,
  `score -o NAME.pdf, ${edition.about}, median of 3; ${busy.toFixed(2)} s of processor time, least of 3`,
)
line("nothing to do", `${(median(9, () => mustRun("--version")) / 1000).toFixed(2)} s`, "--version, median of 9")

function measureDrawings() {
  measureDrawing({ practices: LAWFUL_PRACTICES, pieceOf, edited, withSyllables, sizeOf }, { line, median, grouped })
}

/** A piece in four voices with words, so long that its book has ten pages or a few more. */
function editionOfTenPages() {
  const [file, pdf] = [inRoot("out", "bench-edition.figurae"), inRoot("out", "bench-edition.pdf")]
  for (let notes = 200; ; notes += 100) {
    const page = { ...pieceOf("ars-nova", 4, notes), title: "An edition" }
    writeFileSync(file, printShorthand({ ...page, voices: page.voices.map(withSyllables) }))
    mustRun("score", file, "-o", pdf, "--force")
    const pages = readFileSync(pdf, "latin1").match(/\/Type \/Page\b/g)?.length ?? 0
    if (pages >= 10) return { file, pdf, about: `${pages} pages, ${grouped(sizeOf(page))} notes and rests in 4 voices` }
  }
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

/** The same notes in many short voices, in fewer long ones, and in one: what a note costs must not depend on that. */
function measureReading(practice) {
  const whole = voiceOf(practice, LONGEST)
  const cut = [100, 10, 1].map(count => ({ notes: LONGEST / count, voices: partsOf(whole, count) }))
  const readAll = ({ voices }) => voices.forEach(voice => readVoice(voice))
  // the first calls are slower: what runs often is compiled only then, and twice
  cut.forEach(readAll)
  const rounds = Array.from({ length: 5 }, () => cut.map(one => times(1, () => readAll(one))[0]))
  console.log(`\nReading from the page, ${grouped(LONGEST)} notes, ${practice}`)
  let before
  cut.forEach(({ notes }, at) => {
    const time = rounds.map(one => one[at]).sort((a, b) => a - b)[rounds.length >> 1]
    const growth = before ? `   ${((10 * time) / before).toFixed(1)} × the time for 10 × the notes in a voice` : ""
    const rate = grouped(Math.round((LONGEST / time) * 1000))
    line(`voices of ${grouped(notes)}`, `${((time * notes) / LONGEST).toFixed(1)} ms`, `${rate} notes/s${growth}`)
    before = time
  })
}

/** The voice in so many parts, each with the signs at its head. */
function partsOf(voice, count) {
  const first = voice.signs.findIndex(({ kind }) => kind === "note" || kind === "rest" || kind === "ligature")
  const [head, body] = [voice.signs.slice(0, first), voice.signs.slice(first)]
  const each = Math.ceil(body.length / count)
  const part = at => ({ ...voice, signs: [...head, ...body.slice(at * each, (at + 1) * each)] })
  return Array.from({ length: count }, (_, at) => part(at))
}

/** A piece in four voices of 800 notes, after a decision, in more voices and at greater lengths. */
function measureTogether(practice) {
  const page = pieceOf(practice, 4, 800)
  for (let call = 0; call < 8; call++) readTogether(page)
  line(practice, `${median(9, () => readTogether(page)).toFixed(0)} ms`, `${sizeOf(page)} notes in 4 voices`)
  const first = readTogether(page)
  const notes = first.readings.flatMap(one => one.signs.filter(sign => sign.kind === "note" && !sign.held))
  let turn = 0
  const again = median(15, () => {
    const { id, duration } = notes[(++turn * 97) % notes.length]
    readTogether(page, { decisions: new Map([[id, [duration.num, duration.den]]]) }, first)
  })
  line("", `${again.toFixed(0)} ms`, "again after a decision, median of 15 along the piece")
  // pieces differ in how much they leave open: three of each size, added up
  const three = (voices, notes) => [11, 12, 13].map(seed => pieceOf(practice, voices, notes, seed))
  const growth = growthOf({ readPage, readTogether }, { line, grouped, sizeOf })
  growth([2, 4, 8].map(voices => ({ name: `${voices} voices`, pages: three(voices, 200 * voices) })))
  growth([2000, 20_000].map(notes => ({ name: "4 voices", pages: three(4, notes) })))
}

/** What the window asks for at a key press; a voice that no longer fits the others takes longest. */
function measureReread(practice, { voices, signs, edits }) {
  const { page } = lawfulPiece(3, { practice, voices, notes: signs, doubtful: 0.1 })
  const notes = page.voices.flatMap(voice => voice.signs.filter(sign => sign.kind === "note"))
  const ids = Array.from({ length: edits }, (_, i) => notes[Math.floor(((i + 0.5) * notes.length) / edits)].id)
  const spent = rereadTimes(page, ids)
  const tell = (what, times, how) => {
    times.sort((a, b) => a - b)
    const told = `${how}, median of ${times.length}; at most ${times.at(-1).toFixed(0)} ms`
    line(what, `${times[times.length >> 1].toFixed(0)} ms`, told)
  }
  const first = spent.map(one => one.first)
  tell(practice, first, `${voices} × ${signs}, processor time until a reading is told (a long piece at a glance)`)
  const all = spent.map(one => one.all)
  tell("", all, "until all is searched")
}

/** Milliseconds for each sign taken away, and for each put back: until something is told, and until all is. */
function rereadTimes(page, ids) {
  let read = readTogether(page)
  for (let call = 0; call < 3; call++) read = readTogether(page)
  return ids.flatMap(sign => {
    const changed = applyChange(page, { kind: "delete-sign", sign }).value.page
    return [changed, page].map(one => {
      const steps = readingTogether(one, {}, read)
      let step
      const first = busyFor(() => (step = steps.next()))
      const rest = busyFor(() => {
        while (!step.done) step = steps.next()
      })
      read = step.value
      return { first, all: first + rest }
    })
  })
}

/** The voice with a syllable under every third note. */
function withSyllables(voice) {
  const syllable = (sign, at) => ({ ...sign, syllables: [{ stanza: 1, text: "lu", join: at % 2 === 0 ? "-" : " " }] })
  return {
    ...voice,
    signs: voice.signs.map((sign, at) => (sign.kind === "note" && at % 3 === 0 ? syllable(sign, at) : sign)),
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
