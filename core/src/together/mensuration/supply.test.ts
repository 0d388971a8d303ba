import { expect, test } from "vitest"
import { newMei, readMei } from "../../formats/mei/index.js"
import { applyChange, parseShorthand, printShorthand, type Page } from "../../page/index.js"
import { readTogether } from "../read-together.js"
import { findMensurations } from "./find.js"
import { supplyFound } from "./supply.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
function supplied(whole: Page) {
  const change = supplyFound(whole, findMensurations(whole, { evidence: true }))
  const done = applyChange(whole, change)
  if (!done.ok) throw new Error(done.problems[0]?.what)
  return done.value
}
const BARE = `voice cantus black
clef:C1
B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c M d e B f
`
const durations = (whole: Page) =>
  readTogether(whole).readings.map(one => one.signs.map(sign => sign.number > 0 && sign.duration))

test("what was found stands on the page as supplied, with its reason, and reads as before", () => {
  const { page: after } = supplied(page(BARE))
  const sign = after.voices[0]!.signs.find(one => one.kind === "mensuration")
  expect(sign).toMatchObject({
    sign: "O",
    tempus: 3,
    prolatio: 2,
    editorial: { kind: "supplied", reason: expect.stringContaining("found from the notes") },
  })
  expect(after.voices[0]!.practice).toMatchObject({ name: "ars-nova" })
  expect(durations(after)[0]!.filter(Boolean)).toEqual(durations(page(BARE))[0]!.filter(Boolean))
})
test("the sign is one that is drawn; where the tempus is stated already, the rest is told in words", () => {
  const signOf = (text: string) => supplied(page(text)).page.voices[0]!.signs.find(one => "editorial" in one)
  const lilting = BARE.replace(
    /B c4[^]*/,
    "S c4 M d S e M f S g M a S g M f S e d M e S f M e S d c M d S e M f B g S c M d L e\n",
  )
  expect(signOf(lilting)).toMatchObject({ sign: "C", dots: 1, prolatio: 3 })
  expect(signOf(BARE.replace("clef:C1", "clef:C1 O"))).not.toHaveProperty("sign")
  // before the Ars nova there are no signs
  expect(signOf("voice tenor black\nclef:C4\nL a3 B g f L g r1 a g f L a B g L f r1 B g a L f\n")).not.toHaveProperty(
    "sign",
  )
})
test("it can be undone", () => {
  const { page: after, undo } = supplied(page(BARE))
  const back = applyChange(after, undo)
  expect(back.ok && back.value.page).toEqual(page(BARE))
})
test("shorthand and MEI keep it as an editor's", () => {
  const { page: after } = supplied(page(BARE))
  const through = parseShorthand(printShorthand(after))
  expect(through.ok && through.value.voices[0]!.signs).toEqual(after.voices[0]!.signs)
  const mei = readMei(newMei(after))
  const sign = mei.ok ? mei.value.page.voices[0]!.signs.find(one => one.kind === "mensuration") : undefined
  expect(sign).toMatchObject({ tempus: 3, editorial: { kind: "supplied" } })
})
test("levels that are stated are not written again; a page that states all is left alone", () => {
  const { page: after } = supplied(page(BARE.replace("clef:C1", "clef:C1 O")))
  const signs = after.voices[0]!.signs.filter(one => one.kind === "mensuration")
  expect(signs).toHaveLength(2)
  expect(signs.find(one => one.editorial)).not.toHaveProperty("tempus")
  const full = page(
    BARE.replace("black", "black practice=ars-nova").replace(
      "clef:C1",
      "clef:C1 mens:modusmaior=2:modus=2:tempus=3:prolatio=2",
    ),
  )
  expect(supplied(full).page).toEqual(full)
})
