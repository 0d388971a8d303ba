import { describe, expect, test } from "vitest"
import { parseShorthand, printShorthand } from "./index.js"

/** "line:column code" of every problem. */
function problemsOf(text: string): string[] {
  return parseShorthand(text, "x.figurae").problems.map(({ code, where }) => `${where?.line}:${where?.column} ${code}`)
}

test.each([
  // text                                problems
  ["c4", ["1:1 no-level"]],
  ["B c4 ? r", ["1:8 no-level"]],
  ["?o [c4 r d]", ["1:8 no-level"]],
  ["B c4 r?", ["1:6 no-level"]],
  ["B c4:duplex", ["1:3 not-a-longa"]],
  ["B c4:by-editor", ["1:3 no-accidental"]],
  ["B c4:given", ["1:5 bad-property"]],
  ["B c4_ d", ["1:3 no-oblique-body"]],
  ["B ._", ["1:4 unknown-property"]],
  ["B [c4 d_]", ["1:7 no-oblique-body"]],
  ["B [c4_ d_ e]", ["1:8 no-oblique-body"]],
  ["B [c4_ . e]", ["1:4 no-oblique-body"]],
  ["B c", ["1:3 no-octave"]],
  ["Bo H4", ["1:4 unknown-word"]],
  ["B c4 foo d", ["1:6 unknown-word"]],
  ["B c4\n  zig zag", ["2:3 unknown-word", "2:7 unknown-word"]],
  ["B:red c4", ["1:2 loose-suffix"]],
  ["B c4:rde", ["1:5 unknown-property"]],
  ["B c4:loc=3", ["1:5 unknown-property"]],
  ["B c4:red:void", ["1:9 said-twice"]],
  ["B c4:given(quick)", ["1:5 bad-property"]],
  ["B c4/constructor", ["1:5 bad-property"]],
  ["B c4\\constructor", ["1:5 bad-property"]],
  ["mens:tempus=constructor", ["1:5 bad-property"]],
  ["B c4 . .:loc=high", ["1:9 bad-property"]],
  ["B [c4 d", ["1:3 open-ligature"]],
  ["B [c4 clef:C3 d]", ["1:7 not-in-ligature"]],
  ["B c4 ]", ["1:6 stray"]],
  ["B c4 }", ["1:6 stray"]],
  ["B c4 €", ["1:6 stray"]],
  ['B c4:id=""', ["1:5 bad-property"]],
  ['B c4:unclear(resp="")', ["1:5 bad-property"]],
  ['B c4:syllable("")', ["1:5 bad-property"]],
  ['B c4/up(form="")', ["1:5 bad-property"]],
  ['B c4 other:""', ["1:6 bad-sign"]],
  ['B c4 d\n> "" a', ["2:3 odd-lyric"]],
  ['voice a id=""', ["1:9 bad-word"]],
  ["B c4 \u0001 \ud800", ["1:6 bad-letter", "1:8 bad-letter"]],
  ["B c4 \ufffd", ["1:6 bad-letter"]],
  ["B red{c4 d", ["1:3 open-span"]],
  ["B pink{c4 d}", ["1:3 unknown-coloration"]],
  ["B constructor{c4 d}", ["1:3 unknown-coloration"]],
  ["?o clef:H3", ["1:4 bad-sign"]],
  ["?o sig:b", ["1:4 bad-sign"]],
  ["?o prop:x", ["1:4 bad-sign"]],
  ["B c4 r1/0", ["1:6 bad-rest"]],
  ["B c4:extra(a", ["1:5 bad-property", "1:13 open-bracket"]],
  ["B c4 d\n> a b c", ["2:7 no-note"]],
  ["B c4\n> - a", ["2:3 odd-lyric"]],
  ["B c4\ndecision on=1.1", ["2:1 incomplete-line"]],
  ["B c4\ndecision duration=4", ["2:1 incomplete-line"]],
  ["B c4\ndecision on=1.1 duration=4 not=2", ["2:1 incomplete-line"]],
  ["B c4\ndecision on=1.1 duration=0", ["2:17 bad-word"]],
  ["B c4\ndecision on=1.1 duration=-4", ["2:17 bad-word"]],
  ["B c4\ndecision on=1.1 not=(4 x)", ["2:17 bad-word"]],
  ["B c4\ndecision on=1.1 not=()", ["2:17 bad-word"]],
  ["B c4\ndecision on=1.1 dot=full", ["2:17 bad-word"]],
  ["B c4\ndecision on=1.1 duration=4 id=1.1", ["2:1 id-taken"]],
  ["B c4\ndecision on=1.1 duration=4 loud", ["2:28 unknown-word"]],
  ["B c4\n0> a", ["2:1 bad-stanza"]],
  ["B c4:id=k d:id=k", ["1:11 id-twice"]],
  ["title: A\ntitle: B", ["2:1 said-twice"]],
  ["B c4 voice a", ["1:6 out-of-place"]],
  ["voice a lines=many", ["1:9 bad-word"]],
  ["voice a practice", ["1:9 bad-word"]],
  ["voice a blue", ["1:9 unknown-word"]],
  ["zone z1", ["1:1 incomplete-line", "1:1 incomplete-line"]],
  ["surface s box=(1 2 3)", ["1:11 bad-word"]],
  ["shape", ["1:1 incomplete-line"]],
  ["shape x level=Q minims=half", ["1:9 bad-word", "1:17 bad-word"]],
  ["voice a lines=0", ["1:9 bad-word"]],
  ["voice a lines=4.5", ["1:9 bad-word"]],
  ['voice a practice=""', ["1:9 bad-word"]],
  ['person ed ""', ["1:1 incomplete-line"]],
  ["surface s\nsurface s", ["2:1 said-twice"]],
  ["shape a\nshape a level=B", ["2:1 said-twice"]],
  ["zone z on=s box=(0 0 1 1)", ["1:1 unknown-id"]],
  ["surface s box=(0.5 0 1 1)", ["1:11 bad-word"]],
  ["?o clef:C0", ["1:4 bad-sign"]],
  ["?o clef:C12", ["1:4 bad-sign"]],
  ["?o prop:0", ["1:4 bad-sign"]],
  ["?o prop:3/0", ["1:4 bad-sign"]],
  ["?o prop:10000", ["1:4 bad-sign"]],
  ["?o O0", ["1:4 bad-mensuration"]],
  ["?o C....", ["1:4 bad-mensuration"]],
  ["?o C|||||||", ["1:4 bad-mensuration"]],
  ["?o O3/0", ["1:4 bad-mensuration"]],
  ["?o mens:figures()", ["1:8 bad-property"]],
  ["?o mens:num=0", ["1:8 bad-property"]],
  ["B c4:given(num=0 numbase=2)", ["1:5 bad-property"]],
  ["B c4:given(num=-2 numbase=1)", ["1:5 bad-property"]],
  ["B c4:given(num=1.5)", ["1:5 bad-property"]],
  ["B c4/up(length=-4)", ["1:5 bad-property"]],
  ["B c12 d4", ["1:3 unknown-word"]],
  ["B c4 r0", ["1:6 bad-rest"]],
  ["B c4 r100", ["1:6 bad-rest"]],
  ["years", ["1:1 incomplete-line"]],
  ["years made", ["1:7 bad-word"]],
  ["years made=", ["1:7 bad-word"]],
  ["years made=soon", ["1:7 bad-word"]],
  ["years made=1700", ["1:7 bad-word"]],
  ["years made=1140-1200", ["1:7 bad-word"]],
  ["years made=1315-1325-1335", ["1:7 bad-word"]],
  ['years made="sung in 1315"', ["1:7 bad-word"]],
  ["years copied=1315 sung=1320", ["1:19 unknown-word"]],
  ["years made=1315 made=1320", ["1:17 unknown-word"]],
  ["years made=1315\nyears copied=1320", ["2:1 said-twice"]],
  ["person ed", ["1:1 incomplete-line"]],
  ["alternative rdg for=1.1\nB c4", ["1:1 no-voice", "1:1 unknown-id"]],
  ["B c4\nalternative for=1.1", ["2:1 incomplete-line"]],
  ["B c4\nalternative rdg", ["2:1 incomplete-line"]],
  ["B c4\nalternative rdg for=1.9", ["2:1 unknown-id"]],
  ["B c4\nalternative rdg in=7 for=1.1", ["2:1 unknown-id"]],
  ["B c4:id=k\nalternative rdg for=k by=nobody", ["2:23 bad-word"]],
])("%j: %j", (text, expected) => {
  expect(problemsOf(text)).toEqual(expected)
})

describe("what was wrong does not take the rest with it", () => {
  test.each([
    ["B c4 foo d", "B c4 d"],
    ["B [c4 d\ne", "[c4 d] B e"],
    ["B red{c4 d\ne", "red{B c4 d} e"],
    ['B c4 "never ends\nd', "B c4 d"],
    ["B c4:rde d", "B c4 d"],
    ["B c4 ( d ) e", "B c4 d e"],
    ["B c4 voice d\nf", "B c4 d f"],
    ["B c d", "B c4 d"],
  ])("%j", (text, music) => {
    const read = parseShorthand(text)
    expect(read.problems.length).toBeGreaterThan(0)
    expect(read.problems.every(({ severity }) => severity === "error")).toBe(true)
    expect(read.ok && printShorthand(read.value)).toBe(`title:\n\nvoice 1\n${music}\n`)
  })
})

test.each(["", "  \n\n", "hello world", "<xml/>", "\u0000\u0001"])("%j is no page", text => {
  const read = parseShorthand(text, "x.figurae")
  expect(read.ok).toBe(false)
  expect(read.problems.at(0)?.where?.file).toBe("x.figurae")
  expect(read.problems.map(({ code }) => code)).toContain("nothing-to-read")
})

test("every problem says what and how to mend it in whole sentences", () => {
  for (const { what, mend } of parseShorthand("c foo [d:x {e ] B\nvoice a b=c\n> d").problems) {
    expect(what).toMatch(/^[A-Z"].*\.$/)
    expect(mend.length).toBeGreaterThan(10)
  }
})

test.each([
  ["Bc4", "two words"],
  ["mx", "Mx L B S"],
  ["D4", "small letters"],
  ["h4", "b for the natural"],
])("%j: how to mend it", (word, hint) => {
  expect(parseShorthand(`B c4 ${word}`).problems[0]?.mend).toContain(hint)
})

test("very many problems are counted, not all told", () => {
  const { problems } = parseShorthand("B c4 " + "foo ".repeat(2000))
  expect(problems).toHaveLength(501)
  expect(problems.at(-1)).toMatchObject({ code: "more-problems", what: "There are 1500 more problems." })
})
