/** A note that is supplied needs a pitch: one that sounds with the others, and to which and from which this voice would go. */
import type { Note } from "../../page/index.js"
import { pitchAtStep } from "../../reading/pitches.js"
import type { Together } from "../read-together.js"
import { ticksIn } from "../backdrop.js"
import { stepOf, type Candidate } from "./candidates.js"
import type { Figure } from "./figures.js"
import { strengthOf } from "./laid.js"
import type { Laid } from "./stage.js"

/** Steps beyond the neighbours that are looked at. */
const WIDEST = 4

/** The candidate with a pitch for the note that it supplies, as the page is read with it; others as they are. */
export function withPitch(candidate: Candidate, laid: Laid, after: Together): Candidate {
  const [note, ...dots] = candidate.edit.in
  if (candidate.kind !== "note-missing" || note?.kind !== "note") return candidate
  const pitch = guessed(candidate, laid, after, note)
  return pitch === undefined
    ? candidate
    : { ...candidate, edit: { ...candidate.edit, in: [{ ...note, pitch }, ...dots] } }
}

/** The likeliest, by the steps to it and from it as these voices take them, and by what it sounds there. */
function guessed({ from, voice }: Candidate, laid: Laid, after: Together, note: Note): Note["pitch"] {
  const reading = after.readings.find(one => one.voice === voice)!
  const { figures, melody } = laid.subject
  const [a, b] = [stepAt(figures, from - 1), stepAt(figures, from)]
  const around = [a, b].filter(step => !Number.isNaN(step))
  const sign = reading.signs.find(one => one.id === note.id)
  if (sign === undefined || around.length === 0) return undefined
  const by = laid.factor(reading)
  const onset = ticksIn(sign.onset, by)
  const end = onset + ticksIn(sign.duration, by)
  const strength = strengthOf(laid.line, from, onset)
  let best = { step: around[0]!, cost: Infinity }
  for (let step = Math.min(...around) - WIDEST; step <= Math.max(...around) + WIDEST; step++) {
    const tone = { step, byStep: around.every(other => Math.abs(step - other) === 1), falls: b === step - 1 }
    const cost = melody.cost(a, step) + melody.cost(step, b) + laid.backdrop.cost(tone, onset, end, strength)
    if (cost < best.cost) best = { step, cost }
  }
  return pitchAtStep(best.step)
}

/** NaN beside the ends of a voice. */
const stepAt = (figures: readonly Figure[], index: number): number =>
  figures[index] === undefined ? Number.NaN : stepOf(figures[index])
