/** A lawful voice against its reading: note by note, and stretch by stretch between walls. */
import { equals, type Rational } from "../../base/index.js"
import type { Reading, SignReading } from "../types.js"
import type { LawfulVoice } from "./lawful.js"

export interface Compared {
  readonly sign: SignReading
  readonly wanted: Rational
  readonly right: boolean
}

export interface StretchCompared {
  readonly notes: readonly Compared[]
  readonly exact: boolean
  /** The true durations are those of a rival of the voice, or each wrong note has its own among its rivals. */
  readonly offered: boolean
}

/** Every note and rest of the voice with its true duration. */
export function compareNotes(lawful: LawfulVoice, reading: Reading): Compared[] {
  const found: Compared[] = []
  for (const sign of reading.signs) {
    const wanted = lawful.durations.get(sign.id)
    if (wanted !== undefined) found.push({ sign, wanted, right: equals(wanted, sign.duration) })
  }
  return found
}

export function compareStretches(lawful: LawfulVoice, reading: Reading): StretchCompared[] {
  const walls = new Set(lawful.walls)
  const stretches: Compared[][] = []
  for (const one of compareNotes(lawful, reading)) {
    if (walls.has(one.sign.id)) stretches.push([])
    stretches.at(-1)!.push(one)
  }
  return stretches.map(notes => {
    const exact = notes.every(note => note.right)
    return { notes, exact, offered: exact || isOffered(notes, reading) }
  })
}

function isOffered(notes: readonly Compared[], reading: Reading): boolean {
  const byVoice = reading.rivals.some(rival =>
    notes.every(({ sign, wanted }) => equals(rival.signs.get(sign.id) ?? sign.duration, wanted)),
  )
  return (
    byVoice ||
    notes.every(({ sign, wanted, right }) => right || sign.rivals.some(rival => equals(rival.duration, wanted)))
  )
}

/** Doubt against truth: how many notes fell into each bin, and how many of them were wrong. */
export const DOUBT_BINS: readonly number[] = [0, 0.005, 0.02, 0.05, 0.1, 0.2, 0.4, 0.7, 1]

export class Tally {
  notes = 0
  wrong = 0
  sure = 0
  sureWrong = 0
  stretches = 0
  exact = 0
  offered = 0
  problems = 0
  /** By bin of doubt (upper bounds in DOUBT_BINS): notes, wrong ones, and the sum of doubts. */
  readonly bins = DOUBT_BINS.map(() => ({ notes: 0, wrong: 0, doubt: 0 }))

  add(lawful: LawfulVoice, reading: Reading): void {
    this.problems += reading.problems.length
    for (const stretch of compareStretches(lawful, reading)) {
      this.stretches++
      if (stretch.exact) this.exact++
      if (stretch.offered) this.offered++
      for (const note of stretch.notes) this.addNote(note)
    }
  }

  private addNote({ sign, right }: Compared): void {
    this.notes++
    if (!right) this.wrong++
    if (sign.doubt < 0.05) {
      this.sure++
      if (!right) this.sureWrong++
    }
    const bin =
      this.bins[
        Math.max(
          0,
          DOUBT_BINS.findIndex(bound => sign.doubt <= bound),
        )
      ]!
    bin.notes++
    bin.doubt += sign.doubt
    if (!right) bin.wrong++
  }
}
