/** Which of many passages is taken for one that stands at a wrong height: lines before others, leaps only so far. */
import { expect, test } from "vitest"
import { randomFrom } from "../../reading/testing/random.js"
import type { VoiceId } from "../../base/index.js"
import type { Page } from "../../page/index.js"
import { readTogether } from "../read-together.js"
import { lawfulPiece } from "../testing/lawful-piece.js"
import { plantSlip } from "./testing/slips.js"
import { regretOf } from "./regret.js"
import { changed } from "./changed-page.js"
import { Stage } from "./stage.js"
import type { Weighed } from "./weighed.js"

type Passage = readonly [first: number, last: number]

/** A duet of which a passage was moved, and what is said of shifts of that voice; the likeliest first. */
function spoiled(seed: number, least?: number): { readonly slip: Passage; readonly shifts: readonly Weighed[] } {
  const { page } = lawfulPiece(seed, { practice: "white", voices: 2, notes: 30 })
  const slip = plantSlip(page, "pitch-shifted", randomFrom(seed), () => false)!
  const stage = new Stage(slip.page, readTogether(slip.page), {})
  const laid = stage.laid.find(one => one.subject.voice.id === slip.voice)!
  const shifts = [...stage.shifts(laid, least)].sort((a, b) => b.saves - b.price - a.saves + a.price)
  return { slip: [slip.from, slip.to], shifts }
}

const passage = ({ candidate: { from, to } }: Weighed): Passage => [from, to]
const best = (all: readonly Weighed[], inLine: boolean): Weighed =>
  all.find(({ candidate }) => (candidate.extra === 0) === inLine)!

test("a whole line is likelier than a part of it that sounds a little better", () => {
  const { slip, shifts } = spoiled(7137, 0)
  const [line, part] = [best(shifts, true), best(shifts, false)]
  expect(part.saves).toBeGreaterThan(line.saves + 0.4)
  expect(shifts[0]).toBe(line)
  expect(passage(line)).toEqual(slip)
})

test("but not than a passage that sounds better by far", () => {
  const { slip, shifts } = spoiled(7153, 0)
  const [line, other] = [best(shifts, true), best(shifts, false)]
  expect(passage(line)).toEqual(slip)
  expect(other.saves).toBeLessThan(line.saves + 1.9)
  expect(shifts[0]).toBe(other)
})

test("leaps at its ends help a passage that sounds wrong to be proposed", () => {
  const { slip, shifts } = spoiled(7150)
  expect(shifts.map(passage)).toContainEqual(slip)
  // more by leaps than would be enough without them
  const { saves, candidate } = shifts.find(one => String(passage(one)) === String(slip))!
  expect(saves - (candidate as unknown as { leaps: number }).leaps).toBeLessThan(6)
})

test("but sound voices leap too: with leaps for the most part it is not proposed", () => {
  const { slip, shifts } = spoiled(7155)
  expect(shifts.map(passage)).not.toContainEqual(slip)
  expect(spoiled(7155, 5).shifts.map(passage)).toContainEqual(slip)
})

/** The likeliest shift in a voice, and by how much the passage would rather go back. */
function regretIn(page: Page, voice?: VoiceId): number {
  const together = readTogether(page)
  const stage = new Stage(page, together, {})
  const [best] = stage.laid
    .filter(({ subject }) => voice === undefined || subject.voice.id === voice)
    .flatMap(laid => [...stage.shifts(laid, 1)])
    .sort((a, b) => b.saves - b.price - a.saves + a.price)
  const moved = changed(page, best!.candidate.voice, best!.candidate.edit)!
  return regretOf(stage, best!.candidate, moved, readTogether(moved))
}

test("a passage that was misread would not go back once it is moved; one that sounds better by chance does not mind", () => {
  const { page } = lawfulPiece(7137, { practice: "white", voices: 2, notes: 30 })
  const slip = plantSlip(page, "pitch-shifted", randomFrom(7137), () => false)!
  expect(regretIn(slip.page, slip.voice)).toBeLessThan(-1)
  const sound = lawfulPiece(7211, { practice: "ars-nova", voices: 2, notes: 25 }).page
  expect(regretIn(sound)).toBeGreaterThan(-0.5)
})
