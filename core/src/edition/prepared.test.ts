import { describe, expect, test } from "vitest"
import { alignVoices, type Score } from "../score/index.js"
import { everything } from "../score/testing/everything.js"
import { PIECES } from "../score/testing/pieces.js"
import { signsFrom, testPiece } from "../score/testing/readings.js"
import { parseShorthand } from "../page/index.js"
import { readPage } from "../reading/index.js"
import { conventionsInWords, conventionsWith, type EditionConventions } from "./index.js"
import { preparedBy } from "./prepared.js"

const prepared = (score: Score, chosen: Partial<EditionConventions>) => preparedBy(score, conventionsWith(chosen))
const sung = (notes: string, chosen: Partial<EditionConventions> = {}) => {
  const { page, readings } = testPiece([{ label: "v", signs: signsFrom(notes) }])
  const [voice] = prepared(alignVoices(page, readings), chosen).voices
  return voice!.events.flatMap(event =>
    event.kind === "note" ? event.syllables.map(({ text, join }) => `${text}${join}`) : [],
  )
}

describe("lines after the last syllable of a word", () => {
  test("where it is sung to several notes up to the next", () => {
    expect(sung("d4:1|one e4:1 f4:1|two g4:1|three")).toEqual(["one_", "two ", "three "])
    expect(sung("d4:1|on- e4:1 f4:1|ly g4:1 a4:1|so")).toEqual(["on-", "ly_", "so "])
  })
  test("not over a rest, nor after the last: a tenor's first word would reach through the piece", () => {
    expect(sung("d4:1|one e4:1 r:1 f4:1|two g4:1")).toEqual(["one ", "two "])
  })
  test("as the file has them, or none", () => {
    const notes = "d4:1|one_ e4:1 f4:1|two g4:1 a4:1|so"
    expect(sung(notes, { extenders: "source" })).toEqual(["one_", "two ", "so "])
    expect(sung(notes, { extenders: "none" })).toEqual(["one ", "two ", "so "])
  })
})

test("stanzas and italics as asked", () => {
  const syllables = (chosen: Partial<EditionConventions>) =>
    prepared(everything(), chosen).voices[0]!.events.flatMap(event => (event.kind === "note" ? event.syllables : []))
  expect(syllables({}).some(({ stanza }) => stanza === 2)).toBe(true)
  expect(syllables({}).some(({ italic }) => italic)).toBe(true)
  expect(syllables({ stanzas: "first" }).every(({ stanza }) => stanza === 1)).toBe(true)
  expect(syllables({ suppliedText: "plain" }).some(({ italic }) => italic)).toBe(false)
})

test("brackets as asked", () => {
  const kinds = (chosen: Partial<EditionConventions>) =>
    new Set(prepared(everything(), chosen).voices.flatMap(voice => voice.brackets.map(({ kind }) => kind)))
  expect(kinds({})).toEqual(new Set(["ligature", "coloration"]))
  expect(kinds({ ligatures: "none" })).toEqual(new Set(["coloration"]))
  expect(kinds({ coloration: "none" })).toEqual(new Set(["ligature"]))
})

test("a plica with its time is a note after the one that bears it, inside the same ligature", () => {
  const { page, readings } = PIECES.oldMotet()
  const score = alignVoices(page, readings)
  const before = score.voices[1]!
  const [, bearer, plica] = prepared(score, { plicas: "dotted-slur" }).voices[1]!.events
  expect(bearer).toMatchObject({ id: "2.2", duration: { num: 3, den: 2 } })
  expect(bearer).not.toHaveProperty("plica")
  expect(plica).toMatchObject({ id: "2.2.plica", plicaOf: "2.2", duration: { num: 1, den: 2 }, pitch: { step: "a" } })
  expect(before.events[1]!.duration).toEqual({ num: 2, den: 1 })
  expect(before.brackets[0]!.to).toBe("2.2")
  expect(prepared(score, { plicas: "dotted-slur" }).voices[1]!.brackets[0]!.to).toBe("2.2.plica")
})

test("a dot that an editor supplied is told where it lengthens, and not where it parts", () => {
  const page = parseShorthand(
    "voice v black practice=ars-nova\nC S a4 . :supplied M g S a . M g O B a S g . :supplied S f B g L a\n",
    "piece",
  )
  if (!page.ok) throw new Error("not read")
  const readings = readPage(page.value)
  expect(readings[0]!.signs.filter(({ kind }) => kind === "dot").map(({ takenFor }) => takenFor)).toEqual([
    "punctus-additionis",
    "punctus-additionis",
    "punctus-divisionis",
  ])
  const hands = (chosen: Partial<EditionConventions>) =>
    prepared(alignVoices(page.value, readings), chosen).voices[0]!.events.flatMap(event =>
      event.kind === "note" && event.dotHand ? [[event.id, event.dotHand]] : [],
    )
  expect(hands({})).toEqual([["1.2", "supplied"]])
  expect(hands({ supplied: "none" })).toEqual([])
})

test("what an editor supplied or corrected is told, within a ligature too, unless it is to look like the rest", () => {
  const page = parseShorthand(
    "voice v black practice=ars-nova\nC B a4 g:supplied [a b]:corr f:unclear g:add rB:supplied a\n",
    "piece",
  )
  if (!page.ok) throw new Error("not read")
  const score = alignVoices(page.value, readPage(page.value))
  const hands = (chosen: Partial<EditionConventions>) =>
    prepared(score, chosen).voices[0]!.events.map(({ hand }) => hand ?? "-")
  expect(hands({})).toEqual(["-", "supplied", "corr", "corr", "-", "-", "supplied", "-"])
  expect(hands({ supplied: "small" })).toEqual(hands({}))
  expect(hands({ supplied: "none" })).toEqual(hands({}).map(() => "-"))
  const said = (chosen: Partial<EditionConventions>) => conventionsInWords(conventionsWith(chosen), score).join(" ")
  expect(said({})).toContain("in square brackets are the editor’s")
  expect(said({ supplied: "small" })).toContain("Small notes and rests are the editor’s")
  expect(conventionsInWords(conventionsWith({}), everything()).join(" ")).not.toContain("square brackets are")
})
