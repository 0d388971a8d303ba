/** Laws of typing: the text says what stands on the page, and typing it again changes the least. */
import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange, type PageChange } from "../change.js"
import type { Page } from "../page.js"
import { parseShorthand } from "../shorthand/index.js"
import { randomPage } from "../testing/random-page.js"
import { plainNote as note, plainPage, plainVoice as voice } from "../testing/plain-page.js"
import { everySign } from "../walk.js"
import { changeTo, writingText } from "./index.js"

const parsed = (text: string): Page => mustWork(parseShorthand(text))
const idsOf = (page: Page): string[] =>
  page.voices.flatMap(({ signs }) => [...everySign(signs)].map(({ id }): string => id))
function typedOver(page: Page, text: string): Page {
  const change = changeTo(page, parsed(text))
  return change ? mustWork(applyChange(page, change)).page : page
}

describe("a page typed anew", () => {
  it("does not change where the text is as it was", () => {
    fc.assert(
      fc.property(randomPage(), page => {
        expect(changeTo(page, parsed(writingText(page)))).toBeUndefined()
      }),
    )
  })
  it("becomes what was typed, whatever it was, with an id for every sign, and the way back leads back", () => {
    fc.assert(
      fc.property(randomPage({ signs: 6 }), randomPage({ signs: 6 }), (page, other) => {
        const text = writingText(other)
        const change = changeTo(page, parsed(text))
        const changed = change && mustWork(applyChange(page, change))
        const now = changed?.page ?? page
        expect(writingText(now)).toBe(text)
        expect(new Set(idsOf(now)).size).toBe(idsOf(now).length)
        if (changed) expect(mustWork(applyChange(changed.page, changed.undo)).page).toEqual(page)
      }),
    )
  })
  it("holds on to what is not typed: photographs, people, other readings", () => {
    fc.assert(
      fc.property(randomPage({ signs: 6 }), fc.string(), (page, title) => {
        const now = typedOver(page, writingText({ ...page, title }))
        const { surfaces, zones, alternatives, people, decisions } = now
        expect({ surfaces, zones, alternatives, people, decisions }).toEqual({
          surfaces: page.surfaces,
          zones: page.zones,
          alternatives: page.alternatives,
          people: page.people,
          decisions: page.decisions,
        })
      }),
    )
  })
})

const page = plainPage([
  voice(
    "1",
    ["a", "b", "c", "d"].map(id => note(id)),
    "cantus",
  ),
  voice("2", [note("x")], "tenor"),
])
const kinds = (change: PageChange | undefined): string[] =>
  change === undefined ? [] : change.kind === "several" ? change.changes.map(({ kind }) => kind) : [change.kind]
const show = (of: Page): string =>
  of.voices.map(one => [...everySign(one.signs)].map(({ id }) => id).join(" ")).join(" | ")

describe("the smallest change", () => {
  it.each([
    ["a note put in", "Bo Bo Lo Bo Bo", ["insert-sign"], "a b new-1 c d | x"],
    ["a note taken away at the end", "Bo Bo Bo", ["delete-sign"], "a b c | x"],
    ["a note made longer", "Bo Lo Bo Bo", ["replace-sign"], "a b c d | x"],
    ["a dot behind a note", "Bo Bo . Bo Bo", ["insert-sign"], "a b new-1 c d | x"],
    ["a note and a rest for a note", "Bo Lo rL Bo Bo", ["replace-sign", "insert-sign"], "a b new-1 c d | x"],
    ["two notes bound", "Bo [Bo o] Bo", ["delete-sign", "delete-sign", "insert-sign"], "a new-1 new-2 new-3 d | x"],
    ["everything gone", "", ["delete-sign", "delete-sign", "delete-sign", "delete-sign"], " | x"],
  ])("%s", (_, music, expected, ids) => {
    const typed = parsed(`title: Invented\nvoice cantus black\n${music}\nvoice tenor black\nBo\n`)
    const change = changeTo(page, typed)
    expect(kinds(change)).toEqual(expected)
    expect(show(change ? mustWork(applyChange(page, change)).page : page)).toBe(ids)
  })
  it.each([
    ["a voice put in between", "cantus triplum tenor", ["insert-voice"]],
    ["a voice with another name", "cantus bassus", ["set-voice"]],
    ["a voice gone", "tenor", ["delete-voice"]],
  ])("%s", (_, labels, expected) => {
    const music: Record<string, string> = { cantus: "Bo o o o", tenor: "Bo", bassus: "Bo" }
    const text = labels
      .split(" ")
      .map(label => `voice ${label} n=${label === "cantus" ? 1 : 2} black\n${music[label] ?? "So"}\n`)
    expect(kinds(changeTo(page, parsed(`title: Invented\n${text.join("")}`)))).toEqual(expected)
  })
})
