/** A note that is supplied needs a pitch: one that sounds with the others and lies near its neighbours. */
import type { Note } from "../../page/index.js"
import { pitchAtStep, stepNumber } from "../../reading/pitches.js"
import type { Together } from "../read-together.js"
import { ticksIn } from "../backdrop.js"
import type { Candidate } from "./candidates.js"
import type { Laid, Stage } from "./stage.js"

/** How little a step from a neighbour is liked, per staff step. */
const LEAP = 0.4
const WIDEST = 4

/** The candidate with a pitch for the note that it supplies; others as they are. */
export function withPitch(stage: Stage, candidate: Candidate, laid: Laid, after: Together): Candidate {
  const [note, ...dots] = candidate.edit.in
  if (candidate.kind !== "note-missing" || note?.kind !== "note") return candidate
  const pitch = guessed(stage, candidate, laid, after, note)
  return pitch === undefined
    ? candidate
    : { ...candidate, edit: { ...candidate.edit, in: [{ ...note, pitch }, ...dots] } }
}

function guessed(stage: Stage, { from, voice }: Candidate, laid: Laid, after: Together, note: Note): Note["pitch"] {
  const at = stage.page.voices.findIndex(one => one.id === voice)
  const reading = after.readings[at]!
  const sign = reading.signs.find(one => one.id === note.id)
  const { figures } = laid.subject
  const around = [figures[from - 1], figures[from]].flatMap(figure => {
    const own = figure?.sign
    return own?.kind === "note" && own.pitch ? [stepNumber(own.pitch)] : []
  })
  if (sign === undefined || around.length === 0) return undefined
  const by = laid.factor(reading)
  const onset = ticksIn(sign.onset, by)
  const end = onset + ticksIn(sign.duration, by)
  const middle = Math.round(around.reduce((sum, step) => sum + step, 0) / around.length)
  let best = { step: middle, cost: Infinity }
  for (let step = middle - WIDEST; step <= middle + WIDEST; step++) {
    const leaps = around.reduce((sum, other) => sum + LEAP * Math.abs(step - other), 0)
    const byStep = around.every(other => Math.abs(step - other) === 1)
    const tone = { step, byStep, falls: around.at(-1) === step - 1 }
    const cost = laid.backdrop.cost(tone, onset, end, 1) + leaps
    if (cost < best.cost) best = { step, cost }
  }
  return pitchAtStep(best.step)
}
