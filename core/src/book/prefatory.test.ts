import { describe, expect, test } from "vitest"
import { drawIncipit, type Item, type Mark } from "../drawing/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices } from "../score/index.js"
import { ambitusOf } from "./ambitus.js"
import { prefatoryStaves } from "./prefatory.js"

function piece(text: string) {
  const page = parseShorthand(text, "test")
  if (!page.ok) throw new Error(page.problems[0]!.what)
  return { page: page.value, score: alignVoices(page.value, readPage(page.value)) }
}
const signsOf = (item: Item): string[] => [
  ...(item.sign ? [item.sign] : []),
  ...(item.shape === "group" ? item.content.flatMap(signsOf) : []),
]
const marksOf = (item: Item): Mark[] => (item.shape === "group" ? item.content.flatMap(marksOf) : [item])

describe("the incipit", () => {
  const voice = (text: string) => piece(text).page.voices[0]!
  const signs = (text: string) => [...new Set(signsOf(drawIncipit(voice(text)).group))]
  const idsOf = (text: string, kinds: readonly string[]) =>
    voice(text)
      .signs.filter(one => kinds.includes(one.kind))
      .map(one => one.id)

  test("goes from the clef to the first note with its dot, and has no words", () => {
    const text = "voice cantus\nclef:C1 sig:bf O B r r c4 . S d\n> Ky- ri\n"
    const all = voice(text).signs.map(one => one.id)
    expect(signs(text)).toEqual(all.slice(0, 7))
    expect(marksOf(drawIncipit(voice(text)).group).filter(mark => mark.shape === "text")).toEqual([])
  })
  test("takes a first ligature whole", () => {
    const text = "voice tenor practice=ars-antiqua\nclef:C4 [a3 b] L a\n"
    expect(signs(text)).toEqual(expect.arrayContaining([...idsOf(text, ["clef", "ligature"])]))
    expect(signs(text)).not.toContain(voice(text).signs.at(-1)!.id)
  })
  test("passes a line break and leaves custodes out", () => {
    const text = "voice cantus\nclef:C1 O rB custos:c4 line:2 B c4 d\n"
    expect(signs(text)).not.toContain(idsOf(text, ["custos"])[0])
    expect(signs(text)).toContain(idsOf(text, ["note"])[0])
  })
  test("of a voice that is silent for long is squeezed, and then tells how many rests are not drawn", () => {
    const of = (rests: number) => drawIncipit(voice(`voice bassus\nclef:F4 C ${"rB ".repeat(rests)}B c3\n`))
    expect(of(4).leftOut).toBe(0)
    expect(of(15).leftOut).toBe(0)
    expect(of(15).width).toBeLessThan(25)
    expect(of(200).leftOut).toBeGreaterThan(100)
    expect(of(200).width).toBeLessThan(26)
  })
  test("of a voice without signs is an empty staff", () => {
    const { group, width } = drawIncipit({ ...voice("voice cantus\nB c4\n"), signs: [] })
    expect(width).toBeGreaterThan(0)
    expect(marksOf(group).every(mark => mark.part === "staff")).toBe(true)
  })
})

describe("the range", () => {
  test("is from the lowest to the highest note, by their place on the staff, an accidental counting", () => {
    const { score } = piece("voice cantus practice=ars-nova\nclef:C1 O B c4 g3 bf a S d5 d B e\n")
    const { lowest, highest } = ambitusOf(score.voices[0]!)!
    expect([lowest.step, lowest.octave]).toEqual(["g", 3])
    expect([highest.step, highest.octave]).toEqual(["e", 5])
  })
  test("of a voice without pitches there is none", () => {
    expect(ambitusOf(piece("voice tenor practice=ars-antiqua\nLo Bo Bo Lo\n").score.voices[0]!)).toBeUndefined()
  })
  test("shows an accidental that the signature does not say, a natural too, and no other", () => {
    const accidentals = (signature: string, notes: string) => {
      const { page, score } = piece(`voice cantus practice=ars-nova\nclef:C1 ${signature} O B ${notes}\n`)
      return prefatoryStaves(page, score)
        .staves[0]!.range.flatMap(marksOf)
        .filter(one => one.part === "accidental").length
    }
    expect(accidentals("", "c4 bf")).toBe(1)
    expect(accidentals("sig:bf", "c4 b")).toBe(0)
    expect(accidentals("sig:bf", "c4 bn")).toBe(1)
    expect(accidentals("", "c4 b")).toBe(0)
  })
  test("has ledger lines as far as a head lies beyond the staff", () => {
    const { page, score } = piece("voice cantus practice=ars-nova\nclef:C1 O B a3 c6\n")
    const lines = prefatoryStaves(page, score, { clefs: { from: ["treble"], voices: {} } }).staves[0]!.range
    const ledgers = lines.flatMap(marksOf).filter(one => one.part === "ledger")
    // treble clef: a below middle c needs the line of c and its own; c two octaves above middle c two above f
    expect(ledgers.map(one => (one.shape === "line" ? one.y1 : 0)).sort((a, b) => a - b)).toEqual([-6, -5, 1, 2])
  })
})

describe("all staves of a score", () => {
  test("have old staves of one length; long names are broken, and cut only when a word is beyond measure", () => {
    const { page, score } = piece(
      `voice "contratenor secundus" practice=ars-nova\nclef:C3 O rB rB B c4\nvoice "${"x".repeat(300)}" practice=ars-nova\nclef:C4 O B c4\n`,
    )
    const { staves, width } = prefatoryStaves(page, score)
    const ends = staves.flatMap(({ before }) =>
      before.flatMap(marksOf).flatMap(mark => (mark.part === "staff" && mark.shape === "line" ? [mark.x2] : [])),
    )
    expect(new Set(ends.map(end => end.toFixed(6))).size).toBe(1)
    const names = staves.map(({ before }) => before.flatMap(one => (one.shape === "text" ? [one.text] : [])))
    expect(names[0]).toEqual(["contratenor", "secundus"])
    expect(names[1]![0]).toMatch(/^x{8,}…$/)
    expect(width).toBeLessThan(60)
  })
  test("without them only the names stand there", () => {
    const { page, score } = piece("voice cantus practice=ars-nova\nclef:C1 O B c4 c4\n")
    const { staves, rangeWidth } = prefatoryStaves(page, score, { show: "names" })
    expect(rangeWidth).toBe(0)
    expect(staves[0]!.range).toEqual([])
    expect(staves[0]!.before.map(one => one.shape)).toEqual(["text"])
  })
  test("a score of no voices has none", () => {
    const { page, score } = piece("title: Nothing\n")
    expect(prefatoryStaves({ ...page, voices: [] }, { ...score, voices: [] }).staves).toEqual([])
  })
})
