/** What is undone and done again is found again as it was read, and says what a reading afresh says. */
import { describe, expect, test } from "vitest"
import { applyChange, type Page, type PageChange } from "../page/index.js"
import { readingTogether, readTogether, type Together } from "./read-together.js"
import { Recall } from "./recall.js"
import { LAWFUL_PRACTICES, lawfulPiece } from "./testing/lawful-piece.js"

const said = ({ readings, meeting, cost, assumed }: Together) => ({ readings, meeting, cost, assumed })

function toTheEnd(steps: Generator<Together, Together, void>): Together {
  for (;;) {
    const { done, value } = steps.next()
    if (done) return value
  }
}

/** As it comes from elsewhere: nothing of it is the same object. */
function changed(page: Page, change: PageChange): { page: Page; undo: PageChange } {
  const made = applyChange(page, structuredClone(change))
  if (!made.ok) throw new Error("does not fit")
  return made.value
}

describe.each(LAWFUL_PRACTICES)("%s", practice => {
  test("notes taken away in two voices, put back in another order, and taken away again", () => {
    let { page } = lawfulPiece(5, { practice, voices: 3, notes: 40, doubtful: 0.3 })
    const recall = new Recall()
    let last = readTogether(page)
    recall.keep(last)
    const read = (next: Page): Together => {
      page = recall.page(next)
      expect(page).toEqual(next)
      last = toTheEnd(readingTogether(page, {}, recall.before(page, last)))
      recall.keep(last)
      expect(said(last)).toEqual(said(readTogether(structuredClone(next))))
      return last
    }
    const delay = (voice: number): PageChange => ({
      kind: "delete-sign",
      sign: page.voices[voice]!.signs.filter(sign => sign.kind === "note")[7]!.id,
    })
    const [whole, first] = [page, changed(page, delay(0))]
    const one = read(first.page)
    const second = changed(page, delay(1))
    read(second.page)
    const onlySecond = changed(page, first.undo)
    read(onlySecond.page)
    read(changed(page, second.undo).page)
    expect(page.voices.every((voice, i) => voice === whole.voices[i])).toBe(true)
    // the very readings that it had
    const again = read(changed(page, delay(0)).page)
    again.worked.forEach((voice, i) => expect(voice).toBe(one.worked[i]))
  })
})
