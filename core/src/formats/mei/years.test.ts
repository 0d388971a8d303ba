/** The years of a piece between the two written forms, and in the heads of files that others wrote. */
import { describe, expect, test } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange, parseShorthand, printShorthand, type Years } from "../../page/index.js"
import { findMensurations } from "../../together/index.js"
import { newMei, readMei, withPage, writeMei } from "./index.js"
import { mensuralSchema } from "./testing/standards.js"

const MUSIC = "voice cantus black\nL c4 B d L B e B f S g a B g L f B e S d e f B g L a B g f e L d"
const typed = (header: string) => mustWork(parseShorthand(`${header}\n${MUSIC}`))
const open = (text: string) => mustWork(readMei(text))

test.each([
  ["", "ars-antiqua"],
  ["years made=1325", "ars-nova"],
  ["years copied=1300", "ars-antiqua"],
])("from the shorthand %j and from its MEI the practice is found by the same years", (header, name) => {
  const page = typed(header)
  const [one, other] = [page, open(newMei(page)).page].map(each => findMensurations(each).voices[0]!.practice)
  expect(one!.name).toBe(name)
  expect(other).toEqual(one)
  expect(one!.candidates[0]!.evidence.some(({ rule }) => rule === "date")).toBe(header !== "")
})

const HEADS: [string, string][] = [
  ["nothing", ""],
  ["works", "<workList><work><title>A</title><history><p>Sung often.</p></history></work></workList>"],
  [
    "years",
    '<workList><work><title>A</title><creation>In <geogName>Nowhere</geogName>, <date isodate="1310"/>, <date>perhaps 1312</date></creation></work></workList>' +
      '<manifestationList><manifestation><titleStmt><title>B</title></titleStmt><creation><date notbefore="1350">about 1355</date></creation></manifestation></manifestationList>',
  ],
  ["a dated creation", '<workList><work><title>A</title><creation isodate="1310">Once.</creation></work></workList>'],
  ["a creation of words", "<workList><work><title>A</title><creation>Once.</creation></work></workList>"],
  [
    "a revision",
    "<revisionDesc><change isodate='2001'><changeDesc><p>Mended.</p></changeDesc></change></revisionDesc>",
  ],
]
const YEARS: (Years | undefined)[] = [
  { made: [1315, 1325] },
  { copied: [1350, 1350] },
  { made: [1300, 1300], copied: [1340, 1360] },
  undefined,
]
/** Of a file made by others: with things that the page does not know. */
const fileWith = (head: string): string => newMei(typed("title: A")).replace(/<\/fileDesc>/, `</fileDesc>${head}`)

describe.each(HEADS)("a head that says %s", (_, head) => {
  test.each(YEARS)("is given other years: %j", years => {
    const document = open(fileWith(head))
    const change = { kind: "set-years", years: years ?? null } as const
    const { page, undo } = mustWork(applyChange(document.page, change))
    const text = writeMei(withPage(document, page))
    const again = open(text)
    expect(again.page).toEqual(page)
    for (const kept of ["Sung often.", "<geogName>Nowhere</geogName>", "Once.", "<title>B</title>", "2001"])
      expect(text.includes(kept)).toBe(head.includes(kept))
    const back = mustWork(applyChange(again.page, undo)).page
    expect(open(writeMei(withPage(again, back))).page).toEqual(document.page)
  })

  test("goes to the shorthand", () => {
    const { page } = open(fileWith(head))
    expect(mustWork(parseShorthand(printShorthand(page)))).toEqual(page)
  })
})

const schema = mensuralSchema()
test.skipIf(!schema)("all of these heads are valid, before and after", async () => {
  const texts = HEADS.flatMap(([, head]) => {
    const document = open(fileWith(head))
    const edited = YEARS.map(years => ({ kind: "set-years", years: years ?? null }) as const)
    const pages = edited.map(change => mustWork(applyChange(document.page, change)).page)
    return [document.source, ...pages.map(page => writeMei(withPage(document, page)))]
  })
  await schema!.using(validate => expect(texts.flatMap(validate)).toEqual([]))
})

test("a file that says its years is written as it was", () => {
  const text = fileWith(HEADS[2]![1])
  expect(writeMei(open(text))).toBe(text)
})
