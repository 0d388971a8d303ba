import { describe, expect, test } from "vitest"
import { ratio, signId, voiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import type { Reading, SignReading } from "../../reading/index.js"
import type { Fit } from "../../score/index.js"
import { readingJson, unreadableJson } from "./index.js"

const sign = (more: Partial<SignReading>): SignReading => ({
  id: signId("n1"),
  index: 0,
  kind: "note",
  number: 1,
  level: "brevis",
  pitch: "bf3",
  onset: ratio(0),
  duration: ratio(4),
  quality: "imperfecta",
  rule: "imperfectio-a-parte-post",
  also: [],
  because: [signId("n2")],
  decidedBy: "voice",
  doubt: 0.08,
  rivals: [],
  ...more,
})

const reading = (signs: readonly SignReading[]): Reading => ({
  voice: voiceId("v1"),
  n: "1",
  label: "triplum",
  unit: "minima",
  duration: ratio(14, 3),
  practice: { name: "ars-nova", options: { minims: "written" }, from: "given", doubt: 0 },
  mensurations: [
    {
      onset: ratio(0),
      modusMaior: null,
      modusMinor: 2,
      tempus: 3,
      prolatio: 2,
      from: "given",
      doubt: 0,
      proportion: ratio(3, 2),
      sign: signId("m1"),
    },
  ],
  signs,
  rivals: [{ cost: 1.5, duration: ratio(6), partsAt: signId("n1"), signs: new Map([[signId("n1"), ratio(6)]]) }],
  problems: [{ code: "open-perfection", what: "w", where: { sign: "n1", place: "p" }, mend: "m" }],
})
const page: Page = { title: "Invented", voices: [], shapes: [], surfaces: [], zones: [], alternatives: [] }
const fit: Fit = { together: true, durations: ["14/3"], firstParting: null, unit: "minima" }
const written = (signs: readonly SignReading[], about = {}) =>
  JSON.parse(JSON.stringify(readingJson(page, [reading(signs)], fit, about)))

describe("the object of a reading", () => {
  test("has the members of the contract, times as exact text", () => {
    const { signs, ...voice } = written([sign({})]).voices[0]
    expect(written([sign({})])).toMatchObject({ format: "resolutio-reading", version: 1, title: "Invented", fit })
    expect(signs).toHaveLength(1)
    expect(voice).toEqual({
      n: "1",
      label: "triplum",
      duration: "14/3",
      unit: "minima",
      practice: { name: "ars-nova", options: { minims: "written" }, from: "given", doubt: 0 },
      mensurations: [
        {
          onset: "0",
          modusMaior: null,
          modusMinor: 2,
          tempus: 3,
          prolatio: 2,
          from: "given",
          doubt: 0,
          proportion: "3/2",
          sign: "m1",
        },
      ],
      rivals: [{ cost: 1.5, duration: "6", partsAt: "n1", signs: { n1: "6" } }],
      problems: [
        { code: "open-perfection", what: "w", where: { sign: "n1", place: "p" }, mend: "m", severity: "warning" },
      ],
    })
  })

  test("tells of a note all that was decided", () => {
    const rival = { duration: ratio(6), rule: "nothing-acts", because: [], cost: 3, chance: 0.04 }
    const [note] = written([sign({ rivals: [rival] })]).voices[0].signs
    expect(note).toEqual({
      id: "n1",
      place: "triplum 1",
      kind: "note",
      level: "brevis",
      pitch: "bf3",
      onset: "0",
      duration: "4",
      quality: "imperfecta",
      rule: "imperfectio-a-parte-post",
      because: ["n2"],
      decidedBy: "voice",
      explain: expect.stringMatching(/\S+ \S+/),
      source: expect.stringMatching(/\d{4}/),
      doubt: 0.08,
      rivals: [{ duration: "6", rule: "nothing-acts", explain: expect.stringMatching(/\S+ \S+/) }],
    })
  })

  test("adds what only some signs have", () => {
    const plica = { duration: ratio(1, 3), pitch: "c4", certain: true }
    const [note] = written([sign({ plica, held: true, also: ["syncopatio"], rulesSay: ratio(6) })]).voices[0].signs
    expect(note).toMatchObject({
      plica: { duration: "1/3", pitch: "c4" },
      held: true,
      also: ["syncopatio"],
      rulesSay: "6",
    })
  })

  test("gives every sign a place: what does not last stands after what does", () => {
    const dot = sign({ id: signId("d"), kind: "dot", number: 0, duration: ratio(0), takenFor: "punctus-divisionis" })
    const signs = written([dot, sign({}), dot]).voices[0].signs as { place: string; takenFor?: string }[]
    expect(signs.map(one => one.place)).toEqual(["triplum, before 1", "triplum 1", "triplum, after 1"])
    expect(signs[0]?.takenFor).toBe("punctus-divisionis")
  })

  test("names the file and its problems where there are any", () => {
    const problem = { code: "c", what: "w", mend: "m", where: { file: "a.mei", line: 3 } }
    expect(written([], { file: "a.mei", problems: [problem] })).toMatchObject({
      file: "a.mei",
      problems: [{ code: "c", where: { line: 3 } }],
    })
    expect(written([])).not.toHaveProperty("problems")
  })
})

test("a file that could not be read has its name and its problems", () => {
  const problem = { code: "not-mei", what: "w", mend: "m", severity: "error" } as const
  expect(unreadableJson("a.mei", [problem])).toEqual({
    format: "resolutio-reading",
    version: 1,
    file: "a.mei",
    problems: [{ code: "not-mei", what: "w", mend: "m", severity: "error" }],
  })
})
