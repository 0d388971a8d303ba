/** The change from one page to another leads there, and touches nothing that both have alike. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { applyChange, changeBetween, same, type Page, type PageChange } from "./index.js"
import { plainNote, plainPage, plainVoice } from "./testing/plain-page.js"
import { randomChange } from "./testing/random-change.js"
import { randomPage } from "./testing/random-page.js"

function made(page: Page, change: PageChange): Page {
  const changed = applyChange(page, change)
  if (!changed.ok) throw new Error(changed.problems[0]!.what)
  return changed.value.page
}
const small = (change: PageChange): number =>
  change.kind === "several" ? change.changes.reduce((sum, one) => sum + small(one), 0) : 1

/** A page, and the same after some changes. */
const edited = randomPage()
  .filter(page => page.voices.length > 0)
  .chain(page =>
    fc
      .array(fc.nat(), { maxLength: 4 })
      .chain(seeds =>
        seeds.reduce<fc.Arbitrary<Page>>(
          (pages, _) =>
            pages.chain(now =>
              randomChange(now).map(change => {
                const changed = applyChange(now, change)
                return changed.ok ? changed.value.page : now
              }),
            ),
          fc.constant(page),
        ),
      )
      .map(after => [page, after, 0] as const),
  )

describe("the change between two pages", () => {
  test("leads from one to the other, and back again", () => {
    fc.assert(
      fc.property(edited, ([before, after]) => {
        const change = changeBetween(before, after)
        expect(same(made(before, change), after)).toBe(true)
        const changed = applyChange(before, change)
        expect(changed.ok && same(made(changed.value.page, changed.value.undo), before)).toBe(true)
      }),
    )
  })
  test("leads anywhere, even to a page that has nothing in common", () => {
    fc.assert(
      fc.property(randomPage(), randomPage(), (before, after) => {
        expect(same(made(before, changeBetween(before, after)), after)).toBe(true)
      }),
    )
  })
  test("is none for the same page, and leaves voices alone that are alike", () => {
    fc.assert(
      fc.property(edited, ([before, after]) => {
        expect(small(changeBetween(before, structuredClone(before)))).toBe(0)
        const there = made(before, changeBetween(before, after))
        for (const voice of there.voices) {
          const old = before.voices.find(one => one.id === voice.id)
          if (old && same(old, voice) && before.voices.length === after.voices.length) expect(voice).toBe(old)
        }
      }),
    )
  })
})

describe("is small", () => {
  const notes = "abcdef".split("").map(id => plainNote(id))
  const page = plainPage([plainVoice("1", notes), plainVoice("2", [plainNote("x")])])
  const withNotes = (signs: readonly ReturnType<typeof plainNote>[]): Page =>
    plainPage([plainVoice("1", signs), plainVoice("2", [plainNote("x")])])
  test.each<[string, Page, PageChange["kind"][]]>([
    ["a note gone", withNotes(notes.toSpliced(2, 1)), ["delete-sign"]],
    ["a note more", withNotes(notes.toSpliced(2, 0, plainNote("new"))), ["insert-sign"]],
    ["a note changed", withNotes(notes.with(1, plainNote("b", { level: "longa" }))), ["replace-sign"]],
    ["a note that went to the end", withNotes([...notes.slice(1), notes[0]!]), ["move-sign"]],
    ["two at the end", withNotes([...notes, plainNote("y"), plainNote("z")]), ["insert-sign", "insert-sign"]],
    ["a title", { ...page, title: "Other" }, ["set-title"]],
  ])("%s", (_, after, kinds) => {
    const change = changeBetween(page, after)
    const all = change.kind === "several" ? change.changes : [change]
    expect(all.map(one => one.kind)).toEqual(kinds)
  })
})
