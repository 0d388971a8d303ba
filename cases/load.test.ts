import { ratio } from "@resolutio/core"
import { describe, expect, test } from "vitest"
import { parseCases } from "./load.js"

const text = `# about breves
== One unit between two larger notes
source: a treatise, c. 1300, ch. 1
practice: ars-nova, white
options: groupRule=by-threes

S L
B S B

-> 4 2/3 2+1
rules: imperfectio-a-parte-post * nothing-acts
borne: alteratio
with fourRule=split: 6 2 4
# why not

== The second
source: s
practice: p

B
-> 3
`

describe("a case file", () => {
  test("is read whole", () => {
    const [first, second] = parseCases(text, "a.txt")
    expect(first).toMatchObject({
      line: 2,
      title: "One unit between two larger notes",
      source: "a treatise, c. 1300, ch. 1",
      practices: ["ars-nova", "white"],
      options: { groupRule: "by-threes" },
      shorthand: "S L\nB S B\n",
      rules: ["imperfectio-a-parte-post", "*", "nothing-acts"],
      borne: ["alteratio"],
      dots: [],
    })
    expect(first?.expected.durations).toEqual([
      { duration: ratio(4) },
      { duration: ratio(2, 3) },
      { duration: ratio(3), plica: ratio(1) },
    ])
    expect(first?.accepted).toEqual([
      { options: { fourRule: "split" }, durations: [6, 2, 4].map(n => ({ duration: ratio(n) })) },
    ])
    expect(second).toMatchObject({ line: 16, title: "The second", options: {}, rules: [] })
  })
  test("may say nothing of durations", () => {
    const [one] = parseCases("== t\nsource: s\npractice: p\n\nS o\n-> *\nproblems: any", "a.txt")
    expect(one).toMatchObject({ expected: { durations: [] }, problems: ["any"] })
  })
  test.each([
    ["words before the first case", "B\n== t", /a\.txt, line 1: a case begins/],
    ["no arrow", "== t\nsource: s\npractice: p\n\nB", /line 1: after the head/],
    ["no source", "== t\npractice: p\n\nB\n-> 3", /line 1: a case needs its source/],
    ["an unknown line", "== t\nsource: s\npractice: p\nwhy: x\n\nB\n-> 3", /line 4: "why: x" is none of/],
    ["a strange duration", "== t\nsource: s\npractice: p\n\nB\n-> x", /line 6: "x" is no duration/],
    ["too few rules", "== t\nsource: s\npractice: p\n\nB B\n-> 3 3\nrules: alteratio", /2 durations but 1 rules/],
    ["a strange option", "== t\nsource: s\npractice: p\noptions: x\n\nB\n-> 3", /"x" is not option=value/],
  ])("with %s is refused, with its line", (_, wrong, message) => {
    expect(() => parseCases(wrong, "a.txt")).toThrow(message)
  })
})
