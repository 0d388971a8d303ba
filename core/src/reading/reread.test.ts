import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { signId } from "../base/index.js"
import type { Sign, Voice } from "../page/index.js"
import { readVoice, rereadVoice } from "./index.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "./testing/lawful.js"

const kinds = ["level", "delete", "insert", "dot", "syllable"] as const
const edit = fc.record({ at: fc.double({ min: 0, max: 0.999, noNaN: true }), kind: fc.constantFrom(...kinds) })

/** The voice after one edit near the place `at` (0 to 1 along it). */
function edited(voice: Voice, { at, kind }: { at: number; kind: (typeof kinds)[number] }, serial: number): Voice {
  const signs: Sign[] = [...voice.signs]
  const from = Math.floor(at * signs.length)
  const index = signs.findIndex((sign, i) => i >= from && sign.kind === "note")
  const note = signs[index]
  if (note?.kind !== "note") return voice
  const id = signId(`new.${serial}`)
  if (kind === "level") signs[index] = { ...note, level: note.level === "brevis" ? "semibrevis" : "brevis" }
  else if (kind === "delete") signs.splice(index, 1)
  else if (kind === "insert") signs.splice(index, 0, { ...note, id })
  else if (kind === "dot") signs.splice(index + 1, 0, { kind: "dot", id })
  else signs[index] = { ...note, syllables: note.syllables.length > 0 ? [] : [{ stanza: 1, text: "la", join: " " }] }
  return { ...voice, signs }
}

describe.each(LAWFUL_PRACTICES)("%s", practice => {
  test("a voice read again after edits is what it would be read afresh", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.array(edit, { minLength: 1, maxLength: 4 }), (seed, edits) => {
        let { voice } = lawfulVoice(seed, { practice, notes: 160 })
        let reading = readVoice(voice)
        edits.forEach((one, serial) => {
          voice = edited(voice, one, serial)
          reading = rereadVoice(reading, voice)
          expect(reading).toEqual(readVoice(voice))
        })
      }),
      { numRuns: 40 },
    )
  })
})
