import { describe, expect, test } from "vitest"
import { ratio, signId } from "../base/index.js"
import type { Decision, Note } from "../page/index.js"
import { alignVoices } from "../score/index.js"
import { randomPiece, signsFrom, testPiece, type TestSign, type TestVoice } from "../score/testing/readings.js"
import { proposalsUpTo, proposeFicta, withFicta, type FictaOpen, type FictaProposal } from "./index.js"

/** "f4:2!" is written with an accidental that the page has ("fs4:2!", "bf4:2!"). */
function signs(text: string): TestSign[] {
  return text.split(" ").map(token => {
    const [sign] = signsFrom(token.replace("!", ""))
    if (!token.includes("!")) return sign!
    const accidental = /^[a-g]([sf]?)/.exec(token)![1]! || "n"
    return { ...sign!, note: { ...sign!.note, accidental } satisfies Partial<Note> }
  })
}
interface Options {
  readonly practice?: string
  readonly labels?: readonly string[]
  readonly decisions?: readonly Decision[]
}
function ficta(voices: readonly string[], { practice = "white", labels = [], decisions }: Options = {}) {
  const { page, readings } = testPiece(
    voices.map((text, i): TestVoice => ({
      label: labels[i] ?? `voice ${i + 1}`,
      practice,
      unit: practice === "ars-antiqua" ? "tempus" : "minima",
      signs: signs(text),
    })),
  )
  const full = decisions ? { ...page, decisions } : page
  const score = alignVoices(full, readings)
  return { page: full, score, ...proposeFicta(full, score) }
}
const told = ({ sign, accidental, grade, rule }: FictaProposal) => `${sign} ${accidental} ${grade} ${rule}`
const proposed = (voices: readonly string[], options?: Options) => ficta(voices, options).proposals.map(told)
const left = ({ sign, rule }: FictaOpen) => `${sign} ${rule}`

describe("by need", () => {
  test("a diminished fifth on a beat: the b gives way, for its flat belongs to the system", () => {
    expect(proposed(["c4:4 f4:4 e4:4", "c3:4 b2:4 c3:4"], { practice: "ars-nova" })).toEqual([
      "2.2 f likely false-fifth",
    ])
    expect(proposed(["c4:4 f4:4 g4:4", "c3:4 b2:4 g2:4"])).toEqual(["2.2 f required false-fifth"])
  })
  test("one that resolves by step inwards may be sung as it stands", () => {
    expect(proposed(["c4:4 f4:4 e4:4", "c3:4 b2:4 c3:4"])).toEqual(["2.2 f optional false-fifth"])
  })
  test("a false octave; what the source has stays", () => {
    expect(proposed(["d4:4 ef4:4! d4:4", "d3:4 e3:4 d3:4"])).toEqual(["2.2 f required false-octave"])
    const { proposals, open } = ficta(["d4:4 ef4:4! d4:4", "d3:4 e3:4! d3:4"])
    expect(proposals).toEqual([])
    expect(open.map(left)).toEqual(["1.2 false-octave"])
  })
  test("a chain of flats is followed through all voices", () => {
    expect(proposed(["g4:4 bf4:4! a4:4", "c4:4 e4:4 d4:4", "e3:4 e3:4 d3:4"])).toEqual([
      "3.1 f required same-note",
      "2.2 f required same-note",
      "3.2 f required false-fifth",
    ])
  })
  test("where the source has both ends, the clash is told and stays", () => {
    const { open } = ficta(["g4:4 b4:4! a4:4", "c4:4 e4:4 d4:4", "c3:4 bf2:4! d3:4"])
    expect(open.map(left)).toContain("1.2 false-octave")
  })
  test("voices that would want the opposite are not contradicted", () => {
    // b needs a flat under f, and an f sharp over b in the third voice is fixed by the source
    const { proposals, open } = ficta(["fs4:4! g4:4", "f4:4 g4:4", "b2:4 g2:4"])
    const notes = proposals.map(({ note }) => note)
    expect(new Set(notes).size).toBe(notes.length)
    expect([...proposals.map(told), ...open.map(left)]).toEqual(["2.1 s required false-octave"])
  })
  test("only notes that begin together, and over the lowest voice", () => {
    expect(proposed(["f4:4 g4:4", "c3:2 b2:2 c3:4"])).toEqual([])
    expect(proposed(["f5:4 g5:4", "b4:4 c5:4", "d3:4 e3:4"])).toEqual([])
  })
  test("in the thirteenth century a fourth is a concord", () => {
    const voices = ["b3:3 c4:3", "f3:3 c3:3"]
    expect(proposed(voices, { practice: "ars-antiqua" })).toEqual(["1.1 f required false-fourth"])
    expect(proposed(voices)).toEqual([])
  })
  test("a tenor by that name in three voices gives way last", () => {
    const voices = ["d5:4 g5:4 a5:4", "g4:4 f4:4 e4:4", "a2:4 b2:4 g2:4"]
    expect(proposed(voices, { practice: "ars-nova" })).toContain("3.2 f required false-fifth")
    expect(proposed(voices, { practice: "ars-nova", labels: ["cantus", "contra", "Tenor"] })).toContain(
      "2.2 s required false-fifth",
    )
  })
  test("tritones leapt or filled in one voice", () => {
    expect(proposed(["f4:4 b4:4 a4:4"])).toEqual(["1.2 f required tritone-leap"])
    expect(proposed(["f4:2 g4:2 a4:2 b4:2 a4:4 g4:4"])).toEqual(["1.4 f likely tritone-run"])
    expect(proposed(["f4:2 g4:2 a4:2 b4:2 c5:4"])).toEqual([])
  })
  test("the source's accidental holds on while the note comes again at once", () => {
    expect(proposed(["fs4:2! f4:2 f4:2 g4:2"])).toEqual(["1.2 s required repeated-note", "1.3 s required same-note"])
    expect(proposed(["fs4:2! e4:2 f4:2 g4:2"])).toEqual([])
    expect(proposed(["fs4:2! f4:2! g4:4"])).toEqual([])
  })
})

describe("by beauty", () => {
  test("sixth to octave: the leading note of a close is raised", () => {
    expect(proposed(["g4:4 f4:4 g4:8", "g3:4 a3:4 g3:8"])).toEqual(["1.2 s likely sixth-to-octave"])
  })
  test("where a semitone is there already, nothing", () => {
    expect(proposed(["e4:4 d4:4 e4:8", "e3:4 f3:4 e3:8"])).toEqual([])
    expect(proposed(["d5:4 b4:4 c5:8", "c4:4 d4:4 c4:8"])).toEqual([])
  })
  test("third to unison and tenth to octave, with the rising voice below", () => {
    expect(proposed(["a3:4 e4:4 d4:8", "d3:4 c4:4 d4:8"])).toEqual(["2.2 s likely third-to-unison"])
    expect(proposed(["a4:4 e5:4 d5:8", "d3:4 c4:4 d4:8"])).toEqual(["2.2 s likely third-to-unison"])
  })
  test("both upper voices are raised in the fourteenth century, later the second only perhaps", () => {
    const voices = ["c5:4 f4:4 g4:8", "a3:4 c4:4 d4:8", "c3:4 a2:4 g2:8"]
    expect(proposed(voices, { practice: "ars-nova" })).toEqual([
      "1.2 s likely sixth-to-octave",
      "2.2 s likely third-to-fifth",
    ])
    expect(proposed(voices)).toEqual(["1.2 s likely sixth-to-octave", "2.2 s optional third-to-fifth"])
  })
  test("with the third below the final, an anticipation, or a turn", () => {
    expect(proposed(["g4:4 f4:2 e4:2 g4:8", "g3:4 a3:4 g3:8"])).toEqual(["1.2 s likely sixth-to-octave"])
    expect(proposed(["g4:4 f4:2 g4:2 g4:8", "g3:4 a3:4 g3:8"])).toEqual(["1.2 s likely sixth-to-octave"])
    expect(proposed(["g4:4 f4:1 e4:1 f4:2 g4:8", "g3:4 a3:4 g3:8"])).toEqual([
      "1.2 s likely same-note",
      "1.4 s likely sixth-to-octave",
    ])
  })
  test("not where another voice would be in the way", () => {
    const { proposals, open } = ficta(["g4:4 f4:4 g4:8", "d5:4 f5:4! d5:8", "g3:4 a3:4 g3:8"])
    expect(proposals).toEqual([])
    expect(open.map(left)).toEqual(["1.2 sixth-to-octave"])
  })
  test("within a phrase one may", () => {
    expect(proposed(["g4:2 f4:2 g4:2 a4:2 c5:8", "g3:2 a3:2 g3:2 f3:2 c3:8"])).toEqual([
      "1.2 s optional sixth-to-octave",
    ])
  })
  test("a single note above la is fa, if nothing goes beyond", () => {
    expect(proposed(["g4:2 a4:2 b4:2 a4:2 g4:4"])).toEqual(["1.3 f likely note-above-la"])
    expect(proposed(["c5:2 a4:2 b4:2 a4:2 g4:4"])).toEqual(["1.3 f optional note-above-la"])
    expect(proposed(["g4:2 a4:2 b4:2 c5:2 g4:4"])).toEqual([])
  })
  test("e over d is fa where the b sung near it are flat, or most of the voice's", () => {
    expect(proposed(["bf4:2! d5:2 e5:2 d5:2 c5:4"])).toEqual(["1.3 f likely note-above-la"])
    const far = "c5:2 d5:2 c5:2 d5:2 c5:2 g4:2 g4:2 c5:2 c5:2"
    expect(proposed([`bf4:2! ${far} d5:2 e5:2 d5:2 c5:4`])).toEqual(["1.12 f likely note-above-la"])
    // one flat far away is no hexachord
    expect(proposed([`bf4:2! b4:2! b4:2! ${far} d5:2 e5:2 d5:2 c5:4`])).toEqual([])
  })
})

describe("an editor's decisions", () => {
  const voices = ["c4:4 f4:4 g4:4", "c3:4 b2:4 g2:4"]
  const id = signId("decision-1")
  test("what is refused is not proposed again; another remedy is", () => {
    const decisions: Decision[] = [{ id, sign: signId("2.2"), notAccidental: ["f"] }]
    expect(proposed(["g4:4 f4:4 g4:4", voices[1]!], { decisions })).toEqual(["1.2 s required false-fifth"])
  })
  test("what is accepted stands over the note and is not proposed", () => {
    const { score, proposals } = ficta(voices, { decisions: [{ id, sign: signId("2.2"), accidental: "f" }] })
    expect(proposals).toEqual([])
    const note = score.voices[1]!.events[1]!
    expect(note).toMatchObject({ pitch: { step: "b", accidental: "f" }, written: { accidental: "f", byEditor: true } })
  })
  test("nothing overrules the source", () => {
    const { score } = ficta(["bf4:4! a4:4"], { decisions: [{ id, sign: signId("1.1"), accidental: "n" }] })
    expect(score.voices[0]!.events[0]).toMatchObject({ pitch: { accidental: "f" }, written: { byEditor: false } })
  })
})

test("the score is sung with what is chosen, up to a grade", () => {
  const { score, ...found } = ficta(["g4:2 a4:2 b4:2 a4:2 f4:4 b4:4", "r:16"])
  expect(found.proposals.map(({ grade }) => grade)).toEqual(["likely", "required"])
  const sung = withFicta(score, proposalsUpTo(found, "required")).voices[0]!.events
  expect(sung.map(event => event.kind === "note" && event.pitch?.accidental)).toEqual(["", "", "", "", "", "f"])
  expect(sung[5]).toMatchObject({ written: { accidental: "f", byEditor: true } })
  expect(proposalsUpTo(found, "likely")).toHaveLength(2)
})

test("every proposal says why, against what, and on what it rests", () => {
  const { proposals } = ficta(["c4:4 f4:4 g4:4", "c3:4 b2:4 g2:4"])
  expect(proposals[0]).toMatchObject({
    cause: "need",
    interval: "diminished fifth",
    against: "1.2",
    reason: "With the voice 1 there is a diminished fifth: mi is not sung against fa in a fifth.",
    source: { treatise: "Ars nova, c. 1320" },
    onset: ratio(4),
  })
})

describe("200 random pieces", () => {
  const pieces = Array.from({ length: 200 }, (_, i) => {
    const { page, readings } = randomPiece(i + 1)
    const score = alignVoices(page, readings)
    return { page, score, found: proposeFicta(page, score) }
  })
  test("one proposal for a note; none for what the source has", () => {
    for (const { found, score } of pieces) {
      const notes = found.proposals.map(({ note }) => note)
      expect(new Set(notes).size).toBe(notes.length)
      const written = new Set(
        score.voices.flatMap(({ events }) => events.flatMap(e => (e.kind === "note" && e.written ? [e.id] : []))),
      )
      expect(notes.filter(note => written.has(note))).toEqual([])
    }
    expect(pieces.reduce((sum, { found }) => sum + found.proposals.length, 0)).toBeGreaterThan(100)
  })
  test("sung with all of them, no false octave is left but those that are told", () => {
    for (const { page, score, found } of pieces) {
      const again = proposeFicta(page, withFicta(score, found.proposals))
      const octaves = again.proposals.filter(({ rule }) => rule === "false-octave" || rule === "false-fifth")
      expect(octaves).toEqual([])
    }
  })
})
