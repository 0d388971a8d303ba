/** A changed voice costs what it would cost laid out whole, though only what is not as it was is laid out. */
import { describe, expect, test } from "vitest"
import { layVoice } from "../../reading/read-voice.js"
import { withPageOptions } from "../../reading/rulings.js"
import { LAWFUL_PRACTICES, lawfulPiece } from "../testing/lawful-piece.js"
import { readTogether } from "../read-together.js"
import { prepared, totalAfter } from "./changed-line.js"
import { edited } from "./figures.js"
import { Habits } from "./habits.js"
import { forward, lineOf, totalOf } from "./laid.js"
import { changed } from "./changed-page.js"
import { Stage } from "./stage.js"
import { candidatesOf } from "./suspects.js"
import { UNEXPLAINED } from "./weights.js"

/** One in so many candidates is tried. */
const EVERY = 23

describe.each(LAWFUL_PRACTICES)("%s", practice => {
  const { page } = lawfulPiece(31, { practice, voices: 3, notes: 30, mixed: true })
  // a note is lost, so that voices part
  const spoiled = changed(page, page.voices[0]!.id, {
    voice: page.voices[0]!.id,
    out: [page.voices[0]!.signs.filter(({ kind }) => kind === "note")[9]!.id],
    in: [],
  })!
  const stage = new Stage(spoiled, readTogether(spoiled), {})
  const reading = withPageOptions(spoiled, stage.options)

  test("with any change a voice costs what it does laid out whole", () => {
    let tried = 0
    for (const laid of stage.laid) {
      const { line, backdrop, factor, worked, analysis } = laid
      const partings = { price: UNEXPLAINED, by: [...new Set(analysis.jumps.map(({ by }) => by))] }
      const before = prepared(line, backdrop, partings, analysis.there)
      ;[...candidatesOf(laid)].forEach(({ edit }, i) => {
        const voice = i % EVERY === 0 ? edited(laid.subject.voice, edit) : undefined
        if (voice === undefined) return
        const after = layVoice(voice, reading, worked)
        const whole = lineOf(after, backdrop, factor, line.metre)
        expect(totalAfter(before, after, factor)).toBeCloseTo(
          totalOf(whole, backdrop, forward(whole, backdrop, partings, Infinity)),
          6,
        )
        tried++
      })
    }
    expect(tried).toBeGreaterThan(10)
  })

  test("and its figures are as usual as if none of its signs were known", () => {
    for (const laid of stage.laid) {
      const { voice } = laid.subject
      const habits = new Habits(spoiled, voice)
      ;[...candidatesOf(laid)].forEach(({ edit }, i) => {
        const after = i % EVERY === 0 ? edited(voice, edit) : undefined
        if (after !== undefined) expect(habits.change(after)).toBe(habits.change(structuredClone(after)))
      })
    }
  })
})
