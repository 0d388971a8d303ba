/** Accidentals that an independent edition of real pieces has over its notes are those that are proposed as required. */
import { DOMParser } from "@xmldom/xmldom"
import { alignVoices, proposalsUpTo, proposeFicta, readMei, readPage } from "@resolutio/core"
import { describe, expect, it } from "vitest"
// @ts-expect-error -- a script without types
import { realPieces } from "./lib/pieces.mjs"

interface Piece {
  readonly name: string
  readonly mei: string
  readonly modern: string
}
const pieces = (realPieces as () => Piece[])()
const NAMES: Readonly<Record<string, string>> = { flat: "f", natural: "n", sharp: "s" }

/** "2 27 f": voice, number of the note in it, the accidental that stands over it. */
function overNotes(modern: string): { notes: number[]; marks: string[] } {
  const parts = [...new DOMParser().parseFromString(modern, "text/xml").getElementsByTagName("part")]
  const found = parts.map((part, voice) => {
    const own = [...part.getElementsByTagName("note")].filter(note => {
      const isMore = [...note.getElementsByTagName("tie")].some(tie => tie.getAttribute("type") === "stop")
      return note.getElementsByTagName("rest").length === 0 && !isMore
    })
    const marks = own.flatMap((note, at) =>
      [...note.getElementsByTagName("accidental-mark")].map(
        ({ textContent }) => `${voice + 1} ${at + 1} ${NAMES[textContent ?? ""]}`,
      ),
    )
    return { notes: own.length, marks }
  })
  return { notes: found.map(one => one.notes), marks: found.flatMap(one => one.marks) }
}

describe.skipIf(pieces.length === 0).each(pieces)("$name", ({ mei, modern }) => {
  it("has the same accidentals over its notes, and no other is required", () => {
    const read = readMei(mei)
    if (!read.ok) throw new Error("not read")
    const { page } = read.value
    const score = alignVoices(page, readPage(page))
    const voices = score.voices.map(({ events }) => events.filter(event => event.kind === "note"))
    const { notes, marks } = overNotes(modern)
    expect(voices.map(own => own.length)).toEqual(notes)
    const required = proposalsUpTo(proposeFicta(page, score), "required").map(
      ({ voice, note, accidental }) =>
        `${voice + 1} ${voices[voice]!.findIndex(one => one.id === note) + 1} ${accidental}`,
    )
    expect(marks.length).toBeGreaterThan(3)
    expect(required.sort()).toEqual(marks.sort())
  })
})
