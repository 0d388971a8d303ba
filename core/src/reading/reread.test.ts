import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { ratio, signId } from "../base/index.js"
import { applyChange, type Decision, type Page, type Sign, type Voice } from "../page/index.js"
import { randomChange } from "../page/testing/random-change.js"
import { randomPage } from "../page/testing/random-page.js"
import { readVoice, rereadVoice, type Reading } from "./index.js"
import { withPageOptions } from "./rulings.js"
import { EDIT_KINDS, edited as editedSo, freshIds } from "./testing/edits.js"
import { LAWFUL_PRACTICES, lawfulVoice } from "./testing/lawful.js"
import { randomFrom } from "./testing/random.js"
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

describe("edits of every kind", () => {
  const step = fc.record({ kind: fc.constantFrom(...EDIT_KINDS), drawn: fc.nat(), stays: fc.boolean() })

  /** The reading of each voice of a row, each made from that of one before; none of those may be altered by it. */
  const holds = (
    voice: Voice,
    edits: readonly { kind: (typeof EDIT_KINDS)[number]; drawn: number; stays: boolean }[],
  ) => {
    const id = freshIds()
    let reading = readVoice(voice)
    for (const { kind, drawn, stays } of edits) {
      const before = JSON.stringify(reading)
      const changed = editedSo(voice, kind, randomFrom(drawn), id)
      const again = rereadVoice(reading, changed)
      expect(again).toEqual(readVoice(changed))
      expect(rereadVoice(again, voice)).toEqual(reading)
      expect(JSON.stringify(reading)).toBe(before)
      if (stays) [voice, reading] = [changed, again]
    }
  }

  test.each(LAWFUL_PRACTICES)("%s: in a lawful voice, and taken back", practice => {
    fc.assert(
      fc.property(fc.nat(1e6), fc.array(step, { minLength: 2, maxLength: 8 }), (seed, edits) =>
        holds(
          lawfulVoice(seed, {
            practice,
            notes: 250,
            careless: seed % 2 === 0 ? 0 : 0.2,
            undotted: seed % 3 === 0 ? 0.3 : 0,
          }).voice,
          edits,
        ),
      ),
      { numRuns: runs(12) },
    )
  })

  test("where colour turns the mensuration, or makes groups of three", () => {
    const options = fc.constantFrom<Record<string, string>>(
      { colourMap: "perfect-tempus" },
      { colourInImperfect: "late" },
    )
    fc.assert(
      fc.property(fc.nat(1e6), options, fc.array(step, { minLength: 2, maxLength: 8 }), (seed, own, edits) => {
        const { voice } = lawfulVoice(seed, { practice: "white", notes: 250 })
        const practice = { name: "white", options: { ...voice.practice!.options, ...own } }
        holds({ ...voice, practice }, edits)
      }),
      { numRuns: runs(12) },
    )
  })

  test("on pages of random signs, with decisions made, changed and taken back", () => {
    const pages = randomPage({ signs: 40, voices: 2 })
    fc.assert(
      fc.property(
        pages.chain(page => fc.tuple(fc.constant(page), fc.array(randomChange(page), { minLength: 1, maxLength: 6 }))),
        ([page, changes]) => {
          let known = page.voices.map(voice => readVoice(voice, withPageOptions(page, {})))
          let now: Page = page
          for (const change of changes) {
            const made = applyChange(now, change)
            if (!made.ok) continue
            now = made.value.page
            const options = withPageOptions(now, {})
            known = now.voices.map((voice, i) => rereadVoice(known[i]!, voice, options))
            expect(known).toEqual(now.voices.map(voice => readVoice(voice, options)))
          }
        },
      ),
      { numRuns: runs(60) },
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
