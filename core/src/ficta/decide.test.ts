import { describe, expect, test } from "vitest"
import { signId } from "../base/index.js"
import { newMei, readMei } from "../formats/mei/index.js"
import { applyChange, decisionWords, type Page, type PageChange } from "../page/index.js"
import { parseShorthand, printShorthand } from "../page/shorthand/index.js"
import { readPage } from "../reading/index.js"
import { alignVoices } from "../score/index.js"
import { acceptFicta, proposeFicta, refuseFicta } from "./index.js"

const PIECE = `title: Invented
voice cantus practice=white
C S g4 f4 B g4
voice tenor practice=white
C S c3 b2 B g2
`
function pageOf(text = PIECE): Page {
  const page = parseShorthand(text, "piece")
  if (!page.ok) throw new Error("not read")
  return page.value
}
const changed = (page: Page, change: PageChange) => {
  const result = applyChange(page, change)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value
}
const proposalsOf = (page: Page) => proposeFicta(page, alignVoices(page, readPage(page))).proposals
const told = (page: Page) => proposalsOf(page).map(({ sign, accidental }) => `${sign} ${accidental}`)
const decided = ({ decisions = [] }: Page) => decisions.map(one => `${one.sign} ${decisionWords(one)}`)

describe("proposals as decisions", () => {
  const page = pageOf()
  const [first] = proposalsOf(page)
  const { sign, accidental } = first!
  test("accepted: it is sung, no longer proposed, and can be undone", () => {
    const { page: after, undo } = changed(page, acceptFicta(page, [{ sign, accidental, why: first!.reason }]))
    expect(decided(after)).toEqual([`${sign} it is sung flat`])
    expect(told(after)).toEqual([])
    const back = changed(after, undo).page
    expect(back).toEqual(page)
    expect(told(back)).toEqual([`${sign} f`])
  })
  test("refused: another remedy is proposed; accepted after all, the refusal is gone; and the other way round", () => {
    const refused = changed(page, refuseFicta(page, [{ sign, accidental }])).page
    expect(decided(refused)).toEqual([`${sign} it is not sung flat`])
    expect(told(refused)).toEqual(["1.3 s"])
    const accepted = changed(refused, acceptFicta(refused, [{ sign, accidental }])).page
    expect(decided(accepted)).toEqual([`${sign} it is sung flat`])
    const again = changed(accepted, refuseFicta(accepted, [{ sign, accidental }])).page
    expect(decided(again)).toEqual([`${sign} it is not sung flat`])
    expect(changed(again, refuseFicta(again, [{ sign, accidental }])).page).toBe(again)
  })
  test("another accidental for the same note takes the place of the first", () => {
    const one = changed(page, acceptFicta(page, [{ sign, accidental: "f" }])).page
    const two = changed(one, acceptFicta(one, [{ sign, accidental: "s" }])).page
    expect(decided(two)).toEqual([`${sign} it is sung sharp`])
  })
  test("saved and read again, in both written forms", () => {
    const accepted = changed(page, acceptFicta(page, [{ sign, accidental, why: "as in the cantus" }])).page
    const both = changed(accepted, refuseFicta(accepted, [{ sign: signId("1.2"), accidental: "s" }])).page
    expect(pageOf(printShorthand(both))).toEqual(both)
    expect(printShorthand(both)).toContain(`decision on=${sign} accid=f why="as in the cantus"`)
    const text = newMei(both)
    expect(text).toMatch(/<annot [^>]*type="decision accid:f" [^>]*>as in the cantus<\/annot>/)
    expect(text).toContain('type="decision not-accid:s"')
    const read = readMei(text, "piece.mei")
    expect(read.ok && decided(read.value.page)).toEqual(decided(both).map(one => one))
  })
})
