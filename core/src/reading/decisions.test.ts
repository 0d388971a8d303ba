/** What an editor decides is kept, the rest is read around it, and the rules still say what they would have read. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, plus, ratio, signId, toText, ZERO, type Rational } from "../base/index.js"
import { flatSigns, parseShorthand, type Decision, type Page, type Voice } from "../page/index.js"
import { explainLong, explainShort, readPage, readVoice, rereadVoice, type Reading } from "./index.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "./testing/lawful.js"

function pageOf(text: string): Page {
  const read = parseShorthand(text)
  expect(read.problems).toEqual([])
  if (!read.ok) throw new Error("not read")
  return read.value
}
const NOVA = "voice cantus black practice=ars-nova\n"
const EARLY = "voice triplum black practice=ars-nova(minims=unwritten)\n"
const ANTIQUA = "voice motetus black practice=ars-antiqua\n"

const only = (page: Page): Reading => readPage(page)[0]!
const lengths = ({ signs }: Reading): string =>
  signs
    .filter(sign => sign.number > 0)
    .map(sign => toText(sign.duration))
    .join(" ")
const entry = (reading: Reading, id: string) => reading.signs.find(sign => sign.id === id)!

describe("a fixed duration", () => {
  test("is kept, and what stands beside it is read anew", () => {
    const text = `${NOVA}O Bo So So Bo Bo So Bo Bo`
    expect(lengths(only(pageOf(text)))).toBe("6 2 4 6 4 2 6 6")
    const decided = only(pageOf(`${text}\ndecision on=1.4 duration=2`))
    expect(lengths(decided)).toBe("6 2 2 6 4 2 6 6")
    expect(entry(decided, "1.4")).toMatchObject({
      duration: { num: 2, den: 1 },
      decidedBy: "decision",
      rule: "decision",
      rulesSay: { num: 4, den: 1 },
      doubt: 0,
    })
    expect(decided.signs.filter(sign => sign.rulesSay !== undefined)).toHaveLength(1)
  })

  test("is in the unit of the voice also under a proportion", () => {
    const reading = only(pageOf(`${NOVA}C Bo prop:3/2 Bo Bo Bo\ndecision on=1.4 duration=8/3`))
    expect(lengths(reading)).toBe("4 8/3 8/3 8/3")
    expect(entry(reading, "1.4").rulesSay).toBeUndefined()
    expect(explainShort(reading, entry(reading, "1.4"))).toContain("Without any decision it would be read so too")
  })

  test("takes the dot after it for what it then is", () => {
    const reading = only(pageOf(`${NOVA}C Bo . So Bo\ndecision on=1.2 duration=6`))
    expect(entry(reading, "1.3").takenFor).toBe("punctus-additionis")
    const perfect = only(pageOf(`${NOVA}O Bo . So So So Bo\ndecision on=1.2 duration=6`))
    expect(entry(perfect, "1.3").takenFor).toBe("punctus-perfectionis")
  })

  test("holds in a ligature", () => {
    const page = pageOf(`${NOVA}O [a3/up g] Bo\ndecision on=1.3 duration=2`)
    const reading = only(page)
    expect(entry(reading, "1.3")).toMatchObject({ duration: { num: 2, den: 1 }, decidedBy: "decision" })
  })

  test("of one semibreve in a group leaves the others what the breve still holds", () => {
    const text = `${ANTIQUA}Lo Bo So So So Bo Lo`
    const plain = only(pageOf(text))
    expect(lengths(plain)).toContain("1/3 1/3 1/3")
    const reading = only(pageOf(`${text}\ndecision on=1.3 duration=1/2`))
    const group = ["1.3", "1.4", "1.5"].map(id => entry(reading, id))
    expect(group.map(one => toText(one.duration))).toEqual(["1/2", "1/4", "1/4"])
    expect(group.map(one => one.decidedBy)).toEqual(["decision", "voice", "voice"])
    expect(toText(reading.duration)).toBe(toText(plain.duration))
  })

  test("of a plain semibreve of c. 1320 likewise", () => {
    const text = `${EARLY}O Bo So So So . So So So Bo`
    const reading = only(pageOf(`${text}\ndecision on=1.3 duration=1`))
    expect(["1.3", "1.4", "1.5"].map(id => toText(entry(reading, id).duration))).toEqual(["1", "5/2", "5/2"])
    expect(toText(reading.duration)).toBe(toText(only(pageOf(text)).duration))
  })

  test("that no group can hold stands by itself", () => {
    const reading = only(pageOf(`${ANTIQUA}Lo Bo So So So Bo Lo\ndecision on=1.3 duration=2`))
    expect(entry(reading, "1.3").duration).toEqual({ num: 2, den: 1 })
  })
})

describe("a refused duration", () => {
  test("is not read; the rules choose among the others and say what they would have read", () => {
    const text = `${NOVA}O Bo So Bo So Bo Bo`
    const plain = only(pageOf(text))
    const first = plain.signs.find(sign => sign.number === 1)!
    const reading = only(pageOf(`${text}\ndecision on=1.2 not=${toText(first.duration)}`))
    const now = entry(reading, "1.2")
    expect(equals(now.duration, first.duration)).toBe(false)
    expect(now).toMatchObject({ decidedBy: "voice", rulesSay: first.duration, refused: [first.duration] })
    expect(now.rivals.some(rival => equals(rival.duration, first.duration))).toBe(false)
    expect(explainShort(reading, now)).toContain(`An editor refused ${toText(first.duration)}`)
  })

  test("holds in a group of semibreves too", () => {
    const text = `${ANTIQUA}Lo Bo So So So So So Bo Lo`
    const plain = only(pageOf(text))
    const second = entry(plain, "1.4").duration
    const reading = only(pageOf(`${text}\ndecision on=1.4 not=${toText(second)}`))
    expect(equals(entry(reading, "1.4").duration, second)).toBe(false)
    expect(reading.problems).toEqual([])
  })

  test("where nothing else is left is told of and passed over", () => {
    const reading = only(pageOf(`${NOVA}C Bo rB Bo\ndecision on=1.3 not=4`))
    expect(lengths(reading)).toBe("4 4 4")
    expect(reading.problems.map(one => one.code)).toEqual(["decision-not-kept"])
    expect(reading.problems[0]!.where).toMatchObject({ sign: "1.3" })
  })
})

test("a dot that cannot be what was decided is read as if nothing had been", () => {
  const text = `${NOVA}C\nMo So Mo So . Mo So Mo Mo Mo`
  const plain = only(pageOf(text))
  const reading = only(pageOf(`${text}\ndecision on=1.6 dot=perfection`))
  expect(reading.problems.map(one => one.code)).toEqual(["decision-not-kept"])
  expect(reading.problems[0]!.what).toContain("on the mark after")
  expect(lengths(reading)).toBe(lengths(plain))
  expect(entry(reading, "1.6").takenFor).toBe("punctus-additionis")
})

describe("what a dot is", () => {
  const text = `${NOVA}C.\nMo So . Mo Mo Mo So Mo So`
  test.each([
    ["division", "punctus-divisionis"],
    ["addition", "punctus-additionis"],
    ["perfection", "punctus-perfectionis"],
  ])("can be decided: %s", (dot, rule) => {
    const reading = only(pageOf(`${text}\ndecision on=1.4 dot=${dot}`))
    const plain = only(pageOf(text))
    expect(entry(reading, "1.4")).toMatchObject({ takenFor: rule, decidedBy: "decision" })
    const same = entry(plain, "1.4").takenFor === rule
    expect(entry(reading, "1.4").rulesTakeFor).toBe(same ? undefined : entry(plain, "1.4").takenFor)
    expect(reading.problems.filter(one => one.code.startsWith("decision"))).toEqual([])
    expect(explainShort(reading, entry(reading, "1.4"))).toContain("An editor decided so")
  })

  test("but not against all rules: then it is told of", () => {
    const reading = only(pageOf(`${NOVA}C Bo . So Bo Bo\ndecision on=1.3 dot=perfection`))
    expect(reading.problems.map(one => one.code)).toEqual(["decision-not-kept"])
    expect(entry(reading, "1.3").decidedBy).toBe("voice")
  })

  test("also of a stroke that might keep a long perfect", () => {
    const reading = only(pageOf(`${ANTIQUA}Lo perfectionis Bo Bo Bo Lo\ndecision on=1.2 dot=division`))
    expect(entry(reading, "1.2")).toMatchObject({ takenFor: "punctus-divisionis" })
  })
})

describe("a decision that cannot be", () => {
  const page = pageOf(`${NOVA}C clef:C3:within Bo . So Bo So`)
  const decided = (...decisions: object[]): Reading =>
    only({ ...page, decisions: decisions.map((one, i) => ({ id: signId(`d${i}`), ...one }) as Decision) })
  const time = (num: number, den = 1): Rational => ({ num, den })
  const note = signId("1.3")
  const dot = signId("1.4")

  test.each<[string, object[]]>([
    ["negative", [{ sign: note, duration: time(-4) }]],
    ["zero", [{ sign: note, duration: time(0) }]],
    ["endless", [{ sign: note, duration: time(1e9) }]],
    ["cut too fine", [{ sign: note, duration: time(1, 1009) }]],
    ["negative refusal", [{ sign: note, not: [time(-1)] }]],
    ["on a sign that is not there", [{ sign: signId("9.9"), duration: time(4) }]],
    ["a duration of a dot", [{ sign: dot, duration: time(4) }]],
    ["a meaning of a note", [{ sign: note, dot: "division" }]],
    ["a duration of a clef", [{ sign: signId("1.2"), duration: time(4) }]],
  ])("is told of and does no harm: %s", (_, decisions) => {
    const reading = decided(...decisions)
    expect(lengths(reading)).toBe(lengths(only(page)))
    expect(reading.problems.map(one => one.code)).toEqual(["decision-impossible"])
    const [problem] = reading.problems
    expect([problem!.what, problem!.mend, problem!.where!.place].every(Boolean)).toBe(true)
  })

  test("two that contradict each other: the later holds, a fixed duration before a refusal", () => {
    const two = decided({ sign: note, duration: time(4) }, { sign: note, duration: time(6) })
    expect(entry(two, note).duration).toEqual(time(6))
    expect(two.problems.map(one => one.code)).toEqual(["decision-impossible"])
    const both = decided({ sign: note, not: [time(6)] }, { sign: note, duration: time(6) })
    expect(entry(both, note).duration).toEqual(time(6))
    expect(both.problems.map(one => one.code)).toEqual(["decision-impossible"])
  })
})

describe("whatever is decided", () => {
  const lengthsToTry: Rational[] = [1, 2, 3, 4, 6, 9].flatMap(num => [1, 2, 3].map(den => ratio(num, den)))
  const decisions = fc.array(
    fc.record({ at: fc.nat(1000), lasts: fc.constantFrom(...lengthsToTry), refuses: fc.boolean() }),
    { minLength: 1, maxLength: 6 },
  )
  const made = (voice: Voice, all: readonly { at: number; lasts: Rational; refuses: boolean }[]): Decision[] => {
    const figures = flatSigns(voice).filter(({ sign }) => sign.kind === "note" || sign.kind === "rest")
    return all.map(({ at, lasts, refuses }, i) => ({
      id: signId(`d${i}`),
      sign: figures[at % figures.length]!.sign.id,
      ...(refuses ? { not: [lasts] } : { duration: lasts }),
    }))
  }

  test.each(LAWFUL_PRACTICES)("fixed durations are kept, refused ones kept or told of, time adds up: %s", practice => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), decisions, (seed, all) => {
        const { voice } = lawfulVoice(seed, { practice, notes: 40 })
        const pageDecisions = made(voice, all)
        const reading = readVoice(voice, { pageDecisions })
        let time = ZERO
        for (const sign of reading.signs) {
          expect(equals(sign.onset, time)).toBe(true)
          time = plus(time, sign.duration)
        }
        const last = new Map(pageDecisions.flatMap(one => (one.duration ? [[one.sign, one.duration] as const] : [])))
        for (const [id, duration] of last) expect(entry(reading, id).duration).toEqual(duration)
        const told = new Set(
          reading.problems.filter(one => one.code === "decision-not-kept").map(one => one.where!.sign),
        )
        for (const { sign, not } of pageDecisions)
          if (not && !last.has(sign) && !told.has(sign))
            expect(not.some(one => equals(one, entry(reading, sign).duration))).toBe(false)
      }),
      { numRuns: 60 },
    )
  })
})

test("read again after a decision, what it cannot touch is not made anew", () => {
  const { voice } = lawfulVoice(11, { practice: "ars-nova", notes: 400 })
  const before = readVoice(voice)
  const late = before.signs.findLast(sign => sign.number > 0 && sign.number < 380)!
  const pageDecisions: Decision[] = [{ id: signId("d"), sign: late.id, duration: ratio(2) }]
  const after = rereadVoice(before, voice, { pageDecisions })
  expect(after).toEqual(readVoice(voice, { pageDecisions }))
  const untouched = after.signs.slice(0, 300).filter((sign, i) => sign.number > 0 && sign !== before.signs[i])
  expect(untouched).toEqual([])
})

test("the long story names the decision, who made it and why", () => {
  const page = pageOf(`person ed "The editor"\n${NOVA}O Bo So So Bo\ndecision on=1.4 duration=2 who=ed why="as before"`)
  const story = explainLong(page, 0, only(page), "1.4").join("\n")
  expect(story).toContain("An editor decided it: 2")
  expect(story).toContain("The rules would have read 4.")
  expect(story).toContain("Decision decision-1: it lasts 2 minims (The editor: as before).")
})
