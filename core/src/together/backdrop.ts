/**
 * What the other voices sound, fixed as they were read together without the voice that is being looked at: what any note
 * of that voice would say against them, and where it would have to arrive.
 */
import { compare, lastBegun, toNumber, times, type Rational } from "../base/index.js"
import {
  counterpointOf,
  intervalOf,
  MISSED_MEETING,
  tonesOf,
  type CounterpointWeights,
  type IntervalKind,
  type Strength,
  type Tone,
} from "../counterpoint/index.js"
import { UNIT } from "../practices/index.js"
import type { MensurationSpan, Reading, SignReading } from "../reading/index.js"
import { pitchOf } from "../score/pitch.js"
import { Moments } from "./moments.js"
import { soundAt, soundsOf } from "./rows.js"
import { stepNumber } from "../reading/pitches.js"

/** One note of another voice; times in ticks of the common unit. */
interface Sounding {
  readonly onset: number
  readonly end: number
  readonly tone: Tone
  /** Step of the lowest note of all these voices as it begins. */
  floor: number
  readonly strength: Strength
  readonly sign: SignReading
}

type Line = readonly Sounding[]

export type Factor = (reading: Reading) => Rational

/** A time of the reading in whole ticks of the common unit (rounded under wild proportions). */
export const ticksIn = (time: Rational, factor: Rational): number => Math.round(toNumber(times(time, factor)) * UNIT)

export class Backdrop {
  private lines: readonly Line[]
  private readonly moments: Moments
  weights: CounterpointWeights
  /** What their intervals cost; see `soundAt`. */
  private sounds: Float64Array
  /** Onsets of the finals, or the ends of voices that close with a rest. */
  readonly goals: readonly number[]
  /** Where the others have ended. */
  readonly end: number
  /** Where signs of mensuration or proportion stand in them. */
  private readonly changes: readonly number[]
  /** Of all durations, for a grid of times. */
  readonly durations: readonly number[]

  constructor(others: readonly Reading[], practice: string, factor: Factor) {
    this.weights = counterpointOf(practice)
    this.sounds = soundsOf(this.weights)
    this.lines = others.map(reading => lineOf(reading, factor(reading)))
    this.moments = new Moments(this.lines)
    this.changes = others.flatMap(reading =>
      reading.mensurations.slice(1).map(({ onset }) => ticksIn(onset, factor(reading))),
    )
    for (const notes of this.lines) for (const note of notes) note.floor = this.floorAt(note.onset)
    this.goals = this.lines.flatMap(notes => {
      const last = notes.at(-1)
      return last === undefined
        ? []
        : [Number.isNaN(last.tone.step) && last.sign.kind === "rest" ? last.end : last.onset]
    })
    this.end = Math.max(0, ...this.lines.flatMap(notes => notes.at(-1)?.end ?? []))
    this.durations = this.lines.flatMap(notes => notes.map(note => note.end - note.onset))
  }

  /** The same voices, their intervals weighed otherwise. */
  with(weights: CounterpointWeights): Backdrop {
    const other = Object.create(this) as Backdrop
    other.weights = weights
    other.sounds = soundsOf(weights)
    return other
  }

  /** Tells what a tone meets as it begins. */
  met(
    tone: Tone,
    onset: number,
    tell: (pair: "lowest" | "upper", together: boolean, kind: IntervalKind) => void,
  ): void {
    const floor = this.floorAt(onset)
    this.lines.forEach(notes => {
      const note = notes[lastBegun(notes, onset)]
      if (note === undefined || note.end <= onset || Number.isNaN(note.tone.step)) return
      const together = note.onset === onset
      tell(isLowest(tone, note.tone, floor) ? "lowest" : "upper", together, intervalOf(tone, note.tone, together))
    })
  }

  /** The change of sign in these voices that is nearest to a time, if it is no further off than `within`; else the time. */
  changeNear(time: number, within: number): number {
    let best = time
    let off = within
    for (const change of this.changes) {
      if (Math.abs(change - time) > off) continue
      best = change
      off = Math.abs(change - time)
    }
    return best
  }

  /** Step of the lowest note that sounds at this time. */
  private floorAt(time: number): number {
    return this.moments.floor[this.moments.at(time)]!
  }

  /** What it costs that the voice begins its final (or ends, closing with a rest) then. */
  missed(time: number): number {
    let cost = 0
    for (const goal of this.goals) if (goal !== time) cost += MISSED_MEETING
    return cost
  }

  /** What a tone from `onset` to `end` says, as it begins and as others begin against it. */
  cost(tone: Tone, onset: number, end: number, strength: Strength): number {
    const { step, byStep, falls } = tone
    if (Number.isNaN(step)) return 0
    const { lines, moments, sounds } = this
    const moment = moments.at(onset)
    const floor = moments.floor[moment]!
    let cost = 0
    for (let line = 0; line < lines.length; line++) {
      const notes = lines[line]!
      let at = moments.begun[moment * lines.length + line]!
      const first = notes[at]
      if (first !== undefined && first.end > onset && !Number.isNaN(first.tone.step)) {
        const other = first.tone
        const together = first.onset === onset
        const stepwise = byStep || (together ? other.byStep : other.falls)
        const isUpper = (step < other.step ? step : other.step) > floor
        cost += sounds[soundAt(isUpper, together, strength, step - other.step, stepwise)]!
      }
      for (at++; at < notes.length && notes[at]!.onset < end; at++) {
        const note = notes[at]!
        const other = note.tone
        if (Number.isNaN(other.step)) continue
        const isUpper = (step < other.step ? step : other.step) > note.floor
        cost += sounds[soundAt(isUpper, false, note.strength, step - other.step, other.byStep || falls)]!
      }
    }
    return cost
  }

  /** The notes of which one is the lowest with a tone at this step, as it begins and as they begin against it. */
  under(step: number, onset: number, end: number, tell: (note: SignReading, step: number) => void): void {
    const { lines, moments } = this
    const moment = moments.at(onset)
    for (let line = 0; line < lines.length; line++) {
      const notes = lines[line]!
      let at = moments.begun[moment * lines.length + line]!
      const first = notes[at]
      if (first !== undefined && first.end > onset && Math.min(step, first.tone.step) <= moments.floor[moment]!)
        tell(first.sign, first.tone.step)
      for (at++; at < notes.length && notes[at]!.onset < end; at++) {
        const { sign, tone, floor } = notes[at]!
        if (Math.min(step, tone.step) <= floor) tell(sign, tone.step)
      }
    }
  }

  /** What each of these voices sings at this time, as a staff step; NaN where it is silent. */
  stepsAt(time: number): number[] {
    return this.lines.map(notes => {
      const note = notes[lastBegun(notes, time)]
      return note !== undefined && note.end > time ? note.tone.step : Number.NaN
    })
  }

  /** The signs that sound at this time. */
  soundingAt(time: number): SignReading[] {
    return this.lines.flatMap(notes => {
      const note = notes[lastBegun(notes, time)]
      return note !== undefined && note.end > time && !Number.isNaN(note.tone.step) ? [note.sign] : []
    })
  }
}

/** Whether one of two tones is the lowest of all that sound; `floor`: that of the others. */
const isLowest = (a: Tone, b: Tone, floor: number): boolean => {
  const low = Math.min(a.step, b.step)
  return low <= floor
}

function lineOf(reading: Reading, factor: Rational): Line {
  const notes: Omit<Sounding, "tone" | "floor">[] = []
  const steps: number[] = []
  let span = 0
  for (const sign of reading.signs) {
    if ((sign.kind !== "note" && sign.kind !== "rest") || sign.duration.num <= 0) continue
    const { mensurations } = reading
    while (span + 1 < mensurations.length && compare(mensurations[span + 1]!.onset, sign.onset) <= 0) span++
    const pitch = sign.kind === "note" ? pitchOf(sign.pitch) : null
    notes.push({
      onset: ticksIn(sign.onset, factor),
      end: ticksIn(sign.onset, factor) + ticksIn(sign.duration, factor),
      strength: strengthIn(mensurations[span], sign, reading.unit === "tempus"),
      sign,
    })
    steps.push(pitch === null ? Number.NaN : stepNumber(pitch))
  }
  const tones = tonesOf(steps)
  return notes.map((note, i) => ({ ...note, tone: tones[i]!, floor: Infinity }))
}

/** Where in its measure the sign begins. */
function strengthIn(span: MensurationSpan | undefined, sign: SignReading, inTempora: boolean): Strength {
  const since = toNumber(sign.onset) - (span ? toNumber(span.onset) : 0)
  const proportion = span && span.proportion.num > 0 ? toNumber(span.proportion) : 1
  const units = since * proportion
  const strong = inTempora ? (span?.modusMinor ?? 3) : (span?.tempus ?? 2) * (span?.prolatio ?? 2)
  return strengthAt(units, strong, inTempora ? 1 : (span?.prolatio ?? 2))
}

const NEAR = 1e-6
const divides = (part: number, whole: number): boolean => Math.abs(whole / part - Math.round(whole / part)) < NEAR

export function strengthAt(time: number, strong: number, medium: number): Strength {
  return divides(strong, time) ? 2 : divides(medium, time) ? 1 : 0
}
