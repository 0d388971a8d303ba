/** Real pieces read by the rules alone agree with an independent modern transcription. */
import { readMei, readPage, readTogether, type Page, type Reading } from "@resolutio/core"
import { describe, expect, it } from "vitest"
// @ts-expect-error -- a script without types
import { realPieces } from "./lib/pieces.mjs"
// @ts-expect-error -- a script without types
import { compare } from "./lib/transcription.mjs"

interface Compared {
  readonly parts: number
  readonly quarters: string
  readonly voices: readonly VoiceCompared[]
}
interface VoiceCompared {
  readonly duration: string
  readonly notes: number
  readonly agreeing: number
  readonly rests: number
  readonly leftOut: number
  readonly differing: readonly string[]
}
interface Piece {
  readonly name: string
  readonly mei: string
  readonly modern: string
  readonly except: readonly string[]
}
const compared = compare as (
  page: Page,
  readings: readonly Reading[],
  modern: string,
  except?: readonly string[],
) => Compared
const pieces = (realPieces as () => Piece[])()

function read(mei: string): { page: Page; readings: Reading[] } {
  const result = readMei(mei)
  if (!result.ok) throw new Error(result.problems[0]?.what)
  const { page } = result.value
  return { page, readings: readPage(page, { ignoreGiven: true }) }
}

describe.skipIf(pieces.length === 0).each(pieces)("$name", ({ mei, modern, except }) => {
  const { page, readings } = read(mei)
  const { parts, quarters, voices } = compared(page, readings, modern, except)
  it("has as many parts as voices, and its voices are equally long", () => {
    expect(parts).toBe(voices.length)
    expect(voices).toHaveLength(5)
    expect(new Set(voices.map(one => one.duration)).size).toBe(1)
  })
  it("has a half note for a minim throughout", () => {
    expect(quarters).toBe("2")
  })
  it.each(voices.map((voice, at) => ({ n: at + 1, voice })))(
    "voice $n agrees in 98 of 100 notes and in all rests",
    ({ voice }) => {
      expect(voice.notes).toBeGreaterThan(50)
      expect(voice.leftOut).toBeLessThan(12)
      expect(voice.agreeing / voice.notes, voice.differing.join("\n")).toBeGreaterThanOrEqual(0.98)
      expect(voice.rests).toBeGreaterThan(0)
      expect(voice.notes - voice.agreeing, `rests differ: ${voice.differing.join("\n")}`).toBe(voice.differing.length)
    },
  )
  const shares = (read: Page) => {
    const together = readTogether(read, { ignoreGiven: true })
    expect(together.meeting).toHaveLength(5)
    return compared(read, together.readings, modern, except).voices.map(one => one.agreeing / one.notes)
  }
  it("read together, the voices meet, and 99 of 100 notes agree", () => {
    for (const share of shares(page)) expect(share).toBeGreaterThanOrEqual(0.99)
  })
  it("the same with every mensuration taken out of the file, and the practice", () => {
    const voices = page.voices.map(voice => ({
      ...voice,
      practice: undefined,
      signs: voice.signs.filter(sign => sign.kind !== "mensuration"),
    }))
    for (const share of shares({ ...page, voices })) expect(share).toBeGreaterThanOrEqual(0.98)
  })
})

describe("the comparison itself, on a piece of our own making", () => {
  const note = (step: string, duration: number, more = "") =>
    `<note><pitch><step>${step}</step><octave>4</octave></pitch><duration>${duration}</duration>${more}</note>`
  const rest = (duration: number) => `<note><rest/><duration>${duration}</duration></note>`
  const score = (...notes: string[]) =>
    `<score-partwise><part id="P1"><measure number="1"><attributes><divisions>3</divisions></attributes>${notes.join("")}</measure></part></score-partwise>`
  const head = `<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><music><body><mdiv><score><scoreDef><staffGrp>
    <staffDef n="1" notationtype="mensural.white" tempus="2" prolatio="2"/></staffGrp></scoreDef><section><staff n="1"><layer>`
  const tail = "</layer></staff></section></score></mdiv></body></music></mei>"
  const { page, readings } = read(`${head}
    <note xml:id="a" dur="semibrevis" pname="c" oct="4"/><note xml:id="b" dur="minima" pname="d" oct="4"/><rest dur="minima"/><rest dur="minima"/>
    <note xml:id="c" dur="minima" pname="d" oct="4"/><note xml:id="d" dur="minima" pname="d" oct="4"/><note xml:id="e" dur="brevis" pname="c" oct="4"/>
    ${tail}`)
  const one = (...notes: string[]) => compared(page, readings, score(...notes)).voices[0]!
  const tieStart = '<tie type="start"/>'
  const tieStop = '<tie type="stop"/>'

  it("joins ties and rests, and leaves the final out", () => {
    const same = [
      note("C", 6, tieStart),
      note("C", 6, tieStop),
      note("D", 6),
      rest(12),
      note("D", 6),
      note("D", 6),
      note("C", 99),
    ]
    expect(one(...same)).toMatchObject({ notes: 4, agreeing: 4, rests: 1, leftOut: 1, differing: [] })
  })
  it("leaves out a blackened passage, with the notes in it that are black by their shape", () => {
    const sign = (step: string, dur: string, more = "") => `<note dur="${dur}" pname="${step}" oct="4"${more}/>`
    const black = ' colored="true"'
    const passage = [sign("c", "semibrevis", black), sign("d", "semiminima"), sign("c", "semibrevis", black)]
    const made = read(
      `${head}${sign("g", "brevis").repeat(4)}${passage.join("")}${sign("e", "semiminima")}${sign("c", "brevis")}${tail}`,
    )
    const modern = score(
      ...Array<string>(4).fill(note("G", 24)),
      note("C", 4),
      note("D", 2),
      note("C", 4),
      note("E", 3),
      note("C", 24),
    )
    expect(compared(made.page, made.readings, modern).voices[0]).toMatchObject({ notes: 5, agreeing: 5, leftOut: 4 })
  })
  it("sees one wrong duration, a missing note and a note too many", () => {
    const [c, d, r] = [note("C", 12), note("D", 6), rest(12)]
    expect(one(c, note("D", 9), r, d, d, c)).toMatchObject({
      notes: 4,
      agreeing: 3,
      differing: ["b (1) against 3 quarters"],
    })
    expect(one(c, d, r, d, c)).toMatchObject({ notes: 4, agreeing: 3, rests: 1 })
    expect(one(c, d, r, d, note("E", 6), d, c)).toMatchObject({ notes: 5, agreeing: 4 })
    expect(one(c, d, rest(9), d, d, c)).toMatchObject({
      agreeing: 4,
      differing: [expect.stringContaining("against 3 quarters") as string],
    })
  })
})
