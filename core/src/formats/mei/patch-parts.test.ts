/** Edits of what is no sign: voices, other readings, shapes, people, photographs; and edits of a large file. */
import { describe, expect, it } from "vitest"
import { ratio, signId, voiceId } from "../../base/index.js"
import { mustWork } from "../../base/testing/must-work.js"
import { applyChange, type Note, type Page, type PageChange } from "../../page/index.js"
import { plainNote as note, plainPage, plainVoice } from "../../page/testing/plain-page.js"
import { newMei, readMei, withPage, writeMei } from "./index.js"
import { mensuralSchema, standard } from "./testing/standards.js"
import { effort } from "../../base/testing/effort.js"

const page = plainPage([
  plainVoice("1", [note("a"), note("b"), note("c")], "Triplum"),
  plainVoice("2", [note("x")], "Tenor"),
])
const open = (text: string) => mustWork(readMei(text))
const document = open(newMei(page))

function after(...changes: PageChange[]): { text: string; page: Page } {
  const changed = mustWork(applyChange(document.page, { kind: "several", changes })).page
  return { text: writeMei(withPage(document, changed)), page: changed }
}

const alternative = {
  id: "alt1",
  voice: voiceId("v1"),
  insteadOf: [signId("b"), signId("c")],
  what: "rdg",
  editorial: { kind: "rdg", source: "srcA" },
  signs: [note("r1"), note("r2", { level: "longa" })],
} as const
const lem = { editorial: { kind: "lem" } } as const
const doubted: PageChange[] = [
  { kind: "set-people", people: { srcA: "Invented source" } },
  { kind: "replace-sign", sign: note("b", lem) },
  { kind: "replace-sign", sign: note("c", lem) },
  { kind: "set-alternatives", alternatives: [alternative] },
]

const edits: [string, PageChange[]][] = [
  ["a title", [{ kind: "set-title", title: "A & <B>" }]],
  [
    "a voice's practice",
    [
      {
        kind: "set-voice",
        voice: voiceId("v1"),
        set: {
          practice: { name: "ars-nova", options: { minims: "written" } },
          lines: 4,
          label: "Duplum",
          staffColour: "red",
        },
      },
    ],
  ],
  [
    "a voice more",
    [
      {
        kind: "insert-voice",
        voice: {
          id: voiceId("v3"),
          n: "3",
          label: "Motetus",
          lines: 5,
          notation: "white",
          signs: [note("m", { accidental: "f" })],
        },
      },
    ],
  ],
  [
    "a voice among others",
    [
      {
        kind: "insert-voice",
        before: voiceId("v2"),
        voice: { id: voiceId("v3"), n: "3", label: "Motetus", lines: 5, notation: "white", signs: [] },
      },
    ],
  ],
  [
    "the order of voices",
    [
      { kind: "delete-voice", voice: voiceId("v1") },
      {
        kind: "insert-voice",
        voice: { ...page.voices[0]!, signs: [note("a", { level: "longa" }), note("b"), note("c")] },
      },
    ],
  ],
  ["a voice less", [{ kind: "delete-voice", voice: voiceId("v2") }]],
  [
    "a voice emptied and filled",
    [
      { kind: "delete-sign", sign: signId("x") },
      { kind: "insert-sign", voice: voiceId("v2"), sign: note("y") },
    ],
  ],
  [
    "a clef at the beginning",
    [
      {
        kind: "insert-sign",
        voice: voiceId("v2"),
        before: signId("x"),
        sign: { kind: "clef", id: signId("k"), shape: "C", line: 3, initial: true },
      },
    ],
  ],
  ["another reading", doubted],
  [
    "a shape",
    [
      { kind: "set-shapes", shapes: [{ name: "fusiel", level: "minima", count: 4, minims: ratio(3) }] },
      { kind: "replace-sign", sign: note("a", { shape: "fusiel" }) },
    ],
  ],
  [
    "people",
    [
      { kind: "set-people", people: { ed: "The editor" } },
      { kind: "replace-sign", sign: note("a", { editorial: { kind: "supplied", resp: "ed", reason: "worn & torn" } }) },
    ],
  ],
  [
    "regions",
    [
      {
        kind: "set-facsimile",
        surfaces: [{ id: "s1", label: "3v", image: "3v.jpg", box: [0, 0, 9, 9] }],
        zones: [{ id: "z1", surface: "s1", box: [1, 2, 3, 4] }],
      },
      { kind: "replace-sign", sign: note("a", { zone: "z1" }) },
    ],
  ],
]

describe("an edit of", () => {
  it.each(edits)("%s is written into the file", async (_, changes) => {
    const { text, page: wanted } = after(...changes)
    expect(open(text).page).toEqual(wanted)
    await mensuralSchema()?.using(validate => expect(validate(text)).toEqual([]))
  })

  it("another reading can be taken back", () => {
    const doubtful = open(after(...doubted).text)
    const result = applyChange(doubtful.page, { kind: "set-alternatives", alternatives: [] })
    if (!result.ok) throw new Error("not applied")
    expect(open(writeMei(withPage(doubtful, result.value.page))).page.alternatives).toEqual([])
  })

  const special = standard("examples/special-cases.mensural.mei")
  it.skipIf(special === undefined)(
    "any single sign of the special cases can be taken out, and nothing else goes",
    () => {
      const whole = open(special!)
      const kinds = (of: Page) => of.voices.map(voice => voice.signs.map(sign => sign.kind))
      for (const sign of whole.page.voices.flatMap(voice => voice.signs)) {
        const result = applyChange(whole.page, { kind: "delete-sign", sign: sign.id })
        if (!result.ok) throw new Error("not applied")
        expect(kinds(open(writeMei(withPage(whole, result.value.page))).page)).toEqual(kinds(result.value.page))
      }
    },
  )

  it("every note of a long voice takes seconds, not minutes", () => {
    const signs = Array.from({ length: 10_000 }, (_, i) => note(`n${i}`))
    const long = open(newMei({ ...page, voices: [{ ...page.voices[0]!, signs }] }))
    const [voice] = long.page.voices
    const longer = { ...voice!, signs: voice!.signs.map(sign => ({ ...sign, level: "longa" }) as Note) }
    const spent = effort()
    const text = writeMei(withPage(long, { ...long.page, voices: [longer] }))
    expect(spent()).toBeLessThan(8000)
    expect(text.match(/dur="longa"/g)).toHaveLength(10_000)
  }, 90_000)
})
