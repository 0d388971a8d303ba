/** Voices of which the end, or all, is lost. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand, type Page } from "../page/index.js"
import { explainShort } from "../reading/index.js"
import { fitOf } from "../score/index.js"
import { propose, readTogether } from "./index.js"

function page(...voices: string[]): Page {
  const read = parseShorthand(voices.join("\n"))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}
const voice = (name: string, signs: string): string => `voice ${name} white practice=white\nclef:C3 C\n${signs}`

const CANTUS = voice("cantus", "B g4 S a b B c5 S b4 a B g e f g S a g f e B d L e")
const TENOR = voice("tenor", "B c4 S f3 g B c d c S f e c c B g a f e L c")

describe.each([
  ["its end", "B c4 S f3 g B c other:gap", "32"],
  ["all of it", "other:gap", "44"],
  ["its end, with a rest before", "B c4 S f3 g B c rB other:gap", "28"],
])("of a voice is lost: %s", (_, signs, lasted) => {
  const broken = page(CANTUS, TENOR, voice("bassus", signs))
  const { readings } = readTogether(broken)
  const gap = readings[2]!.signs.find(sign => sign.takenFor === "lacuna")!

  test("it lasted up to the finals of the others, and parts from nobody", () => {
    expect(toText(gap.duration)).toBe(lasted)
    expect(fitOf(readings)).toMatchObject({ together: true, firstParting: null })
    expect(readings[2]!.problems).toMatchObject([
      {
        code: "gap",
        what: `Something is lost in bassus; by the other voices it lasted ${lasted}, up to their finals.`,
      },
    ])
  })
  test("it is told as what it is, and has no final", () => {
    expect(explainShort(readings[2]!, gap)).toBe(
      `Something is lost here; by the other voices it lasted ${lasted} minims.`,
    )
    expect(readings[2]!.signs.some(sign => sign.held)).toBe(false)
  })
  test("nothing else is proposed for it", () => {
    expect(propose(broken)).toMatchObject({ together: true, firstParting: null, emendations: [] })
  })
})

test("an edit behind the last note takes its final, and gives it back", () => {
  const whole = page(CANTUS, voice("bassus", "B c4 S f3 g B c"))
  const broken = page(CANTUS, voice("bassus", "B c4 S f3 g B c other:gap"))
  const first = readTogether(whole)
  const then = readTogether(broken, {}, first)
  const held = (of: typeof first) => of.readings[1]!.signs.filter(sign => sign.held).map(sign => sign.number)
  expect([held(first), held(then), held(readTogether(whole, {}, then))]).toEqual([[4], [], [4]])
})

test("a voice of rests alone that closes early is told by its length, with a gap in it by the others", () => {
  const { readings } = readTogether(page(CANTUS, TENOR, voice("bassus", "rL other:gap rB")))
  expect(fitOf(readings).together).toBe(true)
})

describe("what the others are said to have decided", () => {
  const PLAIN = (signs: string) =>
    page(
      `voice triplum black practice=ars-nova\nclef:C1 C mens:modusmaior=2:modus=2\n${signs}`,
      "voice tenor black practice=ars-nova\nclef:C4 C mens:modusmaior=2:modus=2\nL d3 B f e L d rL2 L g B f d L c rL2 B d3 S f e B d rB B g S f d B c rB L d",
    )
  const NOTES = "B a4 S g f B e f L d B a S g a B f g S a g f e B d f g a S b a g f B e d S e f g f B e S d e "
  test("voices that meet nowhere do not “meet only so”", () => {
    const together = readTogether(PLAIN(`${NOTES}B f g a S g f L e B d c S d e f e B d c B f e L d`))
    expect(fitOf(together.readings).finalsMeet ?? fitOf(together.readings).together).toBe(false)
    const reasons = together.readings.flatMap(one => one.signs.flatMap(sign => sign.others?.how ?? []))
    expect(reasons.length).toBeGreaterThan(0)
    expect(reasons).not.toContain("meet")
  })
})
