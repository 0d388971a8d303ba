/** Reading again from what was read before says the same as reading afresh, to the last digit. */
import * as fc from "fast-check"
import { describe, expect, test } from "vitest"
import { ratio, signId } from "../base/index.js"
import { applyChange, type Note, type Page, type PageChange } from "../page/index.js"
import { readTogether, type Together } from "./read-together.js"
import { LAWFUL_PRACTICES, lawfulPiece } from "./testing/lawful-piece.js"
import { runs } from "../base/testing/runs.js"

const kinds = ["level", "pitch", "delete", "insert", "dot", "decide", "refuse", "undecide", "undo"] as const
const step = fc.record({ at: fc.nat(10_000), kind: fc.constantFrom(...kinds) })
type Step = { readonly at: number; readonly kind: (typeof kinds)[number] }

/** The change of the page near the place `at` (counted through all notes), or none where there is nothing to change. */
function changeAt(page: Page, read: Together, { at, kind }: Step, serial: number): PageChange | undefined {
  const notes = page.voices.flatMap(voice =>
    voice.signs.flatMap(sign => (sign.kind === "note" ? [{ voice: voice.id, sign }] : [])),
  )
  const { voice, sign } = notes[at % notes.length]!
  const id = signId(`new.${serial}`)
  switch (kind) {
    case "level":
      return replaced({ ...sign, level: sign.level === "brevis" ? "semibrevis" : "brevis" })
    case "pitch":
      return sign.pitch ? replaced({ ...sign, pitch: { ...sign.pitch, octave: sign.pitch.octave + 1 } }) : undefined
    case "delete":
      return { kind: "delete-sign", sign: sign.id }
    case "insert":
      return { kind: "insert-sign", voice, before: sign.id, sign: { ...sign, id } }
    case "dot":
      return { kind: "insert-sign", voice, before: sign.id, sign: { kind: "dot", id } }
    case "undecide":
      return page.decisions?.[0] && { kind: "delete-decision", decision: page.decisions[0].id }
    case "undo":
      return undefined
    default: {
      const now = read.readings.flatMap(one => one.signs).find(one => one.id === sign.id)!.duration
      if (now.num === 0) return undefined
      const said = kind === "refuse" ? { not: [now] } : { duration: ratio(1 + (at % 3)) }
      return { kind: "insert-decision", decision: { id, sign: sign.id, ...said } }
    }
  }
}
const replaced = (sign: Note): PageChange => ({ kind: "replace-sign", sign })

const said = ({ readings, meeting, cost }: Together) => ({ readings, meeting, cost })

describe.each(LAWFUL_PRACTICES)("%s", practice => {
  test("a piece read again after edits, decisions and undoing is what it would be read afresh", () => {
    const piece = fc.record({ seed: fc.integer({ min: 1, max: 1e6 }), voices: fc.integer({ min: 2, max: 4 }) })
    fc.assert(
      fc.property(piece, fc.array(step, { minLength: 2, maxLength: 5 }), ({ seed, voices }, steps) => {
        let { page } = lawfulPiece(seed, { practice, voices, notes: 40, doubtful: 0.3, mixed: seed % 5 === 0 })
        let read = readTogether(page)
        let undo: PageChange | undefined
        steps.forEach((one, serial) => {
          const change = one.kind === "undo" ? undo : changeAt(page, read, one, serial)
          const made = change && applyChange(page, change)
          if (made?.ok !== true) return
          ;({ page, undo } = made.value)
          read = readTogether(page, {}, read)
          // of a copy nothing is known
          expect(said(read)).toEqual(said(readTogether(structuredClone(page))))
        })
      }),
      { numRuns: runs(6) },
    )
  })

  test("what was found out of a voice is found out anew when it is asked by other options", () => {
    const { page } = lawfulPiece(11, { practice, voices: 3, notes: 40, doubtful: 0.3 })
    const bare: Page = {
      ...page,
      voices: page.voices.map(({ practice: _, ...voice }) => ({
        ...voice,
        signs: voice.signs.filter(sign => sign.kind !== "mensuration"),
      })),
    }
    for (const name of ["ars-nova", undefined, "white", "ars-nova"]) {
      const options = name === undefined ? {} : { practice: { name } }
      expect(said(readTogether(bare, options))).toEqual(said(readTogether(structuredClone(bare), options)))
    }
  })

  test("and so it is after durations that are only tried", () => {
    const { page } = lawfulPiece(7, { practice, voices: 3, notes: 60, doubtful: 0.3 })
    const first = readTogether(page)
    const notes = first.readings.flatMap(one => one.signs.filter(sign => sign.kind === "note" && !sign.held))
    for (let at = 3; at < notes.length; at += 29) {
      const decisions = new Map([[notes[at]!.id, [notes[at]!.duration.num + 1, notes[at]!.duration.den] as const]])
      expect(said(readTogether(page, { decisions }, first))).toEqual(said(readTogether(page, { decisions })))
    }
    expect(said(readTogether(page, {}, first))).toEqual(said(first))
  })
})
