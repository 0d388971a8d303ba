/** Every encoding of the standard's special cases comes out as the right sign; real pieces lose nothing. */
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { ratio } from "../../base/index.js"
import { flatSigns, type Sign, type Voice } from "../../page/index.js"
import { newMei, readMei } from "./index.js"
import { mensuralSchema, piece, standard, standardsIn } from "./testing/standards.js"

const read = (text: string) => mustWork(readMei(text)).page

const cases = standard("examples/special-cases.mensural.mei")

describe.skipIf(cases === undefined)("the special cases of the mensural module", () => {
  const page = cases === undefined ? undefined : read(cases)
  const [triplum, cantus, tenor] = page?.voices ?? []

  it("are read without a problem", () => {
    expect(readMei(cases!).problems).toEqual([])
    expect(page!.voices.map(voice => [voice.label, voice.lines, voice.notation, voice.practice?.name])).toEqual([
      ["Triplum", 5, "black", "ars-antiqua"],
      ["Cantus", 6, "black", "trecento"],
      ["Tenor", 5, "white", undefined],
    ])
  })

  const expected: [string, Voice | undefined, object][] = [
    ["a clef of the definition", triplum, { kind: "clef", shape: "C", line: 2, initial: true }],
    ["a clef in attributes", tenor, { kind: "clef", shape: "C", line: 4, initial: true }],
    [
      "a signature with its octave",
      triplum,
      { kind: "signature", accidentals: [{ step: "b", accidental: "f", octave: 3 }], initial: true },
    ],
    ["levels in attributes", triplum, { kind: "mensuration", modusMinor: 3, tempus: 3, initial: true }],
    ["the letter of a divisio", cantus, { kind: "mensuration", letter: "sg", initial: true }],
    [
      "a cut reversed half circle",
      tenor,
      {
        kind: "mensuration",
        sign: "C",
        strokes: 1,
        reversed: true,
        modusMaior: 2,
        modusMinor: 2,
        tempus: 2,
        prolatio: 2,
        initial: true,
      },
    ],
    ["a folio break", triplum, { kind: "break", of: "folio", n: "1r", zone: "s1" }],
    ["a line break with its region", cantus, { kind: "break", of: "line", n: "1", zone: "z1" }],
    ["a rest of one space", triplum, { kind: "rest", level: "brevis", spaces: ratio(1), loc: 4 }],
    ["a rest of two spaces", triplum, { kind: "rest", spaces: ratio(2), loc: 2 }],
    ["a rest of three spaces", triplum, { kind: "rest", spaces: ratio(3), loc: 2 }],
    ["a rest of one third", triplum, { kind: "rest", level: "semibrevis", spaces: ratio(1, 3) }],
    ["a rest of two thirds", triplum, { kind: "rest", level: "semibrevis", spaces: ratio(2, 3) }],
    ["a duplex longa", triplum, { kind: "note", level: "longa", duplex: true }],
    [
      "a plica with two strokes",
      triplum,
      {
        kind: "note",
        plica: { direction: "down", strokes: 2 },
        stems: [
          { direction: "down", position: "left", length: 2 },
          { direction: "down", position: "right", length: 5 },
        ],
      },
    ],
    ["a signum perfectionis", triplum, { kind: "stroke", form: "signum-perfectionis" }],
    ["a divisio modi", triplum, { kind: "stroke", form: "divisio-modi" }],
    ["a signum rotundum", triplum, { kind: "stroke", form: "signum-rotundum" }],
    ["a ligature with its words", triplum, { kind: "ligature", form: "recta", propriety: "cum", perfection: "cum" }],
    ["a conjunctura", triplum, { kind: "ligature", conjunctura: true }],
    ["a suspirium", triplum, { kind: "stroke", form: "suspirium", length: 2, loc: 6 }],
    ["a finis punctorum", triplum, { kind: "stroke", form: "finis-punctorum", length: 8 }],
    ["a custos", triplum, { kind: "custos", pitch: { step: "c", octave: 4 } }],
    ["a stem down", cantus, { kind: "note", level: "semibrevis", stems: [{ direction: "down" }] }],
    ["a slanting tail", cantus, { kind: "note", stems: [{ direction: "sw", form: "oblique" }] }],
    ["a pontellus", cantus, { kind: "dot", form: "pontellus" }],
    ["a dragma", cantus, { kind: "note", shape: "dragma", given: { num: 4, numbase: 3 } }],
    [
      "a flag",
      cantus,
      { kind: "note", stems: [{ direction: "up", position: "center", flag: { position: "left", form: "hooked" } }] },
    ],
    ["a binaria", cantus, { kind: "mensuration", letter: "b", shape: "signum rotundum" }],
    ["a red note", tenor, { kind: "note", coloration: "red", given: { num: 3, numbase: 2 } }],
    ["a void note", tenor, { kind: "note", coloration: "void" }],
    ["a half coloured note", tenor, { kind: "note", coloration: "half-right", given: { num: 6, numbase: 5 } }],
    ["a red rest", tenor, { kind: "rest", level: "semibrevis", coloration: "red" }],
    ["a cut circle", tenor, { kind: "mensuration", sign: "O", strokes: 1, tempus: 3, prolatio: 2 }],
    ["a circle with its figure", tenor, { kind: "mensuration", sign: "O", figures: [2], modusMinor: 3, tempus: 2 }],
    ["a circle with two dots", tenor, { kind: "mensuration", sign: "O", dots: 2, shape: "circle with two dots" }],
    ["a glyph of the fonts", tenor, { kind: "mensuration", shape: "mensuralModusPerfectumVert", modusMinor: 3 }],
    ["a ratio at a level", tenor, { kind: "mensuration", tempus: 3, num: 3, numbase: 2, level: "semibrevis" }],
    ["a proportion", tenor, { kind: "proportion", num: 3, numbase: 2 }],
    ["the chosen reading", tenor, { kind: "note", editorial: { kind: "lem", source: "srcA" } }],
    [
      "a correction",
      tenor,
      { kind: "note", pitch: { step: "g", octave: 3 }, editorial: { kind: "corr", resp: "ed", cert: "high" } },
    ],
    ["something supplied", tenor, { kind: "rest", editorial: { kind: "supplied", reason: "worn", resp: "ed" } }],
    ["something unclear", tenor, { kind: "note", editorial: { kind: "unclear", cert: "low" } }],
    ["a numeral", tenor, { kind: "mark", of: "numeral", text: "3" }],
    ["a canon", tenor, { kind: "mark", of: "canon", text: "Canon: crescit in duplo" }],
    ["a signum congruentiae", tenor, { kind: "mark", of: "signum-congruentiae" }],
    ["a line", tenor, { kind: "other", name: "line" }],
    ["an annotation", tenor, { kind: "comment", text: "Which rule gave which value." }],
  ]
  it.each(expected)("hold %s", (_, voice, sign) => {
    expect(voice!.signs).toContainEqual(expect.objectContaining(sign))
  })

  it("hold nothing else", () => {
    expect(page!.voices.map(voice => voice.signs.length)).toEqual([20, 10, 24])
  })

  it("keep what was not chosen", () => {
    expect(page!.alternatives).toMatchObject([
      { what: "rdg", editorial: { kind: "rdg", source: "srcB" }, signs: [{ level: "minima" }, { level: "minima" }] },
      { what: "sic", signs: [{ pitch: { step: "a", octave: 3 } }] },
    ])
    const chosen = page!.alternatives.map(one => tenor!.signs.find(sign => sign.id === one.insteadOf[0]))
    expect(chosen).toMatchObject([{ editorial: { kind: "lem" } }, { editorial: { kind: "corr" } }])
  })

  it("put marks before the signs they point to", () => {
    const at = (id: string) => tenor!.signs.findIndex(sign => sign.id === id)
    expect(tenor!.signs.slice(at("k1") - 2, at("k1"))).toMatchObject([{ of: "numeral" }, { of: "canon" }])
    expect(tenor!.signs[at("k9") - 1]).toMatchObject({ of: "signum-congruentiae" })
  })

  it("have their facsimile, shapes and people", () => {
    expect(page!.zones).toEqual([{ id: "z1", surface: "s1", box: [100, 120, 900, 220] }])
    expect(page!.shapes.map(shape => shape.name)).toEqual(["signum rotundum", "circle with two dots"])
    expect(page!.people).toEqual({ ed: "The encoder", srcA: "Invented source A", srcB: "Invented source B" })
  })

  it("can be written anew and read again", async () => {
    const text = newMei(page!)
    expect(read(text)).toEqual(page)
    await mensuralSchema()?.using(validate => expect(validate(text)).toEqual([]))
  })
})

describe("real pieces", () => {
  const pieces = ["madrigal-a.mei", "madrigal-b.mei"].flatMap(name => {
    const text = piece(name)
    return text === undefined ? [] : [{ name, text }]
  })
  // an empty suite would fail where the pieces are not there
  it.skipIf(pieces.length === 0)("are there to be read", () => expect(pieces.length).toBeGreaterThan(0))
  it.each(pieces)("$name loses no note, rest or dot", ({ text }) => {
    const result = readMei(text)
    // each has the words of the voices above it under its own too
    expect(result.problems.map(one => one.code)).toEqual(["copied-verses"])
    const signs = read(text)
      .voices.flatMap(voice => flatSigns(voice))
      .map(flat => flat.sign)
    const count = (kind: Sign["kind"]) => signs.filter(sign => sign.kind === kind).length
    const inText = (pattern: RegExp) => (text.match(pattern) ?? []).length
    expect([count("note"), count("rest"), count("dot")]).toEqual([
      inText(/<note /g),
      inText(/<rest /g),
      inText(/<dot /g),
    ])
    expect(count("dot")).toBe(inText(/dots="1"/g))
    expect(signs.filter(sign => sign.kind === "note" && sign.coloration === "black")).toHaveLength(
      inText(/colored="true"/g),
    )
  })

  const guidelines = standardsIn("examples/guidelines")
  it.skipIf(guidelines.length === 0).each(guidelines)("$name of the guidelines is read", ({ name, text }) => {
    const result = readMei(text)
    const notes = read(text)
      .voices.flatMap(voice => flatSigns(voice))
      .filter(flat => flat.sign.kind === "note")
    const withLevel = (text.match(/<note(?=[^>]* dur=)/g) ?? []).length
    expect(notes).toHaveLength(withLevel)
    // One of them shows notes without any level, to make another point.
    const allowed = name.includes("mensuration_changes") ? ["level-missing"] : []
    expect([...new Set(result.problems.map(one => one.code))]).toEqual(allowed)
  })
})
