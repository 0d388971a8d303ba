import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { ratio, signId } from "../base/index.js"
import type { Decision, Sign, Voice } from "../page/index.js"
import { readVoice, rereadVoice, type Reading } from "./index.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "./testing/lawful.js"
import { runs } from "../base/testing/runs.js"

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
      { numRuns: runs(15) },
    )
  })

  test("and after decisions made, changed and taken back between edits", () => {
    const step = fc.oneof(
      fc.record({ edit }),
      fc.record({ decide: fc.record({ at: fc.nat(10_000), how: fc.nat(5), num: fc.constantFrom(1, 2, 3, 4, 6, 9) }) }),
    )
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.array(step, { minLength: 2, maxLength: 6 }), (seed, steps) => {
        let { voice } = lawfulVoice(seed, { practice, notes: 160 })
        let pageDecisions: readonly Decision[] = []
        let reading = readVoice(voice, { pageDecisions })
        steps.forEach((one, serial) => {
          if ("edit" in one) voice = edited(voice, one.edit, serial)
          else pageDecisions = decided(reading, pageDecisions, one.decide, serial)
          reading = rereadVoice(reading, voice, { pageDecisions })
          expect(reading).toEqual(readVoice(voice, { pageDecisions }))
        })
      }),
      { numRuns: runs(15) },
    )
  })
})

/** The decisions with one more, or one fewer: a fixed or refused duration of some note, the meaning of some dot. */
function decided(
  { signs }: Reading,
  decisions: readonly Decision[],
  { at, how, num }: { at: number; how: number; num: number },
  serial: number,
): readonly Decision[] {
  if (how === 0) return decisions.slice(1)
  const marks = signs.filter(sign => sign.kind === "dot" || sign.kind === "stroke")
  const able = how === 1 && marks.length > 0 ? marks : signs.filter(sign => sign.number > 0)
  const sign = able[at % able.length]!
  const what =
    sign.number === 0
      ? { dot: (["division", "addition", "perfection"] as const)[at % 3]! }
      : how < 4
        ? { duration: ratio(num, sign.level === "semibrevis" ? 2 : 1) }
        : { not: [sign.duration] }
  return [...decisions, { id: signId(`d${serial}`), sign: sign.id, ...what }]
}
