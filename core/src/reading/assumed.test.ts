import { expect, test } from "vitest"
import { signId, voiceId, type VoiceId } from "../base/index.js"
import { parseShorthand, type Page } from "../page/index.js"
import { readPage, readVoice, rereadVoice, type Assumed } from "./index.js"

const DIVISIONS = { modusMaior: 2, modusMinor: 3, tempus: 3, prolatio: 2, doubt: 0.25 } as const

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
const assumed = (of: Page, what: Assumed): ReadonlyMap<VoiceId, Assumed> => new Map([[of.voices[0]!.id, what]])
const durations = (of: Page, what: Assumed) =>
  readPage(of, { assumed: assumed(of, what) })[0]!
    .signs.filter(sign => sign.number > 0)
    .map(sign => sign.duration.num)

test("a voice without a sign is read by the mensuration that is supposed", () => {
  const plain = page("voice a black practice=ars-nova(minims=written)\nB c4 S d B e f g L c")
  expect(durations(plain, { divisions: DIVISIONS }).slice(0, 3)).toEqual([4, 2, 6])
  const [reading] = readPage(plain, { assumed: assumed(plain, { divisions: DIVISIONS }) })
  expect(reading!.mensurations[0]).toMatchObject({ modusMinor: 3, tempus: 3, from: "inferred", doubt: 0.25 })
})
test("a sign goes before what is supposed; of what it does not state that holds on", () => {
  const signed = page("voice a black practice=ars-nova(minims=written)\nC B c4 S d e B e L c B c d e L c")
  const [reading] = readPage(signed, { assumed: assumed(signed, { divisions: DIVISIONS }) })
  expect(reading!.mensurations).toMatchObject([{ modusMinor: 3, tempus: 2, from: "given", doubt: 0 }])
})
test("a practice that is supposed gives way to one that is stated or asked for", () => {
  const practice = { name: "ars-antiqua", doubt: 0.5 }
  const bare = page("voice a black\nL c4 B d L e")
  const asked = readPage(bare, { assumed: assumed(bare, { practice }), practice: { name: "ars-nova" } })
  expect(asked[0]!.practice).toMatchObject({ name: "ars-nova", from: "option", doubt: 0 })
  const supposed = readPage(bare, { assumed: assumed(bare, { practice }) })
  expect(supposed[0]!.practice).toMatchObject({ name: "ars-antiqua", from: "inferred", doubt: 0.5 })
})
test("what is supposed of another voice does not matter", () => {
  const bare = page("voice a black\nL c4 B d L e")
  const other = new Map([[voiceId("nobody"), { divisions: DIVISIONS }]])
  expect(readPage(bare, { assumed: other })).toEqual(readPage(bare))
})

test("a practice that is called otherwise than any known one is found out, as if none were stated", () => {
  const bare = page("voice a black\nL c4 B d L e")
  const called = {
    ...bare,
    voices: bare.voices.map(voice => ({ ...voice, practice: { name: "of the old", options: {} } })),
  }
  const [reading] = readPage(called, { assumed: assumed(called, { practice: { name: "ars-nova", doubt: 0.3 } }) })
  expect(reading!.practice).toMatchObject({ name: "ars-nova", from: "inferred", doubt: 0.3 })
  expect(reading!.problems[0]).toMatchObject({ code: "practice-not-known" })
  const [asked] = readPage(called, { practice: { name: "ars-antiqua" } })
  expect(asked!.practice).toMatchObject({ name: "ars-antiqua", from: "option", doubt: 0 })
})
test("the words of a practice's name may be parted in any way", () => {
  for (const name of ["ars.nova", "Ars nova", "ars_nova", "arsNova"]) {
    const bare = page("voice a black\nL c4 B d L e")
    const [reading] = readPage({
      ...bare,
      voices: bare.voices.map(voice => ({ ...voice, practice: { name, options: {} } })),
    })
    expect(reading!.practice).toMatchObject({ name: "ars-nova", from: "given" })
  }
})

test("a practice may be called anything, also what every object has", () => {
  for (const name of ["constructor", "__proto__", "toString"]) {
    const voices = page("B c4 S d").voices.map(voice => ({ ...voice, practice: { name, options: { [name]: "x" } } }))
    const [reading] = readPage({ ...page("B c4 S d"), voices })
    expect(reading!.problems.map(one => one.code)).toContain("practice-not-known")
  }
})

const CHANGE = { modusMaior: 2, modusMinor: 2, tempus: 2, prolatio: 3 } as const
test("another mensuration may be supposed from a note on, until a sign says one", () => {
  const plain = page("voice a black practice=ars-nova(minims=written)\nB c4 S d B e S f:id=there M g B e C S c d B c")
  const changes = [{ from: signId("there"), divisions: CHANGE, doubt: 0.1 }]
  const divisions = { ...DIVISIONS, changes }
  const [reading] = readPage(plain, { assumed: assumed(plain, { divisions }) })
  expect(reading!.mensurations).toMatchObject([
    { tempus: 3, prolatio: 2, from: "inferred", doubt: 0.25 },
    { tempus: 2, prolatio: 3, from: "inferred", doubt: 0.1 },
    { tempus: 2, prolatio: 2, from: "given", doubt: 0 },
  ])
  // the semibreve loses its third minim to the one that follows
  expect(durations(plain, { divisions })).toEqual([4, 2, 6, 2, 1, 6, 2, 2, 4])
  // a sign that stands before goes over it
  const signed = page("voice a black practice=ars-nova(minims=written)\nO B c4 S d B e S f:id=there M g B e")
  expect(readPage(signed, { assumed: assumed(signed, { divisions }) })[0]!.mensurations).toHaveLength(1)
})
test("after an edit the same is read as anew", () => {
  const plain = page(
    "voice a black practice=ars-nova(minims=written)\nB c4 S d B e S f g a S f:id=there M g B e S c M d B c L d",
  )
  const divisions = { ...DIVISIONS, changes: [{ from: signId("there"), divisions: CHANGE, doubt: 0.1 }] }
  const options = { assumed: assumed(plain, { divisions }) }
  const [voice] = plain.voices
  const before = readVoice(voice!, options)
  voice!.signs.forEach(({ kind }, i) => {
    if (kind !== "note") return
    const edited = { ...voice!, signs: voice!.signs.toSpliced(i, 1) }
    expect(rereadVoice(before, edited, options)).toEqual(readVoice(edited, options))
  })
})
