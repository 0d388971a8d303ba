/** Decisions in a document: where they stand, what they point to, what an edit of one leaves as it was. */
import { describe, expect, test } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { signId } from "../../base/index.js"
import { applyChange, parseShorthand, printShorthand, type Decision, type PageChange } from "../../page/index.js"
import { newMei, readMei, withPage, writeMei } from "./index.js"
import { mensuralSchema } from "./testing/standards.js"

/** Signs without ids, a dot that only an attribute tells of, a remark, and a decision of another hand. */
const FILE = `<?xml version="1.0"?>
<mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead>
<music><body><mdiv><score>
  <scoreDef><staffGrp><staffDef n="1" lines="5" notationtype="mensural.black" notationsubtype="ars.nova"/></staffGrp></scoreDef>
  <section>
    <staff n="1"><layer><note dur="brevis" pname="c" oct="4"/> <!-- here -->
      <note xml:id="b" dur="semibrevis" dots="1" pname="d" oct="4"/><annot>a remark</annot>
      <annot type="decision">of no kind that is known here</annot></layer></staff>
    <annot xml:id="old" my="1" type="decision duration:2:1 mine" plist="#b">as in the <i>tenor</i></annot>
  </section></score></mdiv></body></music></mei>
`

const open = (text: string) => mustWork(readMei(text))
function edited(text: string, ...changes: PageChange[]): string {
  const document = open(text)
  const { page } = mustWork(applyChange(document.page, { kind: "several", changes }))
  const written = writeMei(withPage(document, page))
  expect(open(written).page).toEqual(page)
  return written
}
const on = (sign: string, more: object = { duration: { num: 6, den: 1 } }, id = "d1"): PageChange => ({
  kind: "insert-decision",
  decision: { id: signId(id), sign: signId(sign), ...more } as Decision,
})

describe("decisions in a document", () => {
  test("are read where they stand; others' annotations stay remarks", () => {
    const { page } = open(FILE)
    expect(page.decisions).toEqual([{ id: "old", sign: "b", duration: { num: 2, den: 1 }, why: "as in the tenor" }])
    expect(page.voices[0]!.signs.filter(sign => sign.kind === "comment").map(sign => sign.text)).toEqual([
      "a remark",
      "of no kind that is known here",
    ])
    expect(writeMei(open(FILE))).toBe(FILE)
  })

  test("name a sign without an id by one that is written for it, and change nothing else", () => {
    const written = edited(FILE, on("1.1", { duration: { num: 9, den: 2 }, who: "ed", why: "a & b" }))
    expect(written).toBe(
      FILE.replace(
        '<note dur="brevis" pname="c" oct="4"/>',
        '<note dur="brevis" pname="c" oct="4" xml:id="_x.1.1"/>',
      ).replace(
        "</annot>\n  </section>",
        '</annot><annot xml:id="d1" type="decision duration:9:2" plist="#_x.1.1" resp="#ed">a &amp; b</annot>\n  </section>',
      ),
    )
  })

  test("on a dot that is an attribute give it an element of its own", () => {
    const dot = open(FILE).page.voices[0]!.signs.find(sign => sign.kind === "dot")!
    const written = edited(FILE, on(dot.id, { dot: "addition" }))
    expect(written).toContain('<note xml:id="b" dur="semibrevis" pname="d" oct="4"/><dot xml:id="_x.1.3"/>')
    expect(written).toContain('type="decision dot:addition" plist="#_x.1.3"')
  })

  test("keep what is not theirs when they change, and go when they are taken back", () => {
    const changed: Decision = {
      id: signId("old"),
      sign: signId("b"),
      not: [
        { num: 2, den: 1 },
        { num: 3, den: 2 },
      ],
    }
    const written = edited(FILE, { kind: "replace-decision", decision: changed })
    expect(written).toBe(
      FILE.replace('type="decision duration:2:1 mine"', 'type="decision not:2:1 not:3:2 mine"').replace(
        "as in the <i>tenor</i>",
        "",
      ),
    )
    const without = edited(FILE, { kind: "delete-decision", decision: signId("old") })
    expect(without).toBe(FILE.replace(/<annot xml:id="old".*<\/annot>/, ""))
    const bare = FILE.replace(' dots="1"', "").replace(/<annot>.*\n.*known here<\/annot>/, "")
    expect(edited(bare, { kind: "delete-sign", sign: signId("b") })).not.toContain("annot")
  })

  test("keep their order and their names", () => {
    const nameless = FILE.replace('xml:id="old" ', "")
    const written = edited(nameless, {
      kind: "insert-decision",
      decision: { id: signId("first"), sign: signId("b"), duration: { num: 3, den: 1 } },
      before: signId("decision-1"),
    })
    expect(open(written).page.decisions!.map(one => one.id)).toEqual(["first", "decision-1"])
  })

  test.each([
    ["no number", 'type="decision duration:x"'],
    ["no time at all", 'type="decision duration:0:1"'],
    ["two things", 'type="decision duration:2:1 dot:division"'],
    ["a dot of no kind", 'type="decision dot:full"'],
  ])("that say %s are told of and stay in the file", (_, type) => {
    const text = FILE.replace('type="decision duration:2:1 mine"', type)
    const result = readMei(text)
    expect(result.problems.map(one => one.code)).toEqual(["decision-unclear"])
    expect(open(text).page).not.toHaveProperty("decisions")
    expect(edited(text, on("b"))).toContain(type)
  })

  test("of several signs at once, or named like a sign, are told of", () => {
    expect(readMei(FILE.replace('"#b"', '"#b #c"')).problems.map(one => one.code)).toEqual(["decision-unclear"])
    const twice = readMei(FILE.replace('xml:id="old"', 'xml:id="b"'))
    expect(twice.problems.map(one => one.code)).toEqual(["decision-unclear"])
    expect(twice.ok && twice.value.page.decisions![0]!.id).toBe("ba")
  })

  test("are valid, and come through a new file and back to the same shorthand", async () => {
    const typed = parseShorthand(
      'person ed "Ed"\nvoice c black practice=ars-nova\nC B c4 S d . e\ndecision on=1.2 duration=9/2 who=ed why="x > y" label=a\ndecision on=1.4 dot=addition\ndecision on=1.5 not=(2 4) id="odd id"',
    )
    if (!typed.ok) throw new Error("not read")
    const text = newMei(typed.value)
    expect(open(text).page).toEqual(typed.value)
    expect(printShorthand(open(text).page)).toBe(printShorthand(typed.value))
    await mensuralSchema()?.using(validate => {
      expect(validate(text)).toEqual([])
      expect(validate(edited(FILE.replace(/<i>|<\/i>| my="1"| dots="1"/g, ""), on("1.1")))).toEqual([])
    })
  })
})
