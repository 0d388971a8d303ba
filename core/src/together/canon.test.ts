/** Voices read beside a part that is sung in canon or several times. */
import { describe, expect, test } from "vitest"
import { toText } from "../base/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { fitOf } from "../score/index.js"
import { readTogether } from "./index.js"

function pageOf(text: string) {
  const read = parseShorthand(text)
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems[0]!.what)
  return read.value
}

/**
 * Invented. By itself the bassus would have its first two semibreves before a breve as 2 and 4 (alteration); what the
 * canon lasts is a tempus more than the part itself.
 */
const BASSUS = "voice bassus white practice=white\nclef:F4 O B c3 g c S g a B f c S g a B g c S g a g L c\n"

describe("reading together", () => {
  const canon = "voice cantus white practice=white\nclef:C1 O %C% B c5 S b4 a g B a S g a b B c5 b4 S a b g L c5\n"
  const withWords = (words: string) => pageOf(BASSUS + canon.replace("%C%", words))

  test("the voices meet when the last of the canon has its final", () => {
    const fuga = 'canon:"Fuga duorum temporum"'
    const lasting = (words: string) => fitOf(readPage(withWords(words))).durations.map(Number)
    const [, alone] = lasting("")
    const [, sung] = lasting(fuga)
    expect(sung! - alone!).toBe(12)
    const { meeting, readings } = readTogether(withWords(fuga))
    expect(meeting).toHaveLength(2)
    expect(fitOf(readings).together).toBe(true)
    expect(fitOf(readTogether(withWords("")).readings).together).toBe(false)
    expect(readings[1]!.canon?.voices.map(({ words }) => words)).toEqual(["as written", "2 breves later"])
  })

  test("a tenor sung three times: the cantus is as long as all of them", () => {
    const tenor = 'voice tenor black practice=ars-nova\nclef:C4 C canon:"Tenor dicitur ter" L d3 B e f L d\n'
    const cantus = (breves: number) => `voice cantus black practice=ars-nova\nclef:C1 C ${"B a4 ".repeat(breves)}L a\n`
    const read = (breves: number) => readTogether(pageOf(tenor + cantus(breves)))
    expect(fitOf(read(16).readings)).toMatchObject({ together: true, durations: ["72", "72"] })
    expect(read(16).meeting).toHaveLength(2)
    expect(fitOf(read(4).readings).together).toBe(false)
    expect(toText(read(16).readings[0]!.duration)).toBe("24")
  })
})

describe("what is sung beside a part as it is written is heard", () => {
  const bassus = "voice bassus white practice=white\nclef:F4 O " + "B c3 g c g ".repeat(2) + "B c g L c\n"
  const cantus = (canon: string, notes: string) =>
    `voice cantus white practice=white\nclef:C1 O ${notes}\ndecision on=2.2 ${canon}\n`
  const cost = (canon: string, notes: string) => readTogether(pageOf(bassus + cantus(canon, notes))).cost

  test("in a canon, at the height at which it is sung", () => {
    const at = (interval: string) => cost(`voice voice=(after=1B ${interval})`, "B c5 c c c c c c c c L c")
    expect(at("interval=-8")).toBe(at(""))
    expect(at("interval=2")).toBeGreaterThan(at("") + 3)
    expect(at("interval=7")).toBeGreaterThan(at("") + 3)
  })

  test("in a part that is sung again, when it is", () => {
    const again = (notes: string) => cost("voice then=()", notes)
    // what fits the first time stands over other notes of the bassus the second time
    expect(again("B c5 g4 c5 c L c")).not.toBe(again("B c5 g4 c5 g4 L c5"))
  })
})

test("a part sung several times is as long as the other voices ask, where its own signs allow two lengths", () => {
  // five semibreves between breves: a tempus and two that two breves lose, or the last of them altered
  const tenor = (words: string) => `voice tenor white practice=white\nclef:C4 O ${words} B c4 S d e f g a B f L c\n`
  const cantus = (breves: number) => `voice cantus white practice=white\nclef:C1 O ${"B g4 ".repeat(breves)}L c5\n`
  const read = (breves: number) => readTogether(pageOf(tenor('canon:"Tenor dicitur bis"') + cantus(breves))).readings
  const meeting = [6, 7, 8, 9, 10, 11].filter(breves => fitOf(read(breves)).together)
  expect(meeting).toEqual([8, 10])
  const ofTenor = (breves: number) => read(breves)[0]!.signs.filter(({ kind }) => kind === "note")
  expect(ofTenor(8).map(({ duration }) => toText(duration))).toEqual(["4", "2", "2", "2", "2", "2", "4", "12"])
  expect(ofTenor(10).map(({ duration }) => toText(duration))).toEqual(["6", "2", "2", "2", "2", "4", "6", "12"])
  expect(ofTenor(8)[0]).toMatchObject({ decidedBy: "others", others: { how: "meet", voices: ["cantus"] } })
})
