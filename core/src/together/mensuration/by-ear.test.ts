import { describe, expect, test } from "vitest"
import { signId, voiceId } from "../../base/index.js"
import { parseShorthand, type Page, type Sign } from "../../page/index.js"
import { readTogether } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { costsOf } from "./ear.js"
import { fitsUnder } from "./check.js"
import { findMensurations } from "./find.js"
import type { VoiceFound } from "./types.js"

/** Without practices, signs of mensuration, and strokes: what a dot stands for is as a plain file has it. */
function bare({ voices, ...page }: Page): Page {
  const plain = voices.map(({ practice: _, ...voice }) => ({
    ...voice,
    signs: voice.signs.flatMap(sign =>
      sign.kind === "mensuration" ? [] : sign.kind === "stroke" ? [{ kind: "dot" as const, id: sign.id }] : [sign],
    ),
  }))
  return { ...page, voices: plain }
}

const pieces = (practice: "ars-antiqua" | "divided-breves" | "ars-nova-early", mixed = false) =>
  [1, 2, 3, 4].map(seed => lawfulPiece(seed, { practice, notes: 60, mixed }).page)
const first = (page: Page, alone: boolean): VoiceFound => findMensurations(bare(page), { alone }).voices[0]!

describe("pages without a minim, a sign or a word of their practice", () => {
  test.each([
    ["ars-antiqua", "ars-antiqua", false],
    ["divided-breves", "ars-antiqua", false],
    ["ars-nova-early", "ars-nova", false],
    ["ars-nova-early", "ars-nova", true],
  ] as const)("%s: the voices together tell it", (practice, name, mixed) => {
    const found = pieces(practice, mixed).map(page => first(page, false).practice)
    expect(found.map(one => one.name)).toEqual(found.map(() => name))
    expect(found.flatMap(one => one.candidates[0]!.evidence.map(({ rule }) => rule))).toContain("fit-together")
  })
  test("a voice by itself does not", () => {
    const wrong = pieces("ars-nova-early", true).filter(page => first(page, true).practice.name !== "ars-nova")
    expect(wrong.length).toBeGreaterThan(0)
  })
})

test("the tempus of plain semibreves is heard where nothing shows it", () => {
  const count = { together: 0, apart: 0, all: 0 }
  for (const page of [...pieces("ars-nova-early"), ...pieces("ars-nova-early", true)]) {
    const truth = page.voices[1]!.signs.find(sign => sign.kind === "mensuration")!.tempus
    count.all++
    for (const alone of [false, true])
      if (
        findMensurations(bare(page), { alone, practice: { name: "ars-nova", options: { minims: "unwritten" } } })
          .voices[1]!.divisions.tempus === truth
      )
        count[alone ? "apart" : "together"]++
  }
  expect(count.together).toBeGreaterThanOrEqual(0.75 * count.all)
  expect(count.apart).toBeLessThan(count.together)
})

test("a tenor in imperfect tempus and major prolation under voices the other way round", () => {
  const wrong = [5002, 5006, 5008].flatMap(seed => {
    const { page } = lawfulPiece(seed, { practice: "ars-nova", notes: 100, mixed: true })
    return findMensurations(bare(page)).voices.filter((one, v) => {
      const { tempus, prolatio } = page.voices[v]!.signs.find(sign => sign.kind === "mensuration")!
      return one.divisions.tempus !== tempus || one.divisions.prolatio !== prolatio
    })
  })
  expect(wrong).toEqual([])
})

test("what was heard is told", () => {
  const { candidates } = findMensurations(bare(pieces("ars-nova-early")[0]!), { evidence: true }).voices[0]!
  const heard = candidates[0]!.evidence.find(one => one.rule === "sounds-together")
  expect(heard).toMatchObject({
    level: "tempus",
    what: expect.stringMatching(/the voices (sound|fit each other) (better|worse)/),
  })
})

test("what is told of a measure for one voice is no more than what all voices by it cost", () => {
  const read = parseShorthand(`voice a black
B o S o B o S o M o o S o B o o S o . S o o B o S o o o L o
voice b black
B o o o o o o o S o o o L o`)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  const found = findMensurations(read.value, { evidence: true })
  const costs = fitsUnder(read.value, found).filter(one => one.level !== undefined)
  const heard = found.voices.flatMap(one =>
    one.candidates[0]!.evidence.filter(({ rule }) => rule === "sounds-together"),
  )
  expect(heard.length).toBeGreaterThan(0)
  for (const { level, weight } of heard)
    expect(weight).toBeLessThanOrEqual(costs.find(one => one.level === level)!.cost + 0.1)
})

test("neither the order of the voices nor one that does not fit changes what is heard", () => {
  const page = bare(pieces("ars-nova-early")[1]!)
  const [, other] = bare(lawfulPiece(40, { practice: "ars-nova-early", notes: 30 }).page).voices
  const alien = { ...other!, id: voiceId("alien"), label: "alien", signs: other!.signs.map(renamed) }
  const told = (of: Page): unknown =>
    Object.fromEntries(
      findMensurations(of)
        .voices.filter(one => one.label !== "alien")
        .map(one => [one.label, [one.practice.name, one.divisions]]),
    )
  expect(told({ ...page, voices: page.voices.toReversed() })).toEqual(told(page))
  expect(told({ ...page, voices: [...page.voices, alien] })).toEqual(told(page))
})

test("what two practices cost is compared over the same voices", () => {
  const page = bare(pieces("ars-nova-early")[1]!)
  const [, other] = bare(lawfulPiece(40, { practice: "ars-nova-early", notes: 30 }).page).voices
  const alien = { ...other!, id: voiceId("alien"), label: "alien", signs: other!.signs.map(renamed) }
  const cases = ["ars-antiqua", "ars-nova"].map(name => ({
    divisions: [],
    options: { practice: { name }, shared: { minims: "unwritten" } },
  }))
  const difference = (of: Page): number => {
    const [first, second] = costsOf(of, cases)
    return first! - second!
  }
  // with another voice that meets nobody, no more of it is counted than what its own rules have of it
  const own = difference({ ...page, voices: [alien] })
  const withAlien = difference({ ...page, voices: [...page.voices, alien] })
  expect(Math.abs(withAlien - difference(page))).toBeLessThan(Math.abs(own) + 1)
})

function renamed<S extends Sign>(sign: S): S {
  const own = { ...sign, id: signId(`alien.${sign.id}`) }
  return own.kind === "ligature" ? { ...own, members: own.members.map(renamed) } : own
}

test.each([
  "voice a black\nclef:C1\nvoice b black\nclef:C1",
  "voice a black\nL c4 B d L e\nvoice b black\nclef:C4",
  "voice a black\nrB1 rB1\nvoice b black\nB c4 S d e . f g L a",
])("hardly anything to hear: %j", text => {
  const read = parseShorthand(text)
  expect(read.ok && findMensurations(read.value).voices).toHaveLength(2)
  expect(read.ok && readTogether(read.value).readings).toHaveLength(2)
})
