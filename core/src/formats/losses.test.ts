/** Each format says what it cannot carry: of a piece that has it, and not of one that has not. */
import { describe, expect, test } from "vitest"
import { alignVoices, type Score } from "../score/index.js"
import { everything } from "../score/testing/everything.js"
import { withHands } from "../score/testing/hands.js"
import { PIECES } from "../score/testing/pieces.js"
import { signsFrom, testPiece } from "../score/testing/readings.js"
import { modernMeiCannotCarry } from "./mei/modern/index.js"
import { midiCannotCarry } from "./midi/index.js"
import { musicXmlCannotCarry } from "./musicxml/index.js"

const score = ({ page, readings }: ReturnType<typeof testPiece>): Score => alignVoices(page, readings)
const FORMATS = { musicXml: musicXmlCannotCarry, modernMei: modernMeiCannotCarry, midi: midiCannotCarry }
type Format = keyof typeof FORMATS

const strange = testPiece([
  {
    label: "Ténor 音",
    signs: [...signsFrom("d4:1/7 d4:1/9 d4:1/11 d4:1/13 d4:1/17 d4:3"), { duration: { num: 1, den: 1 }, pitch: "d44" }],
  },
  { label: "b", signs: signsFrom("d4:3").map(sign => ({ ...sign, note: { ...sign.note, accidental: "1qf" } })) },
])
const handed = ({ page, readings }: ReturnType<typeof testPiece>) => alignVoices(withHands(page), readings)
const supplied = handed(testPiece([{ label: "v", signs: signsFrom("d4:4 e4:4 r:4 f4:4 g4:4") }]))
const plain = testPiece([{ label: "v", signs: signsFrom("d4:4 e4:4") }])

describe("said where it is so, and only there", () => {
  test.each<[Format, Score, RegExp[]]>([
    ["musicXml", everything(), [/coloured \(red\)/, /2 plicas/, /share of 1 plica is left open/, /ids of 23 signs/]],
    ["musicXml", score(PIECES.threeSigns()), [/Measures of each voice/]],
    ["musicXml", score(strange), [/pitch of 1 note/, /1 accidental that/, /10080th/]],
    [
      "modernMei",
      everything(),
      [/coloured \(red\)/, /1 signum/, /2 plicas/, /share of 1 plica is left open/, /ids of 23 signs/],
    ],
    ["musicXml", supplied, [/brackets around 2 notes .* the heads/, /How 1 rest of an editor is/]],
    ["modernMei", supplied, [/^How 3 notes and rests of an editor are/]],
    ["midi", everything(), [/1 further stanza/, /8 marks of repeats/, /3 signa, rubrics/, /1 plica whose pitch/]],
    ["midi", score(PIECES.threeSigns()), [/The meters of Contratenor and Tenor/]],
    ["midi", score(strange), [/Latin-1, in 1 text/, /1 note without a pitch/, /nearest tick/]],
  ])("%s %#", (format, made, told) => {
    const sentences = FORMATS[format](made)
    const least = FORMATS[format](score(plain)).join("\n")
    for (const pattern of told) {
      expect(sentences.filter(sentence => pattern.test(sentence))).toHaveLength(1)
      expect(least).not.toMatch(pattern)
    }
  })
  test.each<[Format, RegExp[]]>([
    ["musicXml", [/^1 line that notes written whole sound over/, /shape of 2 finals written as one long note/]],
    ["modernMei", [/^How long \d notes written whole over a line sound/]],
  ])("notes written whole: %s", (format, told) => {
    const over = testPiece([
      { label: "a", signs: signsFrom("d4:2 e4:4 f4:2 g4:4") },
      { label: "b", signs: signsFrom("d3:8 e3:4") },
    ])
    const conventions = { overLines: "whole", finals: "long" } as const
    const sentences = FORMATS[format](score(over), conventions)
    for (const pattern of told) expect(sentences.filter(sentence => pattern.test(sentence))).toHaveLength(1)
    expect(FORMATS[format](score(over)).join("\n")).not.toMatch(/written whole|written as one long/)
  })
  test.each(Object.entries(FORMATS))("%s: sentences that a person can read, each once", (_, cannotCarry) => {
    for (const made of [everything(), score(strange), score(PIECES.oldMotet()), score(testPiece([]))]) {
      const sentences = cannotCarry(made)
      expect(new Set(sentences).size).toBe(sentences.length)
      for (const sentence of sentences) expect(sentence).toMatch(/^[A-Z0-9].*\.$/)
    }
  })
  test("who supplied something, and why, is not in files that show what was supplied; of sounds nothing is", () => {
    const said = (format: Format) => FORMATS[format](score(plain))[0]
    for (const format of ["musicXml", "modernMei"] as const) expect(said(format)).toContain("who supplied or emended")
    expect(said("midi")).toContain("what an editor marked there as supplied")
  })
  test("what is written small or like the rest has no brackets to lose", () => {
    const lost = (chosen: "small" | "none") => musicXmlCannotCarry(supplied, { supplied: chosen }).join("\n")
    expect(lost("small")).not.toContain("Square brackets")
    expect(lost("small")).toContain("1 rest of an editor")
    expect(lost("none")).not.toContain("of an editor")
  })
})
