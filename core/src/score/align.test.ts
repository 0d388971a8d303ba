import { describe, expect, test } from "vitest"
import { ratio, signId, toText } from "../base/index.js"
import type { Page, Sign } from "../page/index.js"
import { parseShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices, notate, quartersPerMinute, soundingAccidental } from "./index.js"
import { PIECES } from "./testing/pieces.js"
import { signsFrom, testPiece } from "./testing/readings.js"

const align = (piece: ReturnType<typeof testPiece>) => alignVoices(piece.page, piece.readings)

describe("alignVoices", () => {
  test("holds each final to the common end and says so; what the reading gave is kept", () => {
    const score = align(
      testPiece([
        { label: "cantus", signs: signsFrom("d4:2 e4:4 d4:6") },
        { label: "tenor", signs: signsFrom("d3:6 c3:12") },
      ]),
    )
    expect(toText(score.duration)).toBe("18")
    const finals = score.voices.map(voice => voice.events.at(-1)!)
    expect(finals).toMatchObject([
      { held: true, duration: ratio(12), readDuration: ratio(6) },
      { held: true, duration: ratio(12), readDuration: ratio(12) },
    ])
    expect(score.problems).toEqual([])
  })
  test("says where voices part and by how much, and stretches nothing before the finals", () => {
    const score = align(
      testPiece([
        { label: "cantus", signs: signsFrom("d4:2 e4:3 d4:6") },
        { label: "motetus", signs: signsFrom("d4:2 e4:4 d4:6") },
        { label: "tenor", signs: signsFrom("d3:6 c3:6") },
      ]),
    )
    expect(score.fit.firstParting).toEqual({ onset: "5", signs: ["1.3"] })
    expect(score.voiceFits.map(({ label, by }) => [label, toText(by)])).toEqual([
      ["cantus", "-1"],
      ["motetus", "0"],
      ["tenor", "0"],
    ])
    expect(score.problems).toMatchObject([{ code: "voices-part", where: { sign: "1.3" } }])
    expect(score.problems[0]!.what).toContain("cantus is 1 minim short")
    expect(toText(score.voices[0]!.events.at(-1)!.onset)).toBe("5")
  })
  test("a voice that ends in a rest, or has no sign, is silent to the end", () => {
    const score = align(
      testPiece([
        { label: "cantus", signs: signsFrom("d4:2 r:2") },
        { label: "tenor", signs: signsFrom("d3:8") },
        { label: "none", signs: [] },
      ]),
    )
    expect(score.voices[0]!.events.at(-1)).toMatchObject({
      kind: "rest",
      id: null,
      onset: ratio(4),
      duration: ratio(4),
    })
    expect(score.voices[2]!.events).toMatchObject([{ kind: "rest", id: null, duration: ratio(8) }])
  })
  test("brackets ligatures from first to last note, and runs of coloured notes over rests", () => {
    const score = align(
      testPiece([{ label: "cantus", signs: signsFrom("d4:2~ e4:2~ f4:2 g4:1* r:1 g4:1* a4:2 b4:1*") }]),
    )
    expect(score.voices[0]!.brackets).toEqual([
      { kind: "ligature", from: "1.1", to: "1.3" },
      { kind: "coloration", from: "1.4", to: "1.6" },
      { kind: "coloration", from: "1.8", to: "1.8" },
    ])
  })
  test("reports a sign without a duration and signs that overlap, and goes on", () => {
    const piece = testPiece([{ label: "cantus", signs: signsFrom("d4:2 e4:2 f4:2") }])
    const [reading] = piece.readings
    const [first, second, third] = reading!.signs
    const signs = [first!, { ...second!, duration: ratio(0) }, { ...third!, onset: ratio(1) }]
    const score = alignVoices(piece.page, [{ ...reading!, signs }])
    expect(score.problems.map(({ code, where }) => [code, where?.sign])).toEqual([
      ["no-duration", "1.2"],
      ["overlap", "1.3"],
    ])
    expect(score.voices[0]!.events.map(({ id, onset }) => [id, toText(onset)])).toEqual([
      ["1.1", "0"],
      ["1.3", "2"],
    ])
  })
  test("a page without the voice still gives a score of the reading", () => {
    const piece = testPiece([{ label: "cantus", signs: signsFrom("d4:2 e4:2") }])
    const score = alignVoices({ ...piece.page, voices: [] }, piece.readings)
    expect(score.voices[0]!.events.length).toBe(2)
  })
})

describe("accidentals on a modern staff", () => {
  const flat = { accidental: "f" }
  /** Each note as its pitch, and "written" where the page has its accidental before it; bars of six minims. */
  function shown(notes: string, written: readonly number[], key = false) {
    const signs = signsFrom(notes).map((sign, i) =>
      written.includes(i) ? { ...sign, note: { ...sign.note, ...flat } } : sign,
    )
    const mensurations = [{ onset: ratio(0), tempus: 3 as const, prolatio: 2 as const }]
    const score = align(testPiece([{ label: "v", signs, flats: key, mensurations }]))
    const items = notate(score).blocks.flatMap(block => block.layers[0]!)
    return items.flatMap(item => (item.kind === "sign" && item.part === 0 ? [item.accidental?.kind ?? "-"] : []))
  }
  test.each([
    ["written once, in force to the end of the bar", "bf4:2 bf4:2 a4:2", [0], false, ["written", "-", "-"]],
    ["in force beyond the bar: a reminder", "bf4:6 bf4:4 bf4:2", [0], false, ["written", "reminder", "-"]],
    ["no longer in force in its bar: a reminder", "bf4:2 b4:4 a4:6", [0], false, ["written", "reminder", "-"]],
    ["another octave", "bf4:2 b3:4", [0], false, ["written", "-"]],
    ["the signature says it", "bf4:2 bf4:4 bf4:6", [], true, ["-", "-", "-"]],
    ["against the signature", "b4:2 bf4:4", [], true, ["reminder", "reminder"]],
  ])("%s", (_, notes, written, key, expected) => {
    expect(shown(notes, written, key)).toEqual(expected)
  })
  test.each([
    ["fx4", "s"],
    ["bs4", "n"],
    ["ex4", "n"],
    ["ff4", "n"],
    ["cs4", "s"],
    ["ef4", "f"],
    ["d4", "n"],
  ])("%s is %s today: a sharp is mi, a flat is fa", (pitch, expected) => {
    const score = align(testPiece([{ label: "v", signs: signsFrom(`${pitch}:2`) }]))
    const [note] = score.voices[0]!.events
    expect(note?.kind === "note" && soundingAccidental(note)).toBe(expected)
  })
})

test("a later signature stands at the note that follows it", () => {
  const piece = testPiece([{ label: "v", signs: signsFrom("d4:2 e4:2 f4:2") }])
  const key: Sign = { kind: "signature", id: signId("key"), accidentals: [{ step: "b", accidental: "f" }] }
  const [voice] = piece.page.voices
  const page: Page = { ...piece.page, voices: [{ ...voice!, signs: voice!.signs.toSpliced(1, 0, key) }] }
  const score = alignVoices(page, piece.readings)
  expect(score.voices[0]!.signatures.map(({ onset }) => toText(onset))).toEqual(["2"])
})

test("the speed is one of the practice, whatever the reduction", () => {
  const { page, readings } = PIECES.oldMotet()
  const score = alignVoices(page, readings)
  expect(toText(quartersPerMinute(score))).toBe("100")
  expect(toText(quartersPerMinute(score, { reduction: 16 }))).toBe("50")
})

test("marks stand at the note that follows them, or at the voice's end", () => {
  const text = 'voice v ars-nova\nrepeat-start C B c4 signum d4 repeat-end B e4 text:"hic"\n'
  const parsed = parseShorthand(text, "marks")
  if (!parsed.ok) throw new Error(parsed.problems[0]!.what)
  const score = alignVoices(parsed.value, readPage(parsed.value))
  const [first, second, third] = score.voices[0]!.events.map(event => toText(event.onset))
  expect(score.voices[0]!.marks.map(({ of, onset, text }) => [of, toText(onset), text])).toEqual([
    ["repeat-start", first, undefined],
    ["signum-congruentiae", second, undefined],
    ["repeat-end", third, undefined],
    ["text", toText(score.duration), "hic"],
  ])
})
