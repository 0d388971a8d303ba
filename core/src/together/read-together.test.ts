import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, toText, type SignId } from "../base/index.js"
import { LEVELS, parseShorthand, type Page } from "../page/index.js"
import { readPage, type Reading, type ReadOptions } from "../reading/index.js"
import { fitOf } from "../score/index.js"
import { readTogether } from "./index.js"
import { lawfulPiece, LAWFUL_PRACTICES, type LawfulPiece } from "./testing/lawful-piece.js"
import {
  differentMensurations,
  innerMeetings,
  lateVoice,
  longGap,
  lostVoice,
  otherValues,
  signChange,
} from "./testing/special.js"
import { runs } from "../base/testing/runs.js"

/** How many notes and rests before the finals are read as meant, in per cent, and how many pieces have the right length. */
function judge(pieces: readonly LawfulPiece[], read: (page: Page) => readonly Reading[]) {
  let notes = 0
  let right = 0
  let met = 0
  for (const { page, durations } of pieces) {
    const readings = read(page)
    if (fitOf(readings).together) met++
    for (const sign of readings.flatMap(one => one.signs)) {
      const meant = durations.get(sign.id)
      if (meant === undefined || sign.held) continue
      notes++
      if (equals(meant, sign.duration)) right++
    }
  }
  return { right: (100 * right) / notes, met: (100 * met) / pieces.length }
}
const alone = (page: Page): readonly Reading[] => readPage(page)
const together = (page: Page): readonly Reading[] => readTogether(page).readings
const many = (make: (seed: number) => LawfulPiece, count = 8) => Array.from({ length: count }, (_, i) => make(i + 1))

describe("pieces whose signs allow two readings", () => {
  for (const practice of LAWFUL_PRACTICES)
    test(`${practice}: voice by voice fails, together succeeds`, () => {
      const pieces = many(seed => lawfulPiece(seed, { practice, doubtful: 0.3 }), 12)
      const one = judge(pieces, alone)
      const all = judge(pieces, together)
      const numbers = `alone ${one.right.toFixed(1)} % right, ${one.met.toFixed(0)} % meet; together ${all.right.toFixed(1)} % right, ${all.met.toFixed(0)} % meet`
      expect(all.right, numbers).toBeGreaterThan(one.right + 1)
      expect(one.met, numbers).toBeLessThan(60)
      expect(all.met, numbers).toBeGreaterThanOrEqual(90)
    })
})

describe("what voices can do to each other", () => {
  const cases: readonly (readonly [string, (seed: number) => LawfulPiece])[] = [
    ["voices of different mensuration", seed => differentMensurations(seed)],
    ["one voice changes its sign while the others stay", seed => signChange(seed)],
    ["a tenor under diminution by its sign", seed => otherValues(seed, "stroke")],
    ["a tenor under diminution by a canon", seed => otherValues(seed, "decrescit in duplo")],
    ["a tenor augmented by a canon", seed => otherValues(seed, "crescit in duplo")],
    ["a voice that enters late", seed => lateVoice(seed)],
    ["a voice with a gap", seed => longGap(seed)],
    ["three voices of which one is lost", seed => lostVoice(seed).left],
    ["ends of sections in all voices", seed => innerMeetings(seed, "finis-punctorum")],
    ["signa congruentiae in all voices", seed => innerMeetings(seed, "signum-congruentiae")],
    ["a general rest", seed => innerMeetings(seed, "general-rest")],
  ]
  for (const [name, make] of cases)
    test(`${name}: read right, and the voices meet`, () => {
      const { right, met } = judge(many(make), together)
      expect(right).toBeGreaterThan(99)
      expect(met).toBe(100)
    })

  test("a tenor whose canon is not on the page is found by its length, and told", () => {
    const { page, durations } = otherValues(3, "crescit in duplo")
    const silent = {
      ...page,
      voices: page.voices.map(voice => ({ ...voice, signs: voice.signs.filter(sign => sign.kind !== "mark") })),
    }
    const { readings } = readTogether(silent)
    expect(judge([{ ...otherValues(3, "crescit in duplo"), page: silent, durations }], together).right).toBeGreaterThan(
      99,
    )
    expect(readings.flatMap(one => one.problems).map(one => one.code)).toEqual(["other-values"])
  })
})

describe("laws", () => {
  const seeds = fc.record({
    seed: fc.nat(1e6),
    practice: fc.constantFrom(...LAWFUL_PRACTICES),
    doubtful: fc.constantFrom(0, 0.3),
  })
  const pieceOf = ({
    seed,
    practice,
    doubtful,
  }: {
    seed: number
    practice: (typeof LAWFUL_PRACTICES)[number]
    doubtful: number
  }) => lawfulPiece(seed, { practice, doubtful, notes: 30 })
  const durationsOf = (readings: readonly Reading[]) =>
    new Map(
      readings.flatMap(one => one.signs.map(sign => [sign.id, `${toText(sign.duration)} ${sign.doubt}`] as const)),
    )

  test("the order of the voices in the file says nothing", () =>
    fc.assert(
      fc.property(seeds, fc.nat(2), (of, turn) => {
        const { page } = pieceOf(of)
        const voices = [...page.voices.slice(turn), ...page.voices.slice(0, turn)].reverse()
        expect(durationsOf(together({ ...page, voices }))).toEqual(durationsOf(together(page)))
      }),
      { numRuns: runs(15) },
    ))

  test("voices that fit are not disturbed by one that does not", () =>
    fc.assert(
      fc.property(seeds, of => {
        const { page } = pieceOf(of)
        fc.pre(readTogether(page).meeting.length === page.voices.length)
        const other = lawfulPiece(of.seed + 1, { practice: of.practice, notes: 47 }).page.voices[0]!
        const stranger = { ...other, id: "stranger" as typeof other.id, label: "stranger", signs: renamed(other.signs) }
        const readings = readTogether({ ...page, voices: [...page.voices, stranger] })
        fc.pre(!readings.meeting.includes(stranger.id))
        const before = durationsOf(together(page))
        const after = durationsOf(readings.readings.slice(0, -1))
        expect(after).toEqual(before)
      }),
      { numRuns: runs(15) },
    ))

  test("rests keep their length, decisions stand", () =>
    fc.assert(
      fc.property(seeds, fc.nat(1000), (of, at) => {
        const { page } = pieceOf(of)
        const before = readPage(page)
        const notes = before.flatMap(one =>
          one.signs.filter(sign => sign.rivals.length > 0 && sign.kind === "note" && !sign.held),
        )
        fc.pre(notes.length > 0)
        const note = notes[at % notes.length]!
        const { num, den } = note.rivals[0]!.duration
        const options: ReadOptions = { decisions: new Map([[note.id, [num, den] as const]]) }
        const readings = readTogether(page, options).readings
        const decided = readings.flatMap(one => one.signs).find(sign => sign.id === note.id)!
        expect([toText(decided.duration), decided.decidedBy]).toEqual([toText(note.rivals[0]!.duration), "decision"])
        // what a stroke of a third of a space lasts before minims are drawn is told by its place in its group
        const fixed = of.practice === "ars-nova" || of.practice === "white" ? LEVELS : LEVELS.slice(0, 3)
        const rests = (all: readonly Reading[]): [SignId, string][] =>
          all.flatMap(one =>
            one.signs
              .filter(({ kind, level }) => kind === "rest" && level !== null && fixed.includes(level))
              .map(sign => [sign.id, toText(sign.duration)] as [SignId, string]),
          )
        expect(rests(readings)).toEqual(rests(before))
      }),
      { numRuns: runs(15) },
    ))
})

type Signs = Page["voices"][number]["signs"]
const renamed = (signs: Signs): Signs =>
  JSON.parse(JSON.stringify(signs).replaceAll(/"id":"/g, '"id":"stranger.')) as Signs

test("what the others decided is marked, with what they said", () => {
  const readings = many(seed => lawfulPiece(seed, { practice: "ars-antiqua", doubtful: 0.5 }), 6).flatMap(({ page }) =>
    together(page),
  )
  const decided = readings.flatMap(one => one.signs.filter(sign => sign.decidedBy === "others"))
  expect(decided.length).toBeGreaterThan(20)
  for (const sign of decided) expect(sign.others?.voices.length, sign.id).toBeGreaterThan(0)
  expect(new Set(decided.map(sign => sign.others?.how))).toEqual(new Set(["meet", "sound"]))
})

test("one voice by itself is read as it is alone", () => {
  const { page } = lawfulPiece(4, { practice: "ars-nova" })
  const single = { ...page, voices: page.voices.slice(0, 1) }
  expect(together(single)[0]!.signs.map(sign => toText(sign.duration))).toEqual(
    readPage(single)[0]!.signs.map(sign => toText(sign.duration)),
  )
})

test("a page without voices, or with an empty one, is read", () => {
  const { page } = lawfulPiece(4, { practice: "ars-nova" })
  expect(together({ ...page, voices: [] })).toEqual([])
  const empty = { ...page.voices[0]!, id: "empty" as (typeof page.voices)[0]["id"], signs: [] }
  expect(together({ ...page, voices: [empty, ...page.voices] })).toHaveLength(4)
})

/** A long, five breves, a long: 2 1 1 1 1 1 2, or 3 1 1 1 1 2 3. The tenor's sections say which, one longer, one shorter. */
test("voices meet where sections end, also against what sounds better", () => {
  const five = (last: string) => `L c4 B c c c c c L ${last}`
  const cantus = `${five("d4")} finis ${five("c4")} finis L c4`
  const tenor = "L c4 c c c finis L c c B c L c finis L c"
  const read = parseShorthand(
    `voice cantus black practice=ars-antiqua\nclef:C3 mens:modus=3\n${cantus}\n\nvoice tenor black practice=ars-antiqua\nclef:C3 mens:modus=3\n${tenor}`,
  )
  if (!read.ok || read.problems.length > 0) throw new Error(read.problems[0]?.what)
  const onsets = readTogether(read.value)
    .readings[0]!.signs.filter(sign => sign.number > 0)
    .map(sign => toText(sign.onset))
  expect([onsets[6], onsets[13], onsets[14]]).toEqual(["9", "19", "21"])
})

test("that minims are not drawn is shown by one voice and holds for all", () => {
  let differing = 0
  for (let seed = 1; seed <= 40; seed++) {
    const { page } = lawfulPiece(seed, { practice: "ars-nova-early", notes: 25 })
    const voices = page.voices.map(voice => ({ ...voice, practice: { name: "ars-nova", options: {} } }))
    const minims = (all: readonly Reading[]) => all.map(one => one.practice.options["minims"])
    const apart = new Set(minims(readPage({ ...page, voices })))
    if (apart.size < 2) continue
    differing++
    expect(new Set(minims(together({ ...page, voices })))).toEqual(new Set(["unwritten"]))
  }
  expect(differing).toBeGreaterThan(5)
})

test("minims that stand on the page are no plain semibreves, though a slip keeps the voices from meeting", () => {
  let apart = 0
  for (let seed = 1; seed <= 30; seed++) {
    const { page } = lawfulPiece(seed, { practice: "ars-nova", voices: 2, notes: 25 })
    const voices = page.voices.map(({ signs, ...voice }) => {
      const lost = signs.findIndex(({ kind }, at) => at > signs.length / 2 && kind === "note")
      const left = voice.label === page.voices[0]!.label ? signs.toSpliced(lost, 1) : signs
      return { ...voice, signs: left, practice: { name: "ars-nova", options: {} } }
    })
    const read = readTogether({ ...page, voices })
    if (read.meeting.length < voices.length) apart++
    expect(read.readings.map(one => one.practice.options["minims"])).toEqual(voices.map(() => "written"))
  }
  expect(apart).toBeGreaterThan(2)
})

test("a superfluous dot, after a note that is perfect anyhow, parts nothing where the voices meet only so", () => {
  // Tractatus super punctis musicalibus, 1470s, 15
  const sign = "mens:modusmaior=2:modus=3:tempus=3:prolatio=3"
  const upper = "L c4 S c4 . S d M e . M f S e L d B c L c"
  const text = `voice upper black practice=ars-nova\n${sign} ${upper}\nvoice tenor black practice=ars-nova\n${sign} B c3 d e g a b L c3`
  const read = parseShorthand(text)
  if (!read.ok) throw new Error(read.problems[0]?.what)
  const { readings } = readTogether(read.value)
  expect(fitOf(readings).together).toBe(true)
  const lasting = readings[0]!.signs.filter(one => one.number > 0).map(one => toText(one.duration))
  expect(lasting.slice(0, 6)).toEqual(["18", "3", "2", "1", "1", "2"])
})
