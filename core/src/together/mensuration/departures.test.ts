/** One voice in another measure than the others: what its own notes say too faintly, all voices together say aloud. */
import { describe, expect, test } from "vitest"
import { parseShorthand, type Page } from "../../page/index.js"
import { readMei } from "../../formats/mei/index.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { motet } from "../testing/motets/compose.js"
import { meiOf } from "../testing/motets/mei.js"
import { departsFrom } from "./departures.js"
import { findMensurations } from "./find.js"
import { ALL_DIVISIONS } from "./measures.js"

const bare = (page: Page): Page => ({
  ...page,
  voices: page.voices.map(({ practice: _, ...voice }) => ({
    ...voice,
    signs: voice.signs.filter(sign => sign.kind !== "mensuration"),
  })),
})
const pieceOf = (seed: number): Page => bare(lawfulPiece(seed, { practice: "ars-nova", notes: 120, mixed: true }).page)

describe("a tenor in imperfect tempus and major prolation below voices in perfect tempus and minor prolation", () => {
  // it has four semibreves or fewer; custom would rather have its tempus and prolation as the others have theirs
  test.each([71029, 71044, 71052])("is found by how all voices sound (%i)", seed => {
    const page = pieceOf(seed)
    const [tenor, ...others] = findMensurations(page, { evidence: true }).voices.toSorted(
      (a, b) => Number(b.label === "tenor") - Number(a.label === "tenor"),
    )
    expect(tenor!.divisions).toMatchObject({ modusMinor: 3, tempus: 2, prolatio: 3 })
    expect(others.map(one => one.divisions)).toMatchObject(others.map(() => ({ tempus: 3, prolatio: 2 })))
    const heard = tenor!.candidates[0]!.evidence.find(one => one.rule === "sounds-together" && one.level === "tempus")
    expect(heard!.weight).toBeGreaterThan(2)
  })
})

test("an upper voice in another modus than the tenor's is found where a note shows it", () => {
  const upper = findMensurations(pieceOf(71011)).voices.filter(one => one.label !== "tenor")
  expect(upper.map(one => one.divisions)).toMatchObject([{ modusMinor: 2 }, { modusMinor: 2 }])
})

test("a tenor of longs alone shows no modus, but its length tells it from that of the others", () => {
  const early = "black practice=ars-nova(minims=unwritten)\nmens:modusmaior=2"
  const upper = "L c4 B d S e f B g L a B b S c5 d e B c L b4 B a S g f B e L d B c S d e f B d L c"
  const tenorOf = (longs: string) => {
    const text = `voice triplum ${early}:modus=3:tempus=2 ${upper}\nvoice tenor ${early}:tempus=2 ${longs}`
    const read = parseShorthand(text)
    if (!read.ok) throw new Error(read.problems[0]?.what)
    return findMensurations(read.value).voices[1]!
  }
  // twenty-four breves up to the final
  const [imperfect, perfect] = [tenorOf("L c3 d e f g a g f e d e d c"), tenorOf("L c3 d e f g f e d c")]
  expect([imperfect.divisions.modusMinor, perfect.divisions.modusMinor]).toEqual([2, 3])
  expect(imperfect.doubts.modusMinor).toBeLessThan(0.3)
  // what is only scaled otherwise is known to be as long, however unlikely it is
  const alike = imperfect.candidates.filter(({ divisions }) => divisions.modusMinor === 2)
  expect(alike.every(one => one.asLongAs !== undefined)).toBe(true)
})

test("what was heard of a voice counts only where the others are as they were then", () => {
  const [then, now] = [ALL_DIVISIONS[0]!, ALL_DIVISIONS[5]!]
  const costs = [undefined, 0, 2.5].map((cost, i) => ({ divisions: ALL_DIVISIONS[i]!, cost }))
  const departs = departsFrom({ commons: [then], trials: [[], costs] }, 1)
  expect(costs.map((_, trial) => departs(trial, then))).toEqual([0, 0, 2.5])
  expect(costs.map((_, trial) => departs(trial, now))).toEqual([0, 0, 0])
})

test("stems of pairs say that tempus is perfect, though the voices sound a little better otherwise", () => {
  // a stem down marks the longer of two in perfect tempus alone (observed in motets of 1315-25)
  for (const seed of [62013, 62072]) {
    const page = readMei(meiOf(motet(seed, "c1320", 60), { seed, named: true, mensur: "none" }))
    if (!page.ok) throw new Error(page.problems[0]?.what)
    expect(findMensurations(page.value.page).voices.map(one => one.divisions.tempus)).not.toContain(2)
  }
})

test("a rest in a tenor of longs lasts its spaces in either modus: the voice is not just scaled", () => {
  const early = "black practice=ars-nova(minims=unwritten)\nmens:modusmaior=2"
  // fourteen breves up to the final, as four longs of three and a rest of two spaces are
  const upper = "B c4 d S e f B g a B c5 b S a g B f e B d c S d e B f L c"
  const read = parseShorthand(
    `voice triplum ${early}:modus=2:tempus=2 ${upper}\nvoice tenor ${early}:tempus=2 L c3 d rL2 e f L c`,
  )
  if (!read.ok) throw new Error(read.problems[0]?.what)
  const perfect = findMensurations(read.value).voices[1]!.candidates.filter(one => one.divisions.modusMinor === 3)
  expect(perfect.some(one => one.asLongAs?.includes("triplum") === true)).toBe(true)
})
