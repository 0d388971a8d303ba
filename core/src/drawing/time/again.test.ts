import { describe, expect, test } from "vitest"
import * as fc from "fast-check"
import { applyChange, type Note, type Page } from "../../page/index.js"
import { randomChange } from "../../page/testing/random-change.js"
import { randomPage } from "../../page/testing/random-page.js"
import { lawfulPiece } from "../../together/testing/lawful-piece.js"
import { toSvg } from "../scene/svg.js"
import { alikeIn } from "./alike.js"
import type { FormedVoice } from "./formed.js"
import { drawTime, layTime } from "./index.js"
import { inputOf } from "./testing/drawn.js"

const PRACTICES = ["ars-antiqua", "ars-nova", "white"] as const

/** The page with its note number `at` of a voice changed. */
function edited(page: Page, voice: number, along: number, change: (note: Note) => Note): Page {
  return {
    ...page,
    voices: page.voices.map((own, v) => {
      if (v !== voice) return own
      const at = own.signs.findIndex((sign, i) => i >= own.signs.length * along && sign.kind === "note")
      return { ...own, signs: own.signs.with(at, change(own.signs[at] as Note)) }
    }),
  }
}
/** The page without the note that stands there. */
function without(page: Page, voice: number, along: number): Page {
  return {
    ...page,
    voices: page.voices.map((own, v) => {
      if (v !== voice) return own
      const at = own.signs.findIndex((sign, i) => i >= own.signs.length * along && sign.kind === "note")
      return { ...own, signs: own.signs.toSpliced(at, 1) }
    }),
  }
}
const needsOf = ({ hard, soft, wordless }: FormedVoice) => ({ hard, soft, wordless })
const CHANGES: readonly [string, (note: Note) => Note][] = [
  ["another pitch", note => ({ ...note, pitch: { step: "a", octave: note.pitch?.octave ?? 3 } })],
  ["another level", note => ({ ...note, level: note.level === "brevis" ? "semibrevis" : "brevis" })],
  ["an accidental", note => ({ ...note, accidental: "f" })],
  ["another colour", note => ({ ...note, coloration: "red" })],
]

describe("laid again after a change", () => {
  for (const [at, practice] of PRACTICES.entries())
    test.each(CHANGES)(`${practice}, %s: the same as laid afresh`, (_, change) => {
      const { page } = lawfulPiece(20 + at, { practice, voices: 3, notes: 24, doubtful: 0.3 })
      const laid = layTime(inputOf(page))
      const now = inputOf(edited(page, at, 0.2 + 0.3 * at, change))
      const again = layTime(now, {}, laid)
      expect(toSvg(again.scene) === toSvg(drawTime(now))).toBe(true)
      // and once more from there
      expect(toSvg(layTime(inputOf(page), {}, again).scene) === toSvg(laid.scene)).toBe(true)
    })

  test("a system in which nothing changed is the very same object; what shows it need not be written again", () => {
    const { page } = lawfulPiece(5, { practice: "ars-nova", voices: 3, notes: 80, doubtful: 0 })
    const laid = layTime(inputOf(page))
    expect(laid.systems.length).toBeGreaterThan(5)
    const same = layTime(inputOf(page), {}, laid)
    expect(same.systems.map(one => one.system)).toEqual(laid.systems.map(one => one.system))
    expect(same.systems.every(({ system }, i) => system === laid.systems[i]!.system)).toBe(true)
    const known = new Set(laid.systems.map(one => one.system))
    const fresh = [0.3, 0.5, 0.6].map(along => {
      const now = inputOf(edited(page, 0, along, note => ({ ...note, accidental: "f" })))
      return layTime(now, {}, laid).systems.filter(({ system }) => !known.has(system)).length
    })
    expect(Math.min(...fresh)).toBeGreaterThan(0)
    // a wider note may move all cuts behind it; most do not
    expect(fresh.toSorted((a, b) => a - b)[1]).toBeLessThan(laid.systems.length / 4)
  })

  test("another pitch leaves the axis as it was cut, another level does not", () => {
    const { page } = lawfulPiece(5, { practice: "ars-nova", voices: 3, notes: 80, doubtful: 0 })
    const before = layTime(inputOf(page))
    const pitched = layTime(
      inputOf(edited(page, 0, 0.5, note => ({ ...note, pitch: { step: "a", octave: 4 } }))),
      {},
      before,
    )
    expect(pitched.plan.cutting).toBe(before.plan.cutting)
    expect(layTime(inputOf(edited(page, 0, 0.5, CHANGES[1]![1])), {}, before).plan.cutting).not.toBe(
      before.plan.cutting,
    )
  })

  test("in a system in which one voice has changed a voice that is as it was is not drawn again", () => {
    const { page } = lawfulPiece(5, { practice: "ars-nova", voices: 3, notes: 80, doubtful: 0 })
    const laid = layTime(inputOf(page))
    const before = new Map(laid.systems.map(({ system, axis }) => [axis.from, system.group.content]))
    const now = inputOf(edited(page, 0, 0.5, note => ({ ...note, pitch: { step: "a", octave: 4 } })))
    const known = new Set(laid.systems.map(one => one.system))
    const changed = layTime(now, {}, laid).systems.filter(({ system }) => !known.has(system))
    expect(changed.length).toBeGreaterThan(0)
    // another pitch is another interval to its neighbour, which may be read with another doubt
    for (const { system, axis } of changed) {
      const drawn = before.get(axis.from)!
      const voices = system.group.content.filter(({ part }) => part === "voice")
      const taken = voices.map(voice => drawn.includes(voice))
      expect([taken.every(Boolean), taken[2]]).toEqual([false, true])
    }
  })

  test("read with other doubts, on the same page: only what is doubted is another, and it looks as if laid afresh", () => {
    const { page } = lawfulPiece(7, { practice: "white", voices: 2, notes: 60, doubtful: 0.2 })
    const input = inputOf(page)
    const laid = layTime(input)
    for (const { system } of laid.systems) void system.group
    const readings = input.readings.map((reading, v) => ({
      ...reading,
      signs: reading.signs.map((sign, i) => (v === 0 && i % 17 === 5 ? { ...sign, doubt: 0.5 } : { ...sign })),
    }))
    const doubted = layTime({ ...input, readings }, {}, laid)
    expect(toSvg(doubted.scene) === toSvg(drawTime({ ...input, readings }))).toBe(true)
    expect(toSvg(doubted.scene) === toSvg(laid.scene)).toBe(false)
    const [now, then] = [doubted.plan.voices, laid.plan.voices].map(([first]) => first!.time.signs)
    const others = now!.filter((timed, i) => timed !== then![i])
    expect(others.length).toBeGreaterThan(0)
    expect(others.every(({ reading }) => reading.doubt === 0.5)).toBe(true)
  })

  test.each(PRACTICES)(
    "%s: signs changed, taken away and put back one after another, each laid from the one before",
    practice => {
      const { page } = lawfulPiece(40, { practice, voices: 2, notes: 40, doubtful: 0.2 })
      const pages = [0.02, 0.3, 0.6, 0.85].flatMap((along, i) => [
        edited(page, i % 2, along, CHANGES[i]![1]),
        without(page, (i + 1) % 2, along),
        page,
      ])
      for (const options of [{}, { compact: true }]) {
        let laid = layTime(inputOf(page), options)
        for (const [i, one] of pages.entries()) {
          const input = inputOf(one)
          laid = layTime(input, options, laid)
          expect(toSvg(laid.scene) === toSvg(drawTime(input, options)), `step ${i}`).toBe(true)
          const { voices } = layTime(input, options).plan
          expect(laid.plan.voices.map(needsOf)).toEqual(voices.map(needsOf))
          // what is drawn of a voice may be taken over by the next
          if (i % 2 === 0) for (const { system } of laid.systems) void system.group
        }
      }
    },
  )

  test("random pages after random changes: the same as laid afresh", () => {
    const changed = randomPage({ signs: 16, voices: 3 }).chain(page =>
      fc.tuple(fc.constant(page), page.voices.length > 0 ? randomChange(page) : fc.constant(undefined)),
    )
    let tried = 0
    for (const [page, change] of fc.sample(changed, { seed: 4, numRuns: 60 })) {
      const applied = change && applyChange(page, change)
      if (!applied?.ok) continue
      tried++
      const now = inputOf(applied.value.page)
      const select = now.page.voices[0]?.signs.find(one => one.kind === "note")?.id
      const options = { lanes: tried % 2 === 0, ...(select && tried % 3 === 0 ? { select } : {}) }
      const laid = layTime(inputOf(page), options)
      const again = layTime(now, options, laid)
      expect(toSvg(again.scene) === toSvg(drawTime(now, options)), `change ${tried}: ${JSON.stringify(change)}`).toBe(
        true,
      )
      expect(toSvg(layTime(inputOf(page), options, again).scene) === toSvg(laid.scene), `back ${tried}`).toBe(true)
    }
    expect(tried).toBeGreaterThan(30)
  })

  test("the reason of a sign names the other voices as they are called now", () => {
    const { page } = lawfulPiece(502, { practice: "ars-nova-early", voices: 3, notes: 30, doubtful: 0.3 })
    const called: Page = { ...page, voices: page.voices.map((own, v) => (v === 2 ? { ...own, label: "contra" } : own)) }
    for (const { kind, id } of page.voices[0]!.signs) {
      if (kind !== "note") continue
      const laid = layTime(inputOf(page), { select: id })
      const again = layTime(inputOf(called), { select: id }, laid)
      expect(again.description).toBe(layTime(inputOf(called), { select: id }).description)
    }
  })

  test("a beginning and an end that look alike keep their forms", () => {
    const { page } = lawfulPiece(8, { practice: "ars-nova", voices: 2, notes: 60, doubtful: 0 })
    const laid = layTime(inputOf(page))
    const again = layTime(inputOf(without(page, 0, 0.5)), {}, laid)
    const [now, known] = [again.plan.voices[0]!, laid.plan.voices[0]!]
    expect(now.forms).toHaveLength(known.forms.length - 1)
    const { head, tail } = alikeIn(now.time, known.time)
    expect(head).toBeGreaterThan(10)
    expect(tail).toBeGreaterThan(5)
    expect(now.forms.slice(-tail).every((form, i) => form === known.forms.slice(-tail)[i])).toBe(true)
  })

  test("at another size nothing is kept, and it is as if laid afresh", () => {
    const { page } = lawfulPiece(6, { practice: "white", voices: 2, notes: 40, doubtful: 0 })
    const laid = layTime(inputOf(page))
    const input = inputOf(page)
    for (const options of [{ width: 1000 }, { compact: true }, { words: false }, { lanes: true }])
      expect(toSvg(layTime(input, options, laid).scene) === toSvg(drawTime(input, options))).toBe(true)
  })
})
