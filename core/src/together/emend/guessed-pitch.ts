/**
 * A note that is supplied needs a pitch: one that sounds with the others, and to which and from which this voice would go.
 * Which one it was nobody knows; what all that it may have been would sound says whether a note was left out there.
 */
import type { Note } from "../../page/index.js"
import type { Tone } from "../../counterpoint/index.js"
import type { Reading, SignReading } from "../../reading/index.js"
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
  const note = suppliedBy(candidate)
  if (note === undefined) return candidate
  const best = pitchesFor(candidate, laid, after).toSorted((a, b) => a.moves + a.sounds - b.moves - b.sounds)[0]
  if (best === undefined) return candidate
  const [, ...dots] = candidate.edit.in
  return { ...candidate, edit: { ...candidate.edit, in: [{ ...note, pitch: pitchAtStep(best.step) }, ...dots] } }
}

/**
 * How much better (+) or worse the others sound with the note that is supplied than with any note by chance, whatever its pitch was:
 * natural logarithm of odds, all pitches together, each as likely as this voice would sing it there.
 */
export function soundOfSupplied(candidate: Candidate, laid: Laid, after: Together): number {
  if (suppliedBy(candidate) === undefined) return 0
  let [silent, heard] = [0, 0]
  for (const { moves, sounds } of pitchesFor(candidate, laid, after)) {
    silent += Math.exp(-moves)
    heard += Math.exp(-moves - sounds)
  }
  return silent > 0 ? Math.log(heard / silent) : 0
}

function suppliedBy({ kind, edit }: Candidate): Note | undefined {
  const [note] = edit.in
  return kind === "note-missing" && note?.kind === "note" ? note : undefined
}

/** A pitch that it may have had: what the steps to it and from it cost, and what it sounds. */
interface Guess {
  readonly step: number
  readonly moves: number
  readonly sounds: number
}

function pitchesFor({ from, voice, edit }: Candidate, laid: Laid, after: Together): Guess[] {
  const reading = after.readings.find(one => one.voice === voice)!
  const { figures, melody } = laid.subject
  const [before, a, b, next] = [-2, -1, 0, 1].map(by => stepAt(figures, from + by)) as [number, number, number, number]
  const around = [a, b].filter(step => !Number.isNaN(step))
  const sounds = sounding(laid, reading, from)
  const note = reading.signs.find(one => one.id === edit.in[0]!.id)
  if (note === undefined || around.length === 0) return []
  const [left, right] = [-1, 0].map(by => signOf(reading, figures[from + by]))
  const guesses: Guess[] = []
  for (let step = Math.min(...around) - WIDEST; step <= Math.max(...around) + WIDEST; step++) {
    const moves = melody.towards(a, step) + melody.towards(step, b)
    const cost =
      sounds(note, toneOf(a, step, b)) + sounds(left, toneOf(before, a, step)) + sounds(right, toneOf(step, b, next))
    guesses.push({ step, moves, sounds: cost })
  }
  // what its neighbours sound beside a note that nobody knows has been counted
  const known = sounds(left, toneOf(before, a, Number.NaN)) + sounds(right, toneOf(Number.NaN, b, next))
  return guesses.map(guess => ({ ...guess, sounds: guess.sounds - known }))
}

const toneOf = (before: number, step: number, after: number): Tone => ({
  step,
  byStep: Math.abs(step - before) === 1 && Math.abs(after - step) === 1,
  falls: after === step - 1,
})

/** What a tone would cost in the place of a sign of the voice; nothing for no sign and for rests. */
function sounding(laid: Laid, reading: Reading, figure: number): (sign: SignReading | undefined, tone: Tone) => number {
  const by = laid.factor(reading)
  return (sign, tone) => {
    if (sign === undefined) return 0
    const onset = ticksIn(sign.onset, by)
    return laid.backdrop.cost(tone, onset, onset + ticksIn(sign.duration, by), strengthOf(laid.line, figure, onset))
  }
}

const signOf = ({ signs }: Reading, figure: Figure | undefined): SignReading | undefined =>
  figure && signs.find(({ id }) => id === figure.sign.id)

/** NaN beside the ends of a voice. */
const stepAt = (figures: readonly Figure[], index: number): number =>
  figures[index] === undefined ? Number.NaN : stepOf(figures[index])
