/** The pitch of a note that was lost, as its neighbours and the other voices tell it. */
import { expect, test } from "vitest"
import type { Page, Pitch } from "../../page/index.js"
import { randomFrom } from "../../reading/testing/random.js"
import { readTogether } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import type { Candidate } from "./candidates.js"
import { withPitch } from "./guessed-pitch.js"
import { Stage, type Laid } from "./stage.js"

/** Pitches asked of notes as if they had been lost, one by one; of each the true one and the guess. */
function* guesses(page: Page, seed: number, times: number): Generator<readonly [was: Pitch, guess: Pitch | undefined]> {
  const together = readTogether(page)
  const random = randomFrom(seed)
  for (const laid of new Stage(page, together, {}).laid)
    for (let i = 0; i < times; i++) {
      const { figures, voice } = laid.subject
      const { sign, index, ligature } = figures[2 + random.below(figures.length - 4)]!
      if (sign.kind !== "note" || ligature || !sign.pitch) continue
      const { pitch, ...lost } = sign
      const edit = { voice: voice.id, out: [], in: [lost] }
      const candidate: Candidate = {
        kind: "note-missing",
        voice: voice.id,
        from: index,
        to: index,
        sign: sign.id,
        edit,
        extra: 0,
      }
      const others: Laid = { ...laid, subject: { ...laid.subject, figures: figures.toSpliced(index, 1) } }
      const [made] = withPitch(candidate, others, together).edit.in
      yield [pitch, made?.kind === "note" ? made.pitch : undefined]
    }
}

const isSame = (a: Pitch, b: Pitch | undefined): boolean => a.step === b?.step && a.octave === b.octave

test("most notes that are lost get their own pitch back", () => {
  const all = ["white", "ars-antiqua"].flatMap((practice, i) => {
    const { page } = lawfulPiece(8100 + i, { practice: practice as "white", voices: 3, notes: 20 })
    return [...guesses(page, 8100 + i, 20)]
  })
  expect(all.length).toBeGreaterThan(60)
  expect(all.filter(([was, guess]) => isSame(was, guess)).length / all.length).toBeGreaterThan(0.65)
})
