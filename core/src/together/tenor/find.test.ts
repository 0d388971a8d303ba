import { describe, expect, test } from "vitest"
import { ratio, signId, type Rational, type SignId } from "../../base/index.js"
import type { Page, Sign, Voice } from "../../page/index.js"
import { parseShorthand } from "../../page/shorthand/index.js"
import { plainPage } from "../../page/testing/plain-page.js"
import { readVoice } from "../../reading/index.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "../../reading/testing/lawful.js"
import { chooseTenor, fellowsOf, findRepetition, planOf, repeatDisagreements, type Repetition } from "./index.js"
import { diminished, look, sung, tenorPage, type Word } from "./testing/tenors.js"
import type { Difference } from "./types.js"
import { effort } from "../../base/testing/effort.js"

const MELODY = "d3 f3 e3 g3 a3 g3 f3 e3 d3 c3 d3 f3 g3 e3 f3 d3".split(" ")
const RHYTHM = ["L", "B", "B", "rB", "L", "L", "B", "S", "S", "rL2"]
const NOTES = 8

const shape = ({ colores, taleae }: Repetition) => ({
  color: colores.map(one => one.statements.map(({ signs }) => signs.length)),
  talea: taleae.map(one => one.statements.map(({ signs }) => signs.length)),
})
const four = (): Word[][] => [0, 1, 2, 3].map(at => sung(RHYTHM, MELODY, (at % 2) * NOTES))

describe("plans", () => {
  test("two colores, each of two taleae", () => {
    const { found } = look(four().flat())
    expect(shape(found)).toEqual({ color: [[16, 16]], talea: [[10, 10, 10, 10]] })
    expect(found.taleae[0]!.differences).toEqual([])
    expect(planOf(found)).toBe("Two colores, each of two taleae.")
  })
  const SHORT = ["L", "B", "B", "B", "rL3", "L", "B"]
  const PITCHES = "d3 f3 e3 d3 c3 d3".split(" ")
  const PERFECT = "ars-nova\nclef:C4 mens:modusmaior=2:modus=3:tempus=2:prolatio=2"
  test.each([
    ["level", { color: [], talea: ["3 4: brevis"] }, 17, "L d3"],
    ["pitch", { color: ["3 5: c3"], talea: [] }, 19, "L d3"],
  ] as const)("a slip of %s in a short tenor hides neither color nor talea", (_, { color, talea }, at, slip) => {
    const words = [...[0, 1, 2].flatMap(() => sung(SHORT, PITCHES)), "L d3"]
    const { found } = look(words.with(at, slip), PERFECT)
    expect(shape(found)).toEqual({ color: [[6, 6, 6]], talea: [[7, 7, 7]] })
    const places = ({ differences }: { readonly differences: readonly Difference[] }) =>
      differences.flatMap(one => (one.kind === "duration" ? [] : [`${one.statement} ${one.place + 1}: ${one.others}`]))
    expect(found.colores.flatMap(places)).toEqual(color)
    expect(found.taleae.flatMap(places)).toEqual(talea)
    expect(planOf(found)).toBe("Three colores, each of one talea.")
  })
  test("the second color diminished by names", () => {
    const small = [0, 1].flatMap(at => sung(diminished(RHYTHM), MELODY, at * NOTES))
    const { found } = look([...four().slice(0, 2).flat(), ...small])
    expect(shape(found)).toEqual({ color: [[16, 16]], talea: [[10, 10, 10, 10]] })
    expect(found.taleae[0]!.statements.map(one => one.names)).toEqual([0, 0, 1, 1])
    expect(found.taleae[0]!.statements.map(one => one.ratio)).toEqual(
      [1, 1, 1 / 2, 1 / 2].map(by => (by === 1 ? ratio(1) : ratio(1, 2))),
    )
    expect(planOf(found)).toBe(
      "Two colores, each of two taleae; the second color at half the durations, each level replaced by the next smaller.",
    )
  })
  test("colores diminished alike are told as one", () => {
    const small = [0, 1, 0, 1].flatMap(at => sung(diminished(RHYTHM), MELODY, at * NOTES))
    const { found } = look([...four().slice(0, 2).flat(), ...small])
    expect(planOf(found)).toBe(
      "Three colores, each of two taleae; colores 2 and 3 at half the durations, each level replaced by the next smaller.",
    )
  })
  test("the same signs under a proportion", () => {
    const [a = [], b = [], c = [], d = []] = four()
    const { found } = look([...a, ...b, "prop:2", ...c, ...d])
    expect(planOf(found)).toBe("Two colores, each of two taleae; the second color at half the durations.")
  })
  test("augmented: the second talea larger than the first", () => {
    const small = diminished(RHYTHM)
    const { found } = look([
      ...sung(small, MELODY),
      ...sung(small, MELODY, 8),
      ...sung(RHYTHM, MELODY, 5),
      ...sung(RHYTHM, MELODY, 3),
    ])
    expect(found.taleae[0]!.statements.map(one => one.names)).toEqual([0, 0, -1, -1])
  })
  test("three colores in the time of four taleae", () => {
    const rhythm = ["L", "B", "rB", "L", "B", "B", "L", "rL2"]
    const melody = "d3 e3 f3 a3 g3 f3 e3 c3".split(" ")
    const { found } = look([0, 1, 2, 3].flatMap(at => sung(rhythm, melody, at * 6)))
    expect(shape(found)).toEqual({ color: [[8, 8, 8]], talea: [[8, 8, 8, 8]] })
    expect(planOf(found)).toMatch(/^Three colores and four taleae in the same time/)
  })
  test("an ordo of the thirteenth century, the melody not in step with it", () => {
    const melody = "d3 f3 e3 g3 f3 a3 g3 f3 e3 c3 e3 d3 f3".split(" ")
    const rhythm = ["L", "B", "L", "B", "L", "r1"]
    const { found } = look(
      [0, 1, 2, 3, 4, 5].flatMap(at => sung(rhythm, melody, at * 5)).slice(0, -1),
      "ars-antiqua\nclef:C4",
    )
    expect(shape(found)).toEqual({ color: [[13, 13, 4]], talea: [[6, 6, 6, 6, 6, 5]] })
    expect(planOf(found)).toContain("each talea is an ordo of five notes and one rest")
    expect(planOf(found)).toContain("do not begin together again")
  })
  test("a color a step higher", () => {
    const melody = "d3 e3 f3 a3 g3 f3 e3 c3".split(" ")
    const higher = "e3 f3 g3 b3 a3 g3 f3 d3".split(" ")
    const levels = "L B B L L B B L B L L B L L B B L B B L B L B B".split(" ")
    const { found } = look(sung(levels, [...melody, ...higher, ...melody]))
    expect(found.colores[0]!.statements.map(one => one.steps)).toEqual([0, 1, 0])
  })
  test("other pitches and durations in the second half", () => {
    const rhythm = ["L", "B", "rB", "L", "B", "B", "L", "rL2"]
    const melody = "a3 c4 b3 g3 a3 f3 g3 d3 c3 e3".split(" ")
    const { found } = look([...four().flat(), ...[0, 1, 2, 3].flatMap(at => sung(rhythm, melody, at * 6))])
    expect(shape(found).talea).toEqual([
      [10, 10, 10, 10],
      [8, 8, 8, 8],
    ])
    expect(shape(found).color[0]).toEqual([16, 16])
    expect(shape(found).color[1]!.slice(0, 2)).toEqual([10, 10])
  })
  test("ligatures make no difference", () => {
    const tied = four()
    tied[2]!.splice(4, 2, "[a3 g3]")
    expect(shape(look(tied.flat()).found).talea).toEqual([[10, 10, 10, 10]])
  })
})

describe("slips", () => {
  const slips: [string, (rows: Word[][]) => void, object][] = [
    [
      "another level",
      rows => (rows[2]![1] = "L f3"),
      { kind: "level", own: "longa", others: "brevis", statement: 3, place: 1 },
    ],
    [
      "a note missing",
      rows => rows[1]!.splice(4, 1),
      { kind: "missing", own: null, others: "longa", statement: 2, place: 4 },
    ],
    ["a note doubled", rows => rows[2]!.splice(2, 0, "B e3"), { kind: "extra", others: null, statement: 3 }],
    [
      "another rest",
      rows => (rows[1]![3] = "rS"),
      { kind: "rest", own: "semibrevis rest", others: "brevis rest", statement: 2 },
    ],
    [
      "a rest missing",
      rows => rows[2]!.splice(3, 1),
      { kind: "missing", others: "brevis rest", statement: 3, place: 3 },
    ],
    [
      "a note for a rest",
      rows => (rows[1]![3] = "B d3"),
      { kind: "rest", own: "brevis", others: "brevis rest", statement: 2 },
    ],
    [
      "a dot too many",
      rows => (rows[1]![4] += " ."),
      { kind: "dot", own: "dot", others: "no dot", statement: 2, place: 4 },
    ],
    ["colour", rows => (rows[3]![6] = "red{B f3}"), { kind: "coloration", own: "red", others: "none", statement: 4 }],
    ["a note missing in the first", rows => rows[0]!.splice(2, 1), { kind: "missing", others: "brevis", statement: 1 }],
  ]
  test.each(slips)("%s", (_, spoil, wanted) => {
    const rows = four()
    spoil(rows)
    const [talea] = look(rows.flat()).found.taleae
    const written = talea!.differences.filter(one => one.kind !== "duration")
    expect(written).toHaveLength(1)
    expect(written[0]).toMatchObject({ ...wanted, odd: true })
    expect(written[0]!.fellows.length).toBe(3)
  })
  test("two slips in different places, the sign named each time", () => {
    const rows = four()
    rows[0]!.splice(2, 1)
    rows[3]![6] = "S f3"
    const { found, reading } = look(rows.flat())
    const names = found.taleae[0]!.differences.map(one => [
      one.kind,
      reading.signs.find(({ id }) => id === one.sign)!.number,
    ])
    expect(names).toEqual([
      ["missing", expect.any(Number)],
      ["level", 36],
    ])
  })
  test("of two colores neither is at fault for certain", () => {
    const rows = four()
    rows[3]![2] = "B c4"
    const { differences } = look(rows.flat()).found.colores[0]!
    expect(differences.map(({ kind, own, others, odd }) => [kind, own, others, odd])).toEqual([
      ["pitch", "d3", "c4", false],
      ["pitch", "c4", "d3", false],
    ])
  })
})

describe("durations", () => {
  const { found, reading } = look(four().flat())
  const durations = new Map<SignId, Rational>(reading.signs.map(sign => [sign.id, sign.duration]))
  const odd = found.taleae[0]!.statements[2]!.signs[4]!

  test("fellows are the signs at the same place", () => {
    expect(fellowsOf(found, odd)).toEqual([0, 1, 3].map(at => found.taleae[0]!.statements[at]!.signs[4]))
    expect(fellowsOf(found, signId("none"))).toEqual([])
  })
  test("agree where nothing was changed, and tell what was", () => {
    expect(repeatDisagreements(found, id => durations.get(id))).toEqual({ count: 0, places: [] })
    const { count, places } = repeatDisagreements(found, id => (id === odd ? ratio(6) : durations.get(id)))
    expect(count).toBe(1)
    expect(places).toMatchObject([{ sign: odd, statement: 3, place: 4, own: ratio(6), others: ratio(8), odd: true }])
  })
  test("a diminished statement is measured in its own time", () => {
    const small = look([
      ...four().slice(0, 2).flat(),
      ...[0, 1].flatMap(at => sung(diminished(RHYTHM), MELODY, at * NOTES)),
    ])
    const own = new Map<SignId, Rational>(small.reading.signs.map(sign => [sign.id, sign.duration]))
    const sign = small.found.taleae[0]!.statements[3]!.signs[0]!
    expect(repeatDisagreements(small.found, id => own.get(id)).count).toBe(0)
    const { places } = repeatDisagreements(small.found, id => (id === sign ? ratio(3) : own.get(id)))
    expect(places).toMatchObject([{ sign, own: ratio(3), others: ratio(4) }])
  })
  test("a reading that treats one statement otherwise is seen", () => {
    const rows = ["L a3", "B g3", "L f3", "L e3", "B d3", "B f3", "L g3", "rL3"]
    const words = [0, 1, 2, 3].flatMap(at =>
      sung(
        rows.map(one => one.split(" ")[0]!),
        MELODY,
        at * 7,
      ),
    )
    const perfect = "ars-nova\nclef:C4 mens:modusmaior=2:modus=3:tempus=2:prolatio=2"
    const one = look(words, perfect)
    const [talea] = one.found.taleae
    const changed = {
      ...one.reading,
      signs: one.reading.signs.map(sign =>
        sign.id === talea!.statements[1]!.signs[2] ? { ...sign, duration: ratio(99) } : sign,
      ),
    }
    const { differences } = findRepetition(one.page, changed).taleae[0]!
    expect(differences).toMatchObject([{ kind: "duration", statement: 2, place: 2, own: "99", odd: true }])
  })
})

describe("voices without a plan", () => {
  test.each(LAWFUL_PRACTICES)("%s: nothing is found in fewer than 2 of 100 voices", practice => {
    const found = Array.from({ length: 60 }, (_, seed) => {
      const { voice } = lawfulVoice(7000 + seed, { practice, notes: [30, 60, 120][seed % 3]! })
      const { colores, taleae } = findRepetition(plainPage([voice]), readVoice(voice))
      return colores.length + taleae.length > 0 ? seed : undefined
    }).filter(seed => seed !== undefined)
    expect(found.length, `seeds ${found.join(", ")}`).toBeLessThanOrEqual(1)
  })
  test.each([
    ["no note", []],
    ["one note", ["L d3"]],
    [
      "only long, breve, long, breve",
      Array.from({ length: 40 }, (_, at) => `${at % 2 ? "B" : "L"} ${"cdefgab"[(at * at + at) % 7]}3`),
    ],
    ["only longs", Array.from({ length: 40 }, (_, at) => `L ${"cdefgab"[(at * at * at + at) % 7]}3`)],
  ])("%s", (_, words) => {
    expect(look(words).found.taleae).toEqual([])
  })
})

test("a long voice that comes again is found in time that does not grow out of hand", () => {
  const { voice } = lawfulVoice(5, { practice: "ars-nova", notes: 100 })
  const long: Voice = { ...voice, signs: Array.from({ length: 20 }, (_, at) => copied(voice, at)).flat() }
  const page = plainPage([long])
  const reading = readVoice(long)
  const spent = effort()
  const { taleae } = findRepetition(page, reading)
  expect(spent()).toBeLessThan(3000)
  expect(taleae[0]!.statements.length).toBe(20)
})

test("the tenor is the voice that says so, else the one with a plan, else the lowest", () => {
  const page = tenorPage(four().flat())
  const [voice] = page.voices as [Voice]
  const plain: Voice = { ...lawfulVoice(3, { practice: "ars-nova", notes: 40 }).voice, label: "Contratenor" }
  const readings = [readVoice(plain), readVoice({ ...voice, label: "fundamentum" })]
  const both: Page = { ...page, voices: [plain, { ...voice, label: "fundamentum" }] }
  expect(chooseTenor(both, readings)?.label).toBe("fundamentum")
  expect(chooseTenor(page, [readVoice(plain), readVoice(voice)])?.label).toBe("tenor")
  expect(chooseTenor({ ...page, voices: [] }, [])).toBeUndefined()
})

function copied({ signs }: Voice, time: number): Sign[] {
  const again = <T extends { readonly id: SignId }>(sign: T): T => ({ ...sign, id: signId(`${sign.id}.${time}`) })
  return signs
    .filter(sign => time === 0 || !("initial" in sign && sign.initial))
    .map(sign => again(sign.kind === "ligature" ? { ...sign, members: sign.members.map(again) } : sign))
}

test("every place of a series has its sign in one of the statements, also where an ending is like them", () => {
  const read = parseShorthand(`voice tenor black practice=ars-antiqua(breveDivision=two-or-three)
clef:C3 L g4 B a a b [B a L b] b b a L a B f L a c5 S a4 f B e f S e e g [L g B g b] c5
c L d g4 B a a [B a L b] b b L a B f L a c5 S a4 f B e f S e e g [L g B g b] B g g b S d5 e L c S b4 c5 c L d`)
  if (!read.ok) throw new Error(read.problems[0]!.what)
  const { colores } = findRepetition(read.value, readVoice(read.value.voices[0]!))
  const missing = colores.flatMap(({ places, statements }) =>
    places.filter((_, place) => statements.every(({ signs }) => (signs[place] ?? null) === null)),
  )
  expect(colores).not.toEqual([])
  expect(missing).toEqual([])
})
