import { describe, expect, test } from "vitest"
import { ratio } from "../base/index.js"
import { canonWords } from "./canon-words.js"
import { parseShorthand, printShorthand } from "./shorthand/index.js"

const PAGE = "voice tenor white\nclef:C4 O\nB c4 S d B e\n\n"

function decided(line: string) {
  const read = parseShorthand(PAGE + line)
  if (!read.ok) throw new Error("nothing was read")
  return { canon: read.value.decisions?.[0]?.canon, problems: read.problems, printed: printShorthand(read.value) }
}

describe("a canon as an editor states it", () => {
  test("voices that enter later, at intervals, by other values, under other signs", () => {
    const line =
      'decision on=1.3 voice voice=(label="altus 2" after=2B interval=-5) voice=(after=signum2 values=1/2 sign="C.")'
    const { canon, problems, printed } = decided(line)
    expect(problems).toEqual([])
    expect(canon).toEqual([
      { statements: [{}] },
      { label: "altus 2", entry: { after: ratio(2), level: "brevis" }, interval: -5, statements: [{}] },
      { entry: { signum: 2 }, statements: [{ values: ratio(1, 2), sign: { sign: "C", dots: 1 } }] },
    ])
    expect(printed).toContain(line)
    expect(canonWords(canon!)).toBe(
      "3 voices: as written; 2 breves later, a fifth below; from signum 2 on, under C., in values of half the length",
    )
  })
  test("one voice that sings several times", () => {
    const { canon } = decided("decision on=1.3 voice then=(values=1/2) then=(values=1/3 backwards)")
    expect(canon).toEqual([{ statements: [{}, { values: ratio(1, 2) }, { values: ratio(1, 3), backwards: true }] }])
    expect(canonWords(canon!)).toBe(
      "as written, then in values of half the length, then in values of a third the length, backwards",
    )
  })
  test.each([
    ["voice=(after=2X)", "after=2X"],
    ["voice=(values=0)", "values=0"],
    ["voice=(interval=0)", "interval=0"],
    ["voice=(sideways)", "sideways"],
    ["voice=(reversed)", "reversed"],
    ["then=(values=2)", "then"],
    ["voice then=(interval=5)", "interval=5"],
    ["voice=(sign=X)", "sign=X"],
  ])("%s is refused, and said so", (words, wrong) => {
    const { canon, problems } = decided(`decision on=1.3 ${words}`)
    expect(canon).toBeUndefined()
    expect(problems.map(one => one.mend).join()).toContain(`“${wrong}” is not understood`)
  })
  test("an order of parts", () => {
    const read = parseShorthand(`${PAGE}decision on=1.3 form=(A B A2 A)`)
    expect(read.ok && read.value.decisions![0]!.form).toEqual([
      { part: "A" },
      { part: "B" },
      { part: "A", stanza: 2 },
      { part: "A" },
    ])
  })
})
