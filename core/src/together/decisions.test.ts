/** Voices read together never break what an editor decided. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { equals, ratio, signId, times, toText, type SignId } from "../base/index.js"
import { flatSigns, parseShorthand, type Decision, type Page } from "../page/index.js"
import { changesBetween, explainShort } from "../reading/index.js"
import { lawfulVoice } from "../reading/testing/lawful.js"
import { fitOf } from "../score/index.js"
import { readTogether } from "./read-together.js"
import { innerMeetings } from "./testing/special.js"
import { runs } from "../base/testing/runs.js"

function pageOf(text: string): Page {
  const read = parseShorthand(text)
  if (!read.ok) throw new Error("not read")
  return read.value
}
const DUET = `voice motetus black practice=ars-antiqua
L a3 B b a g a b L a B b c4 b3 L a
voice tenor black practice=ars-antiqua
L a3 L g a L f L a L f
`
/** Five breves between longs: by itself the first long would be imperfect, and no breve altered. */
const FIVE = `voice motetus black practice=ars-antiqua
L c4 B d e d c b3 L c4 B e d c L d c
voice tenor black practice=ars-antiqua
L c4 g3 a g c4 g3 c
`
/** By sign, in which section of its voice it stands. */
function sectionsOf(signs: Page["voices"][number]["signs"]): [SignId, number][] {
  let section = 0
  return signs.flatMap((sign): [SignId, number][] => {
    const all = sign.kind === "ligature" ? [sign.id, ...sign.members.map(one => one.id)] : [sign.id]
    const told = all.map((id): [SignId, number] => [id, section])
    if (sign.kind === "stroke" && sign.form === "finis-punctorum") section++
    return told
  })
}
const lengths = (page: Page): string[] =>
  readTogether(page).readings.map(({ signs }) =>
    signs
      .filter(sign => sign.number > 0)
      .map(sign => toText(sign.duration))
      .join(" "),
  )

describe("voices read together", () => {
  test("keep a decision against the others, and refuse what an editor refuses", () => {
    const free = readTogether(pageOf(DUET)).readings[0]!.signs[0]!
    const wanted = equals(free.duration, ratio(2)) ? 3 : 2
    const decided = readTogether(pageOf(`${DUET}\ndecision on=1.1 duration=${wanted}`)).readings[0]!.signs[0]!
    expect(decided).toMatchObject({ duration: ratio(wanted), decidedBy: "decision", rule: "decision" })
    const refused = readTogether(pageOf(`${DUET}\ndecision on=1.1 not=${toText(free.duration)}`)).readings[0]!.signs[0]!
    expect(equals(refused.duration, free.duration)).toBe(false)
    expect(refused.refused).toEqual([free.duration])
  })

  test("read otherwise only what a decision can reach: no section but its own, where all voices end sections together", () => {
    let decided = 0
    let moved = 0
    for (let seed = 1; seed <= 6; seed++) {
      const { page } = innerMeetings(seed, "finis-punctorum")
      const before = readTogether(page)
      const sections = new Map(page.voices.flatMap(({ signs }) => sectionsOf(signs)))
      const notes = before.readings[seed % 3]!.signs.filter(one => one.kind === "note" && sections.get(one.id) === 1)
      // the last note of a section lasts beyond the meeting
      for (let at = 2; at < notes.length - 1; at += 3) {
        const note = notes[at]!
        const decision: Decision = { id: signId("k"), sign: note.id, duration: times(note.duration, ratio(2)) }
        const after = readTogether({ ...page, decisions: [decision] }, {}, before)
        // what its own section cannot take is made up for in others
        if (!fitOf(after.readings).together) continue
        decided++
        const changes = changesBetween(before.readings, after.readings)
        for (const one of changes) expect(sections.get(one.after.id), `seed ${seed}, ${one.after.id}`).toBe(1)
        moved += changes.length
      }
    }
    expect(decided).toBeGreaterThan(10)
    expect(moved).toBeGreaterThan(decided)
  })

  test("say what the voices together would have read, where the voice's own rules say what was decided", () => {
    const five = pageOf(FIVE)
    const free = readTogether(five).readings[0]!.signs
    expect([free[0]!, free[5]!].map(sign => toText(sign.duration))).toEqual(["3", "2"])
    const before = readTogether(five)
    for (const last of [undefined, before]) {
      const decided = readTogether(pageOf(`${FIVE}decision on=1.6 duration=1`), {}, last).readings[0]!
      expect(decided.signs[5]).toMatchObject({ rulesSay: ratio(2), othersSay: true })
      expect(explainShort(decided, decided.signs[5]!)).toContain("The voices together would have read 2.")
    }
    // what agrees with all voices is no disagreement, whatever the voice by itself would say
    const same = readTogether(pageOf(`${FIVE}decision on=1.6 duration=2`)).readings[0]!
    expect(same.signs[5]!.rulesSay).toBeUndefined()
  })

  test("tell of decisions on signs that are not there, and read as without them", () => {
    const page = pageOf(`${DUET}\ndecision on=9.9 duration=2`)
    expect(lengths(page)).toEqual(lengths(pageOf(DUET)))
    const problems = readTogether(page).readings.flatMap(one => one.problems)
    expect(problems.map(one => one.code)).toContain("decision-impossible")
  })

  test("keep whatever is fixed, and read again after a decision what they would read afresh", () => {
    const decision = fc.record({ at: fc.nat(200), num: fc.constantFrom(1, 2, 3, 4, 6), voice: fc.nat(1) })
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e5 }), fc.array(decision, { minLength: 1, maxLength: 3 }), (seed, all) => {
        const voices = [0, 1].map(i => lawfulVoice(seed + i, { practice: "ars-nova", notes: 30, label: `v${i}` }).voice)
        const page: Page = { title: "", voices, shapes: [], surfaces: [], zones: [], alternatives: [] }
        const decisions = all.map(({ at, num, voice }, i): Decision => {
          const figures = flatSigns(voices[voice]!).filter(({ sign }) => sign.kind === "note" || sign.kind === "rest")
          return { id: signId(`d${i}`), sign: figures[at % figures.length]!.sign.id, duration: ratio(num) }
        })
        const after = readTogether({ ...page, decisions }, {}, readTogether(page))
        expect(after.readings).toEqual(readTogether({ ...page, decisions }).readings)
        const last = new Map(decisions.map(one => [one.sign, one.duration!]))
        const units = after.readings.flatMap(one => one.signs.filter(sign => last.has(sign.id)))
        for (const sign of units) expect(sign.decidedBy).toBe("decision")
        const scaled = after.readings.some(one => one.problems.some(({ code }) => code === "other-values"))
        if (!scaled) for (const sign of units) expect(sign.duration).toEqual(last.get(sign.id))
      }),
      { numRuns: runs(12) },
    )
  })
})
