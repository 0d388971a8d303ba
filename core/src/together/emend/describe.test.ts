/** What stands in the list tells emendations apart. */
import { expect, test } from "vitest"
import { parseShorthand, type Page } from "../../page/index.js"
import { readTogether } from "../read-together.js"
import { signCandidates, subjectOf } from "./candidates.js"
import { describe } from "./describe.js"
import { propose } from "./propose.js"
import { changed } from "./changed-page.js"
import { signId } from "../../base/index.js"

const PAGE = `voice cantus white practice=white
clef:C1 O
B c5 S d . M c S b4 black{B a S b} S c5 a b B c
voice tenor white practice=white
clef:C4 O
B c4 g3 f c c L c
`
function page(): Page {
  const read = parseShorthand(PAGE)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

test("notes that could be supplied at one place are told by level, dot and colour", () => {
  const whole = page()
  const voice = whole.voices[0]!
  const subject = subjectOf(whole, voice, ["x1", "x2"].map(signId), false)
  const [now] = readTogether(whole).readings
  const edge = subject.figures.find(({ sign }) => sign.kind === "note" && sign.coloration === "black")!
  const missing = [...signCandidates(subject)].filter(
    ({ kind, from }) => kind === "note-missing" && from === edge.index,
  )
  const words = missing.map(one => {
    const after = changed(whole, voice.id, one.edit)!
    return describe(subject, one, now!, readTogether(after).readings[0]!).after
  })
  expect(new Set(words).size).toBe(words.length)
  expect(words).toContain("semibrevis with a dot before brevis a4")
  expect(words).toContain("black semibrevis before brevis a4")
})

test("rests alike that stand for a gap are counted", () => {
  const read = parseShorthand(`voice cantus white practice=white
clef:C1 C
B g4 S a b B c5 S b4 a B g e f g S a g f e B d L e
voice tenor white practice=white
clef:C4 C
B g3 L c`)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const lost = propose(read.value)!.emendations.find(one => one.kind === "passage-missing")
  expect(lost?.after).toBe("a gap before longa c3, written as rests: brevis, 4 × longa (2 spaces), brevis")
})

test("a double longa read as another level is no longer double", () => {
  const read = parseShorthand("voice tenor black practice=ars-antiqua\nL c4 d:duplex e B f L g")
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const subject = subjectOf(read.value, read.value.voices[0]!, ["x1", "x2"].map(signId), false)
  const changes = [...signCandidates(subject)].filter(one => one.kind === "level-changed" && one.from === 1)
  expect(changes.map(one => one.edit.in[0])).toMatchObject([{ level: "maxima" }, { level: "brevis" }])
  for (const one of changes) expect(one.edit.in[0]).not.toHaveProperty("duplex")
})

test("a voice without a name is told as a voice, not as a number of notes", () => {
  const read = parseShorthand(`voice 1 white practice=white
clef:C1 C
B g4 S b c5 c M c B b4 S c5 g d c c c B b4 S g g a c5 c b4 c5 c B c S b4 a B b L c5
voice 2 white practice=white
clef:C4 C
B c4 S d e f e B d S e c g g f e B d S c b3 c4 e f d e f B e S d c B d L c`)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const [best] = propose(read.value)!.emendations
  expect(best?.why).toMatch(/^The voices meet at their finals again\. \d+ notes of voice 1 begin in discord/)
})
