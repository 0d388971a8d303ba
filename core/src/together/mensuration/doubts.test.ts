import { expect, test } from "vitest"
import { parseShorthand, type Page } from "../../page/index.js"
import { readTogether } from "../read-together.js"
import { readApart } from "./doubts.js"
import { findMensurations } from "./find.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
const UNSIGNED = "voice cantus black practice=ars-nova(minims=written)\nL c4 B d S e f M g a g f e f L c4 B d S e L f"
const SIGNED = UNSIGNED.replace("\nL", "\nmens:modusmaior=2:modus=2:tempus=2:prolatio=2 L")
const doubt = (of: Page, number: number) =>
  readTogether(of).readings[0]!.signs.find(sign => sign.number === number)!.doubt

test("where little shows the mensuration, what depends on it is in doubt, and nothing else", () => {
  const { doubts } = findMensurations(page(UNSIGNED)).voices[0]!
  expect(doubts.prolatio).toBeGreaterThan(0.1)
  // a semibreve holds minims; a long everything below it
  expect(doubt(page(UNSIGNED), 3)).toBeGreaterThanOrEqual(doubts.prolatio)
  expect(doubt(page(UNSIGNED), 1)).toBeGreaterThanOrEqual(Math.max(doubts.modusMinor, doubts.tempus))
  expect(doubt(page(UNSIGNED), 6)).toBeLessThan(0.05)
})
test("where it is stated nothing is added", () => {
  expect(doubt(page(SIGNED), 1)).toBeLessThan(0.05)
  expect(doubt(page(SIGNED), 3)).toBeLessThan(0.05)
})
test("apart from the others a voice is read by what it shows itself", () => {
  const two = page(`${SIGNED.replace("tempus=2", "tempus=3")}\nvoice tenor black practice=ars-nova\nL c3 d e L f`)
  // a tenor of longs shows no tempus: custom has the imperfect one, the other voice states the perfect one
  expect(readApart(two)[1]!.mensurations[0]).toMatchObject({ from: "inferred", tempus: 2 })
  expect(readTogether(two).readings[1]!.mensurations[0]).toMatchObject({ from: "inferred", tempus: 3 })
})
test("where no minim is written a prolation that is not stated puts nothing in doubt: all shares of the breve are the same", () => {
  // a perfect breve holds 6 minims or 9
  const early = "voice triplum black practice=ars-nova(minims=unwritten)\nmens:modusmaior=2:modus=2:tempus=3"
  const body = " B c4 S d e B f S d e f B g L a B c S d e B f L g"
  const shares = (prolation: string, breve: number) =>
    readTogether(page(`${early}${prolation}${body}`))
      .readings[0]!.signs.filter(sign => sign.kind === "note" && !sign.held)
      .map(({ duration, doubt }) => [duration.num / duration.den / breve, doubt < 0.05])
  const open = readTogether(page(`${early}${body}`)).readings[0]!
  expect(findMensurations(page(`${early}${body}`)).voices[0]!.doubts.prolatio).toBeGreaterThan(0.1)
  const found = shares("", open.mensurations[0]!.prolatio === 3 ? 9 : 6)
  expect(found.every(([, sure]) => sure)).toBe(true)
  for (const parts of [2, 3] as const) expect(shares(`:prolatio=${parts}`, 3 * parts)).toEqual(found)
})
test("where no minim is written, only what is another share of the breve in the other tempus is in doubt for it", () => {
  // pairs are a third and two thirds of a perfect breve, halves of an imperfect one; threes are thirds of both (observed of motets)
  const early = "voice triplum black practice=ars-nova(minims=unwritten)\nmens:modusmaior=2:modus=3"
  const [one] = readTogether(page(`${early} L c4 B d S e f B g S a b c L d B e S f g a B b S c d L c`)).readings
  const doubts = one!.signs
    .filter(sign => sign.kind === "note" && !sign.held)
    .map(sign => [sign.level, sign.doubt > 0.1])
  const [whole, open] = [
    ["longa", false],
    ["semibrevis", true],
  ]
  const [breve, three] = [
    ["brevis", false],
    ["semibrevis", false],
  ]
  expect(doubts).toEqual([
    whole,
    breve,
    open,
    open,
    breve,
    three,
    three,
    three,
    whole,
    breve,
    three,
    three,
    three,
    breve,
    open,
    open,
  ])
})
test("a breve of two parts, or a prolation, that the file states speaks against Ars antiqua", () => {
  const body = "L c4 B d S e f B g L a B c S d e f B g S a b L c"
  const practiceUnder = (stated: string) =>
    findMensurations(page(`voice triplum black\nmens:modus=3${stated} ${body}`)).voices[0]!.practice
  expect(practiceUnder(":tempus=3")).toMatchObject({ name: "ars-antiqua" })
  for (const stated of [":tempus=2", ":tempus=3:prolatio=2"]) {
    const { name, doubt } = practiceUnder(stated)
    expect([name, doubt < 0.1]).toEqual(["ars-nova", true])
  }
})
test("what makes no note of a voice longer or shorter puts none in doubt", () => {
  // longs and breves of six minims: perfect tempus and minor prolation, or the other way round
  const upper = "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e M f g B a"
  const both = page(
    `voice cantus black practice=ars-nova(minims=written)\nO:modusmaior=2:modus=2 ${upper}\nvoice tenor black practice=ars-nova(minims=written)\nmens:modusmaior=2:modus=2 L c3 d e B f e L d c d e f`,
  )
  const [, tenor] = findMensurations(both).voices
  const [, reading] = readTogether(both).readings
  const most = Math.max(...reading!.signs.map(sign => sign.doubt))
  expect(tenor!.candidates.filter(one => one.chance > 0.05 && one.lengthens)).toEqual([])
  expect(most).toBeLessThan(tenor!.doubts.tempus / 2)
})

test("where another practice may be meant, what it measures otherwise is in doubt as well", () => {
  // plain pairs and threes without a sign: about 1300 their breve holds three, ten or twenty years later perhaps two
  const body = (pitch: string) => `L ${pitch} B d S e f g B g L a B c S d e f B g S a b c B d S e f B g L c`
  const whole = page(`voice triplum black\n${body("c4")}\nvoice tenor black\n${body("c3")}`)
  for (const alone of [false, true]) {
    const [one] = findMensurations(whole, { alone }).voices
    const other = one!.practice.candidates[1]!
    expect(one!.practice.candidates[0]!.name).toBe("ars-antiqua")
    expect(other.chance).toBeGreaterThan(0.02)
    // of plain semibreves nothing here tells the tempus, and custom has the imperfect one about as often as not, or oftener
    expect(one!.doubts.tempus).toBeGreaterThan(0.6 * other.chance)
    expect(one!.doubts.tempus).toBeLessThan(2 * other.chance)
  }
  // the same where that practice is stated
  const stated = page(`voice triplum black practice=ars-antiqua\n${body("c4")}`)
  expect(findMensurations(stated).voices[0]!.doubts.tempus).toBe(0)
})
test("where heads may be void or full, the customs of both bear on the measure", () => {
  const perfectTempus = (notation: string): number =>
    findMensurations(page(`voice cantus ${notation}\nL c4 d S e M f g L a d e`))
      .voices[0]!.candidates.filter(one => one.divisions.tempus === 3)
      .reduce((sum, { chance }) => sum + chance, 0)
  const [white, open, black] = ["white", "", "black"].map(perfectTempus)
  expect(open).toBeGreaterThan(white!)
  expect(open).toBeLessThan(black!)
})
