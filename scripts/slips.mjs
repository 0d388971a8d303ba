// node scripts/slips.mjs [--pieces N] [--seed S] [--kind KIND | --two | --unspoiled] [--notes N] [--strict | --real] [--traced] [--list]
// Slips of the pen planted in sound pieces, the demos and invented ones: how often `fit` finds the place and the repair,
// how often it finds fault with a piece that has none, and whether it finds two slips in one piece. With --real
// the two real pieces are taken instead, N times each, every time with other slips; with --strict the invented pieces keep
// to the rules of counterpoint without the freedom that pieces of their time take; with --traced, slips that leave no trace are not
// looked for.
import { readdirSync, readFileSync } from "node:fs"
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { realPieces } from "./lib/pieces.mjs"
import { giveUp, inRoot } from "./lib/tools.mjs"

const made = await bundled(`
  export { parseShorthand } from "./core/src/page/index.ts"
  export { readMei } from "./core/src/formats/mei/index.ts"
  export { EMENDATION_KINDS, propose } from "./core/src/together/emend/index.ts"
  export { changed } from "./core/src/together/emend/changed-page.ts"
  export { judge, isNear, leavesTraceAlone, plantOne, soundOf } from "./core/src/together/emend/testing/judge.ts"
  export { LAWFUL_PRACTICES, lawfulPiece } from "./core/src/together/testing/lawful-piece.ts"
  export { randomFrom } from "./core/src/reading/testing/random.ts"`)
const {
  EMENDATION_KINDS,
  LAWFUL_PRACTICES,
  changed,
  isNear,
  judge,
  lawfulPiece,
  leavesTraceAlone,
  parseShorthand,
  plantOne,
  propose,
  randomFrom,
  readMei,
  soundOf,
} = made

const { pieces, seed, kind, notes, list, traced, two, unspoiled, strict, real } = options()
const sounds = real ? realSounds() : [...demos(), ...invented()]
console.log(
  real
    ? `${sounds.length / pieces} real pieces, ${pieces} times each, seed ${seed}`
    : `${sounds.length} sound pieces: the demos, and ${pieces} invented of three and four voices${strict ? " in strict counterpoint" : ""}, about ${notes} notes a voice, seeds from ${seed}`,
)
if (kind === undefined && !two) falseAlarms()
if (!two && !unspoiled) singles()
if (kind === undefined && !unspoiled) pairs()

function options() {
  const text = { type: "string" }
  try {
    const { values } = parseArgs({
      options: {
        pieces: text,
        seed: text,
        kind: text,
        notes: text,
        list: { type: "boolean" },
        traced: { type: "boolean" },
        two: { type: "boolean" },
        unspoiled: { type: "boolean" },
        strict: { type: "boolean" },
        real: { type: "boolean" },
      },
    })
    if (values.kind !== undefined && !EMENDATION_KINDS.includes(values.kind))
      giveUp(`There is no kind "${String(values.kind)}"; there are ${EMENDATION_KINDS.join(", ")}.`)
    const whole = (name, otherwise) => {
      const value = Number(values[name] ?? otherwise)
      if (!Number.isInteger(value) || value < 0)
        giveUp(`--${name} needs a whole number, not "${String(values[name])}".`)
      return value
    }
    return {
      pieces: whole("pieces", 20),
      seed: whole("seed", 1),
      kind: values.kind,
      notes: whole("notes", 50),
      list: values.list ?? false,
      traced: values.traced ?? false,
      two: values.two ?? false,
      unspoiled: values.unspoiled ?? false,
      strict: values.strict ?? false,
      real: values.real ?? false,
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}

function realSounds() {
  const found = realPieces().map(({ name, mei }) => {
    const read = readMei(mei, name)
    if (!read.ok) giveUp(read.problems[0].what)
    return { name, ...soundOf(read.value.page) }
  })
  if (found.length === 0) giveUp("There is no real piece to try.")
  return Array.from({ length: pieces }, () => found).flat()
}

function demos() {
  const names = readdirSync(inRoot("demo")).filter(name => name.endsWith(".figurae"))
  return names.map(name => {
    const read = parseShorthand(readFileSync(inRoot("demo", name), "utf8"), name)
    if (!read.ok) giveUp(read.problems[0].what)
    return { name, ...soundOf(read.value) }
  })
}

/** Pieces whose voices meet as they are read; others would be no sound ground for a slip. */
function invented() {
  const found = []
  for (let at = seed; found.length < pieces; at++) {
    const practice = LAWFUL_PRACTICES[at % LAWFUL_PRACTICES.length]
    const { page } = lawfulPiece(at, { practice, voices: 3 + (at % 2), notes, strict })
    const sound = soundOf(page)
    if (sound.together.meeting.length === page.voices.length) found.push({ name: page.title, ...sound })
  }
  return found
}

function falseAlarms() {
  let alarms = 0
  const times = []
  for (const { name, page } of new Set(sounds)) {
    const start = performance.now()
    const { emendations, firstParting } = propose(page)
    times.push(performance.now() - start)
    if (emendations.length === 0 && firstParting === null) continue
    alarms++
    if (list) console.log(`  ${name}: ${shown(emendations)}${firstParting ? ` parting at ${firstParting.onset}` : ""}`)
  }
  times.sort((a, b) => a - b)
  console.log(
    `\nUnspoiled: ${alarms} of ${times.length} raise a false alarm (${percent(alarms, times.length)} %); ${times[times.length >> 1].toFixed(0)} ms a piece (median), ${times.at(-1).toFixed(0)} at most`,
  )
}

function singles() {
  console.log(
    "\nplace: the true place, within three signs, among the first three; first: a true repair, or one sung alike, is proposed first;",
  )
  console.log("restored: or one after which all but the spot (three signs to each side) is sung as it was")
  console.log("\n                        all slips that change the reading                those that leave a trace")
  console.log(
    "kind of repair         slips   place   first restored   none       slips   place   first restored     ms",
  )
  const sums = [tally(), tally()]
  for (const one of kind ? [kind] : EMENDATION_KINDS) {
    const [all, felt] = [tally(), tally()]
    const start = performance.now()
    // numbers that follow each other by a step begin alike: they would put the slips of a run into one voice
    const draw = randomFrom(seed + one.length)
    const seeds = sounds.map(() => draw.below(2 ** 32))
    sounds.forEach((sound, i) => {
      const slip = plantOne(sound, one, randomFrom(seeds[i]))
      if (slip === undefined || (traced && !slip.felt)) return
      const proposal = propose(slip.page, { steps: 1 })
      const found = judge(sound, slip, proposal)
      for (const count of [all, sums[0], ...(slip.felt ? [felt, sums[1]] : [])]) add(count, found)
      if (list && !found.right && slip.felt)
        console.log(
          `  ${found.near ? "place" : "miss "} ${sound.name}, ${slip.voice} ${slip.from + 1}-${slip.to + 1}: ${shown(proposal.emendations)}`,
        )
    })
    console.log(row(one, all, felt, (performance.now() - start) / Math.max(1, all.n)))
  }
  if (!kind) console.log(row("together", ...sums))
}

function tally() {
  return { n: 0, near: 0, right: 0, restored: 0, silent: 0 }
}
function add(count, { near, right, restored, silent }) {
  count.n++
  if (near) count.near++
  if (right) count.right++
  if (restored) count.restored++
  if (silent) count.silent++
}
function percent(part, whole) {
  return whole === 0 ? "-" : ((100 * part) / whole).toFixed(0)
}
function cell(text, width) {
  return String(text).padStart(width)
}
function row(name, all, felt, ms) {
  const share = (part, whole, width) => cell(percent(part, whole), width - 2) + " %"
  const shares = ({ n, near, right, restored }) => share(near, n, 8) + share(right, n, 8) + share(restored, n, 9)
  const [every, some] = [shares(all) + share(all.silent, all.n, 7), shares(felt)]
  return `${name.padEnd(20)} ${cell(all.n, 7)}${every} ${cell(felt.n, 11)}${some}${ms === undefined ? "" : cell(ms.toFixed(0), 7)}`
}

/** Two slips of different kinds in the same piece, each of which leaves a trace by itself. */
function pairs() {
  const kinds = ["stem-added", "rest-changed", "note-missing", "level-changed", "dot-added", "note-doubled"]
  let [n, both, one, inTurn, alone] = [0, 0, 0, 0, 0]
  sounds.forEach((sound, i) => {
    const first = plantOne(sound, kinds[i % kinds.length], randomFrom(seed + i))
    const second =
      first &&
      plantOne({ page: first.page, together: first.together }, kinds[(i + 1) % kinds.length], randomFrom(seed + 7 * i))
    if (!first?.felt || !second || !leavesTraceAlone(sound, second)) return
    if (first.voice === second.voice && Math.abs(first.from - second.from) < 12) return
    n++
    const { emendations } = propose(second.page)
    const found = [first, second].filter(slip => emendations.some(each => isNear({ ...slip, page: second.page }, each)))
    if (found.length === 2) both++
    if (found.length > 0) one++
    if (areFoundInTurn([first, second], second.page, emendations)) inTurn++
    if ([first, second].every(slip => isFoundAlone(sound, slip))) alone++
    if (list && found.length < 2)
      console.log(
        `  ${sound.name}, ${first.kind} ${first.voice} ${first.from + 1}, ${second.kind} ${second.voice} ${second.from + 1}: ${shown(emendations)}`,
      )
  })
  console.log(
    `\nTwo slips in one piece, both places among what is proposed: ${both} of ${n} (${percent(both, n)} %); at least one: ${one}`,
  )
  console.log(
    `in turn, one among the first three and, when it is accepted, the other among the first three: ${inTurn} (${percent(inTurn, n)} %)`,
  )
  console.log(`each of the two, were it the only one, among the first three: ${alone} (${percent(alone, n)} %)`)
}

/** An editor takes the first of three that stands at a slip, and looks again; or both stand among the three. */
function areFoundInTurn(slips, page, emendations) {
  const three = emendations.filter(({ step }) => step === 1).slice(0, 3)
  const isAt = (slip, on) => each => isNear({ ...slip, page: on }, each)
  if (slips.every(slip => three.some(isAt(slip, page)))) return true
  const taken = three.find(each => slips.some(slip => isAt(slip, page)(each)))
  const after = taken && changed(page, taken.edit.voice, taken.edit)
  if (after === undefined) return false
  const next = propose(after, { steps: 1 }).emendations.slice(0, 3)
  return slips.filter(slip => !isAt(slip, page)(taken)).every(slip => next.some(isAt(slip, after)))
}

function isFoundAlone({ page }, slip) {
  const spoiled = changed(page, slip.voice, slip.edit)
  const { emendations } = propose(spoiled, { steps: 1 })
  return emendations.slice(0, 3).some(each => isNear({ ...slip, page: spoiled }, each))
}

function shown(emendations) {
  return (
    emendations.map(one => `${one.step}: ${one.kind} ${one.place.replace(/, staff 1/, "")} (${one.gain})`).join("; ") ||
    "nothing"
  )
}
