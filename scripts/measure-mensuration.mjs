// node scripts/measure-mensuration.mjs [--pieces N] [--notes N] [--voices N] [--seed S] [--practice NAME] [--bare] [--read] [--stated] [--turns] [--kind WORD]
// Takes every mensuration out of invented lawful pieces, the demos and the real pieces (if they are there), and prints how
// often it is found again, level by level, and whether the doubt can be trusted. "Not shown" are those of the others in which
// no note before the final would last otherwise under the right mensuration than under the one that was found; where minims are
// not written, measured in breves, for nothing there tells how many minims a breve has. --bare takes out the practices too;
// --read also reads the invented pieces by what was found and counts the right notes (a stroke through a sign goes with it);
// --stated also states levels wrongly, of all voices and of one, and puts two voices in different mensurations one after the other; --turns takes all
// signs out of pieces that change their mensuration (--kind: only of those whose name in the table has the word, and nothing
// else is measured), and of such as do not, some with a note left out.
import { readdirSync, readFileSync } from "node:fs"
import { parseArgs } from "node:util"
import { bundled } from "./lib/bundle.mjs"
import { measureSigns } from "./lib/measure-signs.mjs"
import { measureTurns } from "./lib/measure-turns.mjs"
import { realPieces } from "./lib/pieces.mjs"
import { giveUp, inRoot } from "./lib/tools.mjs"

const LEVELS = ["modusMaior", "modusMinor", "tempus", "prolatio"]
const WORDS = { modusMinor: "modus minor", tempus: "tempus", prolatio: "prolatio" }
const isSign = sign => sign.kind === "mensuration"
const BINS = [0.01, 0.05, 0.1, 0.2, 0.4, 0.7, 1]
const { pieces, notes, voices, seed, practice, bare, read, stated, turns, kind } = options()
const made = await bundled(`
  export { findMensurations, readTogether } from "./core/src/together/index.ts"
  export { lawfulVoice } from "./core/src/reading/testing/lawful.ts"
  export { signChange } from "./core/src/together/testing/special.ts"
  export { lawfulPiece, LAWFUL_PRACTICES } from "./core/src/together/testing/lawful-piece.ts"
  export { parseShorthand } from "./core/src/page/shorthand/index.ts"
  export { readMei } from "./core/src/formats/mei/index.ts"
  export { readPage, readVoice } from "./core/src/reading/index.ts"`)
const {
  findMensurations,
  lawfulPiece,
  lawfulVoice,
  LAWFUL_PRACTICES,
  parseShorthand,
  readMei,
  readPage,
  readTogether,
  readVoice,
} = made
if (practice !== undefined && !LAWFUL_PRACTICES.includes(practice))
  giveUp(`There are no lawful pieces of "${practice}"; there are some of ${LAWFUL_PRACTICES.join(", ")}.`)

if (kind !== undefined) {
  measureTurns(made, { pieces, seed, notes, kind })
  process.exit()
}
const newBins = () => BINS.map(bound => ({ bound, all: 0, wrong: 0, expected: 0 }))
const bins = { alike: newBins(), mixed: newBins() }
console.log(
  `${pieces} invented pieces of each practice, ${voices} voices of about ${notes} notes, without mensurations${bare ? " and practices" : ""}`,
)
console.log(
  "\n                        voices  practice     all  not shown  modus maior  modus minor  tempus  prolatio  ms a piece",
)
for (const name of practice ? [practice] : LAWFUL_PRACTICES)
  for (const mixed of name === "ars-antiqua" || name === "divided-breves" ? [false] : [false, true])
    invented(name, mixed)
printCalibration()
if (stated) {
  statedWrongly()
  measureSigns(made, { pieces, seed, notes: Math.ceil(notes / 2) })
  changed()
}
if (turns) measureTurns(made, { pieces, seed, notes })
console.log(
  "\nDemos and real pieces: what the file states, and what was found without it (- a level that the practice has not)",
)
for (const name of readdirSync(inRoot("demo")).filter(file => file.endsWith(".figurae")))
  told(name, parseShorthand(readFileSync(inRoot("demo", name), "utf8")).value)
for (const { name, mei } of realPieces()) told(name, readMei(mei).value.page)

function options() {
  const text = { type: "string" }
  const flag = { type: "boolean", default: false }
  try {
    const asked = {
      pieces: text,
      notes: text,
      voices: text,
      seed: text,
      practice: text,
      bare: flag,
      read: flag,
      stated: flag,
      turns: flag,
      kind: text,
    }
    const { values } = parseArgs({ options: asked })
    const number = (name, otherwise) => {
      const value = Math.trunc(Number(values[name] ?? otherwise))
      if (!Number.isFinite(value) || value < 1)
        giveUp(`--${name} needs a number from 1, not "${String(values[name])}".`)
      return value
    }
    const numbers = [number("pieces", 40), number("notes", 120), number("voices", 3), number("seed", 1)]
    const [pieces, notes, voices, seed] = numbers
    return {
      pieces,
      notes,
      voices,
      seed,
      practice: values.practice,
      bare: values.bare,
      read: values.read,
      stated: values.stated,
      turns: values.turns,
      kind: values.kind,
    }
  } catch (problem) {
    return giveUp(problem.message)
  }
}

/** The page without signs of mensuration in the definitions of its voices; what is stated later stays. */
function stripped(page) {
  const voice = one => ({
    ...one,
    practice: bare ? undefined : one.practice && { name: one.practice.name, options: {} },
    signs: one.signs.filter(sign => sign.kind !== "mensuration" || !beginsVoice(one, sign)),
  })
  return { ...page, voices: page.voices.map(voice) }
}

function beginsVoice({ signs }, sign) {
  const first = signs.findIndex(one => one.kind === "note" || one.kind === "rest" || one.kind === "ligature")
  return signs.indexOf(sign) < (first < 0 ? Infinity : first)
}

function invented(name, mixed) {
  const count = {
    voices: 0,
    practice: 0,
    all: 0,
    notShown: 0,
    ms: 0,
    notes: 0,
    right: 0,
    inBreves: 0,
    ...Object.fromEntries(LEVELS.map(l => [l, 0])),
  }
  for (let i = 0; i < pieces; i++) {
    const piece = lawfulPiece(seed + i, { practice: name, notes, voices, mixed })
    const page = stripped(piece.page)
    const before = performance.now()
    const found = findMensurations(page)
    count.ms += performance.now() - before
    const truth = readPage(piece.page)
    found.voices.forEach((one, v) => {
      const voice = piece.page.voices[v]
      const isRight = tally(count, bins[mixed ? "mixed" : "alike"], one, truth[v], voice)
      if (!isRight && !isShown(page.voices[v], one, truth[v].mensurations[0], name === "ars-nova-early"))
        count.notShown++
    })
    if (read) countNotes(count, readTogether(page).readings, piece.durations, breves(truth, found.voices))
  }
  const share = of => `${((100 * count[of]) / count.voices).toFixed(1)} %`
  const cells = [
    [count.voices, 8],
    [share("practice"), 10],
    [share("all"), 8],
    [share("notShown"), 11],
    ...LEVELS.map((level, k) => [share(level), [13, 13, 8, 10][k]]),
    [(count.ms / pieces).toFixed(0), 12],
  ]
  const own = read
    ? `   ${notesOf(count.right, count)} % of notes right, in breves ${notesOf(count.inBreves, count)} %`
    : ""
  console.log(
    `${name}${mixed ? ", mixed" : ""}`.padEnd(22) +
      cells.map(([text, width]) => String(text).padStart(width)).join("") +
      own,
  )
}

function tally(count, own, found, truth, voice) {
  const span = truth.mensurations[0]
  const wrong = LEVELS.filter(level => span[level] !== null && found.divisions[level] !== span[level])
  count.voices++
  if (found.practice.name === voice.practice.name) count.practice++
  if (wrong.length === 0) count.all++
  for (const level of LEVELS) {
    if (!wrong.includes(level)) count[level]++
    if (span[level] === null) continue
    const bin = own.find(one => found.doubts[level] <= one.bound)
    bin.all++
    bin.expected += found.doubts[level] / 2
    if (wrong.includes(level)) bin.wrong++
  }
  return wrong.length === 0
}

/** A note before the final lasts otherwise, the voice read by itself under what was found and under what is right. */
function isShown(voice, { practice, divisions }, span, isPlain) {
  const right = Object.fromEntries(LEVELS.map(level => [level, span[level] ?? divisions[level]]))
  const lengths = of => {
    const assumed = { practice: { name: practice.name, doubt: 0 }, divisions: { ...of, doubt: 0 } }
    const { signs } = readVoice(voice, { assumed: new Map([[voice.id, assumed]]) })
    const breve = isPlain ? of.tempus * of.prolatio : 1
    return signs.map(({ number, held, duration: { num, den } }) =>
      number > 0 && !held ? (num / den / breve).toFixed(9) : "",
    )
  }
  return lengths(right).join() !== lengths(divisions).join()
}

/** Minims of a breve in every voice: as they are, and as they were found; undefined where these have not one proportion. */
function breves(truth, found) {
  const minims = of => of.tempus * of.prolatio
  const all = truth.map(({ mensurations: [span] }, v) => [
    minims({ ...found[v].divisions, ...known(span) }),
    minims(found[v].divisions),
  ])
  return all.every(([is, was]) => is * all[0][1] === was * all[0][0]) ? all[0] : undefined
}

function known(span) {
  return Object.fromEntries(LEVELS.filter(level => span[level] !== null).map(level => [level, span[level]]))
}

function countNotes(count, readings, durations, own) {
  const [is, was] = own ?? [1, 1]
  for (const { signs } of readings)
    for (const sign of signs) {
      const lasts = durations.get(sign.id)
      if (lasts === undefined || sign.held || sign.kind !== "note") continue
      const { num, den } = sign.duration
      count.notes++
      if (lasts.num === num && lasts.den === den) count.right++
      if (lasts.num * den * was === num * lasts.den * is) count.inBreves++
    }
}

function notesOf(some, { notes: all }) {
  return ((100 * some) / all).toFixed(2)
}

/** Doubt is twice the estimated chance of being wrong: half of it should be met. */
function printCalibration() {
  console.log("\nOf the levels with a doubt up to … : how many, how many of them wrong, how many the doubt expects")
  for (const [kind, own] of Object.entries(bins)) {
    console.log(kind === "alike" ? "voices in one mensuration" : "voices in mensurations drawn by lot, one by one")
    for (const { bound, all, wrong, expected } of own) {
      if (all === 0) continue
      const cells = [`${((100 * wrong) / all).toFixed(2)} % wrong`, `${((100 * expected) / all).toFixed(2)} % expected`]
      console.log(
        `${String(bound).padStart(8)}${String(all).padStart(8)}${cells.map(text => text.padStart(18)).join("")}`,
      )
    }
  }
}

function told(name, page) {
  const truth = readPage(page)
  const found = findMensurations(stripped(page))
  console.log(name)
  found.voices.forEach((one, v) => {
    const span = truth[v].mensurations[0]
    const levels = of => LEVELS.map(level => (span[level] === null ? "-" : of[level])).join(" ")
    const right = LEVELS.every(level => span[level] === null || span[level] === one.divisions[level])
    console.log(
      `  ${one.label.padEnd(14)} ${levels(span)}   found ${levels(one.divisions)}   doubt ${one.doubt.toFixed(2)}${right ? "" : "   not so"}`,
    )
  })
}

/** A voice that contradicts its own sign should say so, and no other should. */
function statedWrongly() {
  console.log("\nStated mensurations: problems with right ones, and found where a level is stated wrongly")
  for (const name of practice ? [practice] : LAWFUL_PRACTICES) {
    const count = { voices: 0, alarms: 0, modusMinor: 0, tempus: 0, prolatio: 0, wrong: 0 }
    for (let i = 0; i < Math.ceil(pieces / 2); i++) {
      const { page } = lawfulPiece(seed + i, { practice: name, notes, voices })
      const problems = of => findMensurations(of, { evidence: true }).voices.map(one => one.problems)
      count.voices += page.voices.length
      count.alarms += problems(page).filter(own => own.length > 0).length
      if (!page.voices.some(one => one.signs.some(isSign))) continue
      count.wrong += page.voices.length
      for (const [level, word] of Object.entries(WORDS)) {
        const turn = sign => {
          const levels = Object.fromEntries(LEVELS.map(one => [one, one === level ? 5 - sign[one] : sign[one]]))
          return { kind: "mensuration", id: sign.id, initial: true, ...levels }
        }
        const turned = one => ({ ...one, signs: one.signs.map(sign => (isSign(sign) ? turn(sign) : sign)) })
        const found = problems({ ...page, voices: page.voices.map(turned) })
        count[level] += found.filter(own => own.some(({ what }) => what.includes(word))).length
      }
    }
    const shares = Object.keys(WORDS).map(level => `${level} ${count[level]} of ${count.wrong}`)
    console.log(
      `  ${name.padEnd(16)} ${count.alarms} of ${count.voices}${count.wrong > 0 ? `; ${shares.join(", ")}` : ""}`,
    )
  }
}

/** A change of tempus or prolation that no sign states should be proposed, near its place. */
function changed() {
  console.log(
    "\nChanges without a sign after 120 notes: of so many voices, proposed, within ten signs, with the right mensuration",
  )
  const page = one => ({ title: "", voices: [one], shapes: [], surfaces: [], zones: [], alternatives: [] })
  for (const name of ["ars-nova", "white"])
    for (const length of [30, 60, 120]) {
      const count = [0, 0, 0, 0]
      for (let i = 0; i < 2 * pieces; i++) {
        const [one, other] = [
          lawfulVoice(seed + i, { practice: name, notes: 120, label: "a" }).voice,
          lawfulVoice(seed + 1000 + i, { practice: name, notes: length, label: "b" }).voice,
        ]
        const [a, b] = [one, other].map(voice => voice.signs.find(isSign))
        if (a.tempus === b.tempus && a.prolatio === b.prolatio) continue
        const signs = [one, other].flatMap(voice => voice.signs.filter(sign => !isSign(sign) && sign.kind !== "clef"))
        const [found] = findMensurations(page({ ...one, signs }), { evidence: true }).voices
        const flat = signs.flatMap(sign => (sign.kind === "ligature" ? sign.members : [sign])).map(sign => sign.id)
        const isNew = change => change.divisions.tempus === b.tempus && change.divisions.prolatio === b.prolatio
        const isOld = change => change.divisions.tempus === a.tempus && change.divisions.prolatio === a.prolatio
        const change = found.changes.find(isNew) ?? found.changes.find(isOld) ?? found.changes[0]
        count[0]++
        if (change === undefined) continue
        count[1]++
        const at = flat.indexOf(isNew(change) ? change.from : (change.until ?? change.from))
        if (Math.abs(at - flat.findIndex(id => id.startsWith("b."))) <= 10) count[2]++
        if (isNew(change) || isOld(change)) count[3]++
      }
      console.log(`  ${name}, to one of ${length} notes: ${count.join(", ")}`)
    }
}
