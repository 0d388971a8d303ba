/** The pitch of a note that was lost, as its neighbours and the other voices tell it. */
import { expect, test } from "vitest"
import type { Page, Pitch } from "../../page/index.js"
import { randomFrom } from "../../reading/testing/random.js"
import { readTogether, type Together } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import type { Candidate } from "./candidates.js"
import { soundOfSupplied, withPitch } from "./guessed-pitch.js"
import { Stage, type Laid } from "./stage.js"

interface Lost {
  readonly was: Pitch
  readonly candidate: Candidate
  readonly laid: Laid
}

/** Notes as if they had been lost, one by one, and were supplied where they stood. */
function* lostNotes(page: Page, together: Together, seed: number, times: number): Generator<Lost> {
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
      yield {
        was: pitch,
        candidate,
        laid: { ...laid, subject: { ...laid.subject, figures: figures.toSpliced(index, 1) } },
      }
    }
}

function* lostIn(seed: number, notes: number, times: number): Generator<Lost & { readonly together: Together }> {
  for (const [i, practice] of (["white", "ars-antiqua"] as const).entries()) {
    const { page } = lawfulPiece(seed + i, { practice, voices: 3, notes })
    const together = readTogether(page)
    for (const lost of lostNotes(page, together, seed + i, times)) yield { ...lost, together }
  }
}

const isSame = (a: Pitch, b: Pitch | undefined): boolean => a.step === b?.step && a.octave === b.octave

test("most notes that are lost get their own pitch back", () => {
  const all = [...lostIn(8100, 20, 20)].map(({ was, candidate, laid, together }) => {
    const [made] = withPitch(candidate, laid, together).edit.in
    return isSame(was, made?.kind === "note" ? made.pitch : undefined)
  })
  expect(all.length).toBeGreaterThan(60)
  expect(all.filter(same => same).length / all.length).toBeGreaterThan(0.65)
})

test("the others sound better with what was left out than with a note elsewhere, whatever its pitch was", () => {
  const all = [...lostIn(8200, 40, 20)]
  const mean = (by: (one: (typeof all)[number]) => number): number =>
    all.reduce((sum, one) => sum + by(one), 0) / all.length
  const there = mean(({ candidate, laid, together }) => soundOfSupplied(candidate, laid, together))
  // the same note between two others, to which it is not owed
  const elsewhere = mean(({ candidate, laid, together }) => {
    const from = 2 + ((candidate.from + 5) % (laid.subject.figures.length - 4))
    return soundOfSupplied({ ...candidate, from }, laid, together)
  })
  expect(there).toBeGreaterThan(0.2)
  expect(there).toBeGreaterThan(elsewhere + 0.2)
})

test("of a change that supplies no note nothing is asked", () => {
  const [{ candidate, laid, together }] = [...lostIn(8300, 20, 1)] as [Lost & { readonly together: Together }]
  expect(soundOfSupplied({ ...candidate, kind: "level-changed" }, laid, together)).toBe(0)
})
