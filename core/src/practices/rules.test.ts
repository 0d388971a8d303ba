/** Every rule and option of every practice says who taught it, and rules are known by one list of ids. */
import { describe, expect, test } from "vitest"
import { SENTENCES } from "../reading/sentences.js"
import { ALIASES, PRACTICES, practiceNamed, RULE_IDS, settingsOf } from "./index.js"

/** Ids of the theory for which no practice is here yet. */
const NOT_YET = ["modus-rhythmicus", "extensio-modi", "fractio-modi"]
/** Ids that are named without a rule of a practice. */
const WITHOUT_RULE = ["decision", "given"]
const MARKS = ["read", "memory", "inference"]

describe.each(PRACTICES.map(practice => [practice.name, practice] as const))(
  "%s",
  (name, { rules, options, title }) => {
    test("has a title, and is found by its name", () => {
      expect(title).toMatch(/\d{4}/)
      expect(practiceNamed(name)?.name).toBe(name)
      expect(practiceNamed(name.replace("-", "."))?.name).toBe(name)
    })
    test("each rule has a source with treatise, place and how sure it is", () => {
      const bare = rules.flatMap(({ id, sources }) =>
        sources.length > 0 && sources.every(one => one.treatise.trim() && one.place.trim() && MARKS.includes(one.mark))
          ? []
          : [id],
      )
      expect(bare).toEqual([])
      expect(rules.length).toBeGreaterThan(15)
    })
    test("a treatise is told with its date, or as common practice", () => {
      const undated = rules.flatMap(({ id, sources }) =>
        sources
          .filter(one => !/\d{3}|14th c|\bcommon practice\b|Guidelines/i.test(one.treatise))
          .map(one => `${id}: ${one.treatise}`),
      )
      expect(undated).toEqual([])
    })
    test("each rule id is one of the list, and stands once", () => {
      const ids = rules.map(rule => rule.id)
      expect(ids.filter(id => !(id in RULE_IDS))).toEqual([])
      expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([])
    })
    test("each rule can be told in a sentence", () => {
      expect(rules.map(rule => rule.id).filter(id => !(id in SENTENCES))).toEqual([])
    })
    test("each option has a name of its own, a meaning, a source, values, and a default among them", () => {
      const names = options.map(option => option.name)
      expect(names.filter((one, at) => names.indexOf(one) !== at)).toEqual([])
      const bare = options.filter(
        one => !one.meaning.trim() || !one.source.trim() || one.values.length < 2 || !one.values.includes(one.default),
      )
      expect(bare.map(one => one.name)).toEqual([])
      expect(options.filter(one => new Set(one.values).size !== one.values.length)).toEqual([])
    })
    test("every value of every option can be chosen, and nothing else", () => {
      for (const { name: option, values } of options) {
        for (const value of values)
          expect(settingsOf(practiceNamed(name)!, { [option]: value })).toMatchObject({
            ok: true,
            value: { [option]: value },
          })
        expect(settingsOf(practiceNamed(name)!, { [option]: "no such value" }).ok).toBe(false)
      }
    })
  },
)

describe("the list of ids", () => {
  const used = new Set(PRACTICES.flatMap(practice => practice.rules.map(rule => rule.id)))
  test("holds nothing that no practice uses, but for the rhythmic modes and what is no rule", () => {
    const unused = Object.keys(RULE_IDS).filter(id => !used.has(id))
    expect(unused.sort()).toEqual([...NOT_YET, ...WITHOUT_RULE].sort())
  })
  test("says of each in a few words what it means", () => {
    const meanings = Object.values(RULE_IDS)
    expect(meanings.filter(one => one.trim().length < 10)).toEqual([])
    expect(new Set(meanings).size).toBe(meanings.length)
    expect(Object.keys(RULE_IDS).filter(id => !/^[a-z]+(-[a-z]+)*$/.test(id))).toEqual([])
  })
  test("the sentences are about these ids and no others", () => {
    const ids = Object.keys(RULE_IDS).filter(id => !NOT_YET.includes(id))
    expect(Object.keys(SENTENCES).sort()).toEqual(ids.sort())
  })
})

describe("other names of options", () => {
  test.each([
    ["manyBreves", "acm-1280", { "groupRule.modus": "first-imperfect" }],
    ["manyBreves", "by-threes", { "groupRule.modus": "by-threes" }],
    ["groupRule", "c1280", { "groupRule.modus": "first-imperfect", "groupRule.prolatio": "first-imperfect" }],
    ["groupRule", "libellus", { "groupRule.modus": "by-threes", "groupRule.tempus": "by-threes" }],
    ["groupRule", "practica1496", { "groupRule.tempus": "practica-1496", "groupRule.prolatio": "practica-1496" }],
    ["groupRule", "by-threes", { "groupRule.modus": "by-threes", "groupRule.prolatio": "by-threes" }],
    ["fourRule", "ante-if-possible", { "groupRule.tempus": "practica-1496" }],
    ["fourRule", "post", { "groupRule.tempus": "by-threes" }],
  ])("%s=%s", (name, value, expected) => {
    for (const practice of PRACTICES)
      expect(settingsOf(practice, { [name]: value })).toMatchObject({ ok: true, value: expected })
  })
  test("stand for options that each practice has, and are no options themselves", () => {
    expect(Object.keys(ALIASES).sort()).toEqual(["fourRule", "groupRule", "manyBreves"])
    for (const { options } of PRACTICES) expect(options.filter(one => Object.hasOwn(ALIASES, one.name))).toEqual([])
  })
  test("a value that nobody knows is refused under the option's own name", () => {
    const result = settingsOf(PRACTICES[0]!, { groupRule: "by-fives" })
    expect(result.problems.map(one => one.code)).toEqual(Array<string>(3).fill("unknown-option-value"))
  })
})
