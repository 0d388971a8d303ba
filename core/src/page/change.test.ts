import * as fc from "fast-check"
import { describe, expect, it } from "vitest"
import { signId, voiceId } from "../base/index.js"
import { mustWork } from "../base/testing/must-work.js"
import { applyChange, idGiver, type PageChange } from "./change.js"
import type { Decision } from "./decision.js"
import type { Page } from "./page.js"
import type { Ligature } from "./signs.js"
import { plainNote as note, plainPage, plainVoice as voice } from "./testing/plain-page.js"
import { randomChange } from "./testing/random-change.js"
import { randomPage } from "./testing/random-page.js"
import { everySign } from "./walk.js"

const ligature: Ligature = { kind: "ligature", id: signId("L"), members: [note("d"), note("e")] }
const page = plainPage([voice("1", [note("a"), note("b"), ligature, note("c")]), voice("2", [note("x")])])

const throughJson = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T
const show = (of: Page) => of.voices.map(one => [...everySign(one.signs)].map(sign => sign.id).join(" ")).join(" | ")

/** Does what is expected, leads back, and survives being saved. */
function checkChange(before: Page, change: PageChange): Page {
  const changed = mustWork(applyChange(before, throughJson(change)))
  expect(mustWork(applyChange(changed.page, throughJson(changed.undo))).page).toEqual(before)
  return changed.page
}

const v1 = voiceId("v1")
describe("a change", () => {
  it.each<[string, PageChange, string]>([
    [
      "puts a sign before another",
      { kind: "insert-sign", voice: v1, before: signId("b"), sign: note("n") },
      "a n b L d e c | x",
    ],
    ["puts a sign at the end", { kind: "insert-sign", voice: v1, sign: note("n") }, "a b L d e c n | x"],
    [
      "puts a note into a ligature",
      { kind: "insert-sign", voice: v1, ligature: signId("L"), before: signId("e"), sign: note("n") },
      "a b L d n e c | x",
    ],
    ["deletes a sign", { kind: "delete-sign", sign: signId("b") }, "a L d e c | x"],
    ["deletes a note of a ligature", { kind: "delete-sign", sign: signId("e") }, "a b L d c | x"],
    ["deletes a whole ligature", { kind: "delete-sign", sign: signId("L") }, "a b c | x"],
    ["moves a sign", { kind: "move-sign", sign: signId("c"), before: signId("a") }, "c a b L d e | x"],
    ["moves a sign to the end", { kind: "move-sign", sign: signId("a") }, "b L d e c a | x"],
    [
      "puts a voice before another",
      { kind: "insert-voice", voice: voice("3", [note("y")]), before: voiceId("v2") },
      "a b L d e c | y | x",
    ],
    ["deletes a voice", { kind: "delete-voice", voice: v1 }, "x"],
    [
      "does several things at once",
      {
        kind: "several",
        changes: [
          { kind: "delete-sign", sign: signId("a") },
          { kind: "delete-sign", sign: signId("b") },
        ],
      },
      "L d e c | x",
    ],
  ])("%s", (_, change, expected) => {
    expect(show(checkChange(page, change))).toBe(expected)
  })

  it("replaces a sign and leaves the other voices the same objects", () => {
    const after = checkChange(page, { kind: "replace-sign", sign: { ...note("e"), level: "longa" } })
    expect(after.voices[1]).toBe(page.voices[1])
    expect(after.voices[0]!.signs[0]).toBe(page.voices[0]!.signs[0])
    expect(after.voices[0]!.signs[2]).toMatchObject({ members: [{ level: "brevis" }, { level: "longa" }] })
  })

  it("sets what a voice says of itself, and takes it away again", () => {
    const practice = { name: "ars-nova", options: { minims: "written" } }
    const after = checkChange(page, { kind: "set-voice", voice: v1, set: { label: "Triplum", practice } })
    expect(after.voices[0]).toMatchObject({ label: "Triplum", practice })
    expect(
      checkChange(after, { kind: "set-voice", voice: v1, set: { practice: null } }).voices[0]!.practice,
    ).toBeUndefined()
    expect(checkChange(page, { kind: "set-title", title: "Another" }).title).toBe("Another")
    expect(checkChange(page, { kind: "set-people", people: { ed: "The editor" } }).people).toEqual({ ed: "The editor" })
  })

  it("makes, changes and takes back decisions", () => {
    const lasts = (id: string, sign: string, num: number): Decision => ({
      id: signId(id),
      sign: signId(sign),
      duration: { num, den: 1 },
    })
    const one = checkChange(page, { kind: "insert-decision", decision: lasts("d1", "a", 3) })
    const two = checkChange(one, { kind: "insert-decision", decision: lasts("d2", "d", 2), before: signId("d1") })
    expect(two.decisions!.map(({ id }) => id)).toEqual(["d2", "d1"])
    expect(two.voices).toBe(page.voices)
    const other = checkChange(two, { kind: "replace-decision", decision: { ...lasts("d1", "b", 4), why: "rhyme" } })
    expect(other.decisions![1]).toMatchObject({ sign: "b", why: "rhyme" })
    const none = checkChange(one, { kind: "delete-decision", decision: signId("d1") })
    expect(none).toEqual(page)
  })

  it("takes the decisions on a sign away with it", () => {
    const decided: Page = {
      ...page,
      decisions: ["x", "d", "a", "e", "d"].map((sign, i) => ({
        id: signId(`d${i}`),
        sign: signId(sign),
        duration: { num: 2, den: 1 },
      })),
    }
    const left = (change: PageChange) => checkChange(decided, change).decisions?.map(({ id }) => id)
    expect(left({ kind: "delete-sign", sign: signId("d") })).toEqual(["d0", "d2", "d3"])
    expect(left({ kind: "delete-sign", sign: signId("L") })).toEqual(["d0", "d2"])
    expect(left({ kind: "replace-sign", sign: { ...ligature, members: [note("e")] } })).toEqual(["d0", "d2", "d3"])
    expect(left({ kind: "delete-voice", voice: v1 })).toEqual(["d0"])
  })

  it.each<[string, PageChange]>([
    [
      "not-on-the-page",
      { kind: "insert-decision", decision: { id: signId("d1"), sign: signId("gone"), dot: "division" } },
    ],
    ["id-taken", { kind: "insert-decision", decision: { id: signId("x"), sign: signId("a"), dot: "division" } }],
    ["no-such-decision", { kind: "delete-decision", decision: signId("a") }],
    ["not-on-the-page", { kind: "delete-sign", sign: signId("gone") }],
    ["not-on-the-page", { kind: "insert-sign", voice: v1, before: signId("gone"), sign: note("n") }],
    ["not-on-the-page", { kind: "insert-sign", voice: voiceId("v9"), sign: note("n") }],
    [
      "not-on-the-page",
      {
        kind: "several",
        changes: [
          { kind: "delete-sign", sign: signId("a") },
          { kind: "delete-sign", sign: signId("a") },
        ],
      },
    ],
    ["id-taken", { kind: "insert-sign", voice: v1, sign: note("x") }],
    ["id-taken", { kind: "replace-sign", sign: { ...ligature, members: [note("d"), note("x")] } }],
    ["id-taken", { kind: "insert-voice", voice: voice("9", [note("a")]) }],
    ["not-in-a-ligature", { kind: "replace-sign", sign: { kind: "custos", id: signId("d") } }],
    [
      "empty-ligature",
      {
        kind: "several",
        changes: [
          { kind: "delete-sign", sign: signId("d") },
          { kind: "delete-sign", sign: signId("e") },
        ],
      },
    ],
  ])("that cannot be made fails as %s", (code, change) => {
    const result = applyChange(page, change)
    expect(result.ok).toBe(false)
    expect(result.problems.map(one => one.code)).toEqual([code])
    expect(result.problems[0]!.mend).not.toBe("")
  })

  it("leads back from anywhere", () => {
    fc.assert(
      fc.property(
        randomPage().chain(one => fc.tuple(fc.constant(one), randomChange(one))),
        ([before, change]) => {
          expect(checkChange(before, change).voices.length).toBeGreaterThan(0)
        },
      ),
    )
  })

  it("gives ids that are not given twice", () => {
    const give = idGiver({ ...page, voices: [voice("1", [note("new-1"), note("new-3")])] })
    expect([give(), give(), give()]).toEqual(["new-2", "new-4", "new-5"])
  })
})
