import { describe, expect, test } from "vitest"
import { parseShorthand, type Page } from "../../page/index.js"
import { readPage } from "../../reading/index.js"
import { readTogether } from "../read-together.js"
import { LAWFUL_PRACTICES, lawfulPiece } from "../testing/lawful-piece.js"
import { assumedFor, findMensurations } from "./find.js"
import { CUSTOM } from "./weights.js"
import { LEVEL_NAMES, type LevelName, type VoiceFound } from "./types.js"

function page(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  return read.value
}
const voice = (music: string, notes = "black practice=ars-nova(minims=written)") =>
  `voice cantus ${notes}\nclef:C1\n${music}\n`
const found = (text: string): VoiceFound => findMensurations(page(text), { evidence: true }).voices[0]!
const levels = (one: VoiceFound) => LEVEL_NAMES.map(level => one.divisions[level]).join(" ")

/** The page without the mensurations of its voices, and without more of the practice than its name. */
function stripped(whole: Page): Page {
  return {
    ...whole,
    voices: whole.voices.map(one => ({
      ...one,
      ...(one.practice ? { practice: { name: one.practice.name, options: {} } } : {}),
      signs: one.signs.filter(sign => sign.kind !== "mensuration"),
    })),
  }
}
const stated = (whole: Page) =>
  readPage(whole).map(one => LEVEL_NAMES.map(level => one.mensurations[0]![level] ?? undefined))

describe("levels found from a voice by itself", () => {
  test.each<[string, LevelName, 2 | 3, string]>([
    [
      "one semibreve or three between breves",
      "tempus",
      3,
      "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d",
    ],
    [
      "semibreves in twos and fours",
      "tempus",
      2,
      "B c4 S d e B f S g a g f B e S d e B f g S a g B f S e d c d B e S f g B a",
    ],
    [
      "a dotted breve and one semibreve",
      "tempus",
      2,
      "B c4 . S d B e S f g B a . S g B f e . S d B c S d e f g B a . S g B f",
    ],
    [
      "dots that part minims",
      "prolatio",
      3,
      "S c4 M d . M e S f M g . M f S e M d e f S g M a . M g S f M e S d M c . M d S e",
    ],
    [
      "minims in twos",
      "prolatio",
      2,
      "S c4 M d e S f M g a g f S e d M c d S e M f e d c S d M e f S g M a g S f e M d c S d",
    ],
    ["rests of three spaces", "modusMinor", 3, "L c4 B d L e rL3 L f B g L a rL3 B g f e L d rL3 L c"],
    [
      "breves in twos between longs",
      "modusMinor",
      2,
      "L c4 B d e L f B g a g f L e B d c L d e B f g L a B g f L e B d e f g L a",
    ],
  ])("%s: %s %i", (_, level, division, music) => {
    const one = found(voice(`${music}\n${music}`))
    expect(one.divisions[level]).toBe(division)
    expect(one.from).toBe("inferred")
    expect(one.doubts[level]).toBeLessThan(0.5)
  })

  test("a candidate tells what speaks for it and what against it, with the signs", () => {
    const one = found(voice("B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d"))
    const best = one.candidates[0]!
    const tempus = best.evidence.filter(evidence => evidence.level === "tempus")
    expect(tempus[0]).toMatchObject({
      rule: "in-its-place",
      what: expect.stringMatching(/^perfect tempus: breves at [\d, and]+/),
    })
    expect(tempus[0]!.weight).toBeGreaterThan(1)
    const rival = one.candidates.find(other => other.divisions.tempus === 2)!
    expect(rival.evidence[0]).toMatchObject({ rule: "off-its-place" })
    expect(rival.evidence[0]!.weight).toBeLessThan(-1)
    expect(rival.evidence[0]!.signs.length).toBeGreaterThan(0)
    expect(one.candidates.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1)
  })

  test("little music leaves much doubt", () => {
    expect(found(voice("B c4 S d B e")).doubt).toBeGreaterThan(0.5)
  })
  test("a voice without a note, and a page without a voice", () => {
    expect(found(voice(""))).toMatchObject({ candidates: [], doubt: 1 })
    expect(findMensurations({ ...page(voice("")), voices: [] }).voices).toEqual([])
  })
})

describe("what the file states", () => {
  const SIGNED = voice("mens:modusmaior=2:modus=2:tempus=3:prolatio=2\nB c4 S d B e S f g a B g f S e B d")
  test("is not asked again", () => {
    expect(found(SIGNED)).toMatchObject({ from: "given", doubt: 0, problems: [] })
    expect(assumedFor(page(SIGNED)).size).toBe(0)
  })
  test("holds in part: a sign of tempus leaves the modus open", () => {
    const one = found(voice("O L c4 B d L e rL3 L f B g L a rL3 B g f e L d rL3 L c"))
    expect(one).toMatchObject({ from: "inferred", stated: ["tempus", "prolatio"] })
    expect(one.divisions).toMatchObject({ modusMinor: 3, tempus: 3, prolatio: 2 })
  })
  test("durations given beside the notes show the divisions; left out, they show nothing", () => {
    const bare = page(voice("B c4:given(perfecta) S d e B f:given(perfecta) L g"))
    expect(findMensurations(bare).voices[0]!.doubts.tempus).toBeLessThan(0.1)
    expect(findMensurations(bare).voices[0]!.divisions.tempus).toBe(3)
    expect(findMensurations(bare, { ignoreGiven: true }).voices[0]!.doubts.tempus).toBeGreaterThan(0.3)
  })
  test("dots that the file calls additions are no divisions", () => {
    const music = "S c4 M d .:aug Sm e M f g S a M g f S e M d .:aug Sm e M f g S a M g f S e M f .:aug Sm g M a g S f"
    const aug = found(voice(music))
    expect(aug.divisions.prolatio).toBe(2)
    const bare = found(voice(music.replaceAll(":aug", "")))
    expect(aug.doubts.prolatio).toBeLessThanOrEqual(bare.doubts.prolatio)
  })
  test("is contradicted by the voice itself, at these places", () => {
    const music =
      "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e B f g S a B g S f B e d"
    const one = found(voice(`mens:modusmaior=2:modus=2:tempus=2:prolatio=2:id=sign\n${music}\n${music}`))
    expect(one.divisions.tempus).toBe(2)
    expect(one.problems).toMatchObject([
      {
        code: "declared-mensuration-contradicted",
        where: { sign: "sign" },
        what: expect.stringContaining("imperfect tempus: "),
      },
    ])
  })
})

describe("voices together", () => {
  const UPPER = "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e M f g B a"
  test("a tenor of longs takes its tempus from the others", () => {
    const tenor = "voice tenor black practice=ars-nova(minims=written)\nclef:C4\nL c3 d e rL f\n"
    const [, own] = findMensurations(page(voice(UPPER) + tenor)).voices
    expect(own!.divisions).toMatchObject({ tempus: 3, prolatio: 2 })
    const [, apart] = findMensurations(page(voice(UPPER) + tenor), { alone: true }).voices
    expect(apart!.doubts.tempus).toBeGreaterThan(own!.doubts.tempus)
  })
  test("their order does not matter", () => {
    const whole = stripped(lawfulPiece(3, { practice: "ars-nova", notes: 60 }).page)
    const told = (of: Page) =>
      Object.fromEntries(findMensurations(of).voices.map(one => [one.voice, [levels(one), one.doubt.toFixed(3)]]))
    expect(told({ ...whole, voices: whole.voices.toReversed() })).toEqual(told(whole))
  })
})

describe("the practice", () => {
  const named = (text: string) => found(text).practice
  test.each([
    ["void heads", "white", voice("B c4 S d e B f", "white")],
    ["minims and full heads", "ars-nova", voice("S c4 M d e S f M g a", "black")],
    [
      "plicas, strokes and a perfect modus",
      "ars-antiqua",
      voice("L c4 B d\\ L e B f L g\\ ' L a B g f e L d\\ finis", "black"),
    ],
    [
      "plain semibreves with stems down",
      "ars-nova",
      voice("L c4 S d/down e f B g S a/down g f e L d S e/down f g a B g L f B e L d", "black"),
    ],
  ])("%s: %s", (_, name, text) => {
    expect(named(text)).toMatchObject({ name, from: "inferred" })
    expect(named(text).doubt).toBeLessThan(0.5)
  })
  test("what is stated or asked for is kept", () => {
    const bare = page(voice("L c4 B d L e", "black"))
    expect(findMensurations(bare, { practice: { name: "white" } }).voices[0]!.practice).toMatchObject({
      name: "white",
      from: "option",
      candidates: [],
    })
    expect(named(voice("S c4 M d e S f"))).toMatchObject({ name: "ars-nova", from: "given", doubt: 0 })
  })
})

describe("the years that a file states", () => {
  const plain = page(voice("L c4 B d L e B f S g a B g L f B e S d e f B g L a B g f e L d", "black"))
  const named = (years: Page["years"]) => findMensurations({ ...plain, ...(years && { years }) }).voices[0]!.practice
  test.each([
    ["a motet of about 1290", { made: [1285, 1295] }, "ars-antiqua"],
    ["one of 1325", { made: [1325, 1325] }, "ars-nova"],
    ["one in a book of 1300", { copied: [1300, 1300] }, "ars-antiqua"],
  ] as const)("%s: %s is %s", (_, years, name) => {
    const found = named(years)
    expect(found).toMatchObject({ name, from: "inferred" })
    expect(found.doubt).toBeLessThan(named(undefined).doubt)
    expect(found.candidates[0]!.evidence.map(({ rule }) => rule)).toContain("date")
  })
  test("a book that is younger than both says nothing", () => {
    expect(named({ copied: [1400, 1400] })).toEqual(named(undefined))
  })
  test("tell white notation where nothing is said of the heads", () => {
    const heads = (years: Page["years"]) =>
      findMensurations({ ...page("voice cantus\nB c4 S d e M f g S a B g S f e L d"), ...(years && { years }) })
        .voices[0]!.practice.name
    expect([heads(undefined), heads({ made: [1360, 1380] }), heads({ made: [1582, 1582] })]).toEqual([
      "ars-nova",
      "ars-nova",
      "white",
    ])
  })
})

test.each([
  ["triplum", "S c4 M d e S f M g a L b", "ars-nova"],
  ["bassus", "S c4 M d e S f M g a L b", "white"],
  ["cantus", "S c4 M d F e f M g S a L b", "white"],
])("of heads nothing is said: %s, %s is %s", (name, music, practice) => {
  const one = findMensurations(page(`voice ${name}\n${music}`)).voices[0]!
  expect(one.practice.name).toBe(practice)
  expect(one.practice.candidates).toHaveLength(2)
})
test("whether heads are void or full puts few notes in doubt: both are read alike", () => {
  const bare = (heads: string) =>
    page(`voice cantus${heads}\nO:modusmaior=2:modus=2 B c4 S d B e S f M g a g f S e B d S c M d e S f B g L d`)
  const doubtful = (of: Page) =>
    readTogether(of)
      .readings[0]!.signs.filter(sign => sign.doubt >= 0.05)
      .map(one => one.id)
  expect(findMensurations(bare("")).voices[0]!.practice.doubt).toBeGreaterThan(0.1)
  expect(doubtful(bare("")).length).toBeLessThanOrEqual(doubtful(bare(" black")).length + 1)
  expect(doubtful(bare("")).length).toBeLessThan(5)
})

test("a change within a voice is proposed, with its place", () => {
  const perfect = "B c4 S d B e S f g a B g f S e B d S c B d S e f g B a S g f e B d S c B d S e B f S g B a g S f B e"
  const twos =
    "B d S e f B g S a g f e B d S c d B e f S g a B g S f e d c B d S e f B g S a g B f S e d c d B e S f g B a f"
  const one = found(voice(`${perfect}\n${perfect}\n${twos}\n${twos}`))
  expect(one.changes).toHaveLength(1)
  expect(one.changes[0]!.divisions.tempus).not.toBe(one.divisions.tempus)
  expect(one.changes[0]!.what).toMatch(/^From \d+ (to \d+|on) the notes rather go by /)
  expect(found(voice(perfect)).changes).toEqual([])
})

describe("invented lawful pieces without their mensurations", () => {
  const PIECES = 6
  // plain semibreves are silent on tempus and prolation in these pieces: there the modus is asked for alone
  test.each(LAWFUL_PRACTICES)("%s", practice => {
    let all = 0
    let right = 0
    let sure = 0
    let sureAndWrong = 0
    for (let seed = 1; seed <= PIECES; seed++) {
      const { page: whole } = lawfulPiece(seed, { practice, notes: 100 })
      const truth = stated(whole)
      findMensurations(stripped(whole)).voices.forEach((one, v) => {
        LEVEL_NAMES.forEach((level, k) => {
          if (truth[v]![k] === undefined || (practice === "ars-nova-early" && k > 1)) return
          const isRight = one.divisions[level] === truth[v]![k]
          all++
          if (isRight) right++
          if (one.doubts[level] < 0.05) sure++
          if (one.doubts[level] < 0.05 && !isRight) sureAndWrong++
        })
      })
    }
    expect(right / all).toBeGreaterThan(0.96)
    expect(sureAndWrong).toBe(0)
    expect(sure).toBeGreaterThan(all / 3)
  })
})

test("customs are chances", () => {
  for (const { tempora } of Object.values(CUSTOM))
    expect(Object.values(tempora).reduce((sum, one) => sum + one, 0)).toBeCloseTo(1)
})
