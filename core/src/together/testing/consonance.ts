/**
 * Are the voices of a piece concordant by its true durations? Counted from the page alone: for every time at which a
 * voice begins a note, each sounding voice against the lowest one.
 */
import { compare, plus, ratio, times, toNumber, ZERO, type Rational, type SignId } from "../../base/index.js"
import { flatSigns, type Note, type Page } from "../../page/index.js"
import type { LawfulPractice } from "../../reading/testing/kinds.js"

interface Concordance {
  /** Intervals with the lowest voice at the beginnings of perfections, of units, and elsewhere: how many, and concords among them. */
  readonly perfection: Count
  readonly unit: Count
  readonly small: Count
}
interface Count {
  all: number
  concords: number
}

interface Sounding {
  readonly start: Rational
  readonly end: Rational
  readonly semitones: number
}

const CHROMATIC = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 } as const
const OLD = new Set([0, 3, 4, 5, 7])
const LATER = new Set([0, 3, 4, 7, 8, 9])

/** Every note of the page from its onset to its end. */
function soundingNotes(page: Page, durations: ReadonlyMap<SignId, Rational>): Sounding[] {
  const found: Sounding[] = []
  for (const voice of page.voices) {
    let time = ZERO
    const flats = new Set<string>()
    for (const { sign } of flatSigns(voice)) {
      if (sign.kind === "signature") for (const one of sign.accidentals) flats.add(one.step)
      if (sign.kind !== "note" && sign.kind !== "rest") continue
      const end = plus(time, durations.get(sign.id)!)
      if (sign.kind === "note") found.push({ start: time, end, semitones: heightOf(sign, flats) })
      time = end
    }
  }
  return found
}

function heightOf({ pitch }: Note, flats: ReadonlySet<string>): number {
  if (pitch === undefined) throw new Error("a note of an invented piece has no pitch")
  return 12 * pitch.octave + CHROMATIC[pitch.step] - (flats.has(pitch.step) ? 1 : 0)
}

/** `perfection` and `unit` are lengths in the unit of the piece: of a perfection (or breve), and of its larger parts. */
export function concordance(
  page: Page,
  durations: ReadonlyMap<SignId, Rational>,
  practice: LawfulPractice,
  [perfection, unit]: readonly [Rational, Rational],
): Concordance {
  const notes = soundingNotes(page, durations).toSorted((a, b) => compare(a.start, b.start))
  const concords = practice === "ars-antiqua" || practice === "divided-breves" ? OLD : LATER
  const counts: Concordance = {
    perfection: { all: 0, concords: 0 },
    unit: { all: 0, concords: 0 },
    small: { all: 0, concords: 0 },
  }
  notes.forEach((note, i) => {
    if (i > 0 && compare(notes[i - 1]!.start, note.start) === 0) return
    const tones = notes
      .filter(other => compare(other.start, note.start) <= 0 && compare(other.end, note.start) > 0)
      .map(other => other.semitones)
      .toSorted((a, b) => a - b)
    const count = isWhole(note.start, perfection)
      ? counts.perfection
      : isWhole(note.start, unit)
        ? counts.unit
        : counts.small
    for (const tone of tones.slice(1)) {
      count.all++
      if (concords.has((tone - tones[0]!) % 12)) count.concords++
    }
  })
  return counts
}

function isWhole(time: Rational, part: Rational): boolean {
  return Number.isInteger(toNumber(times(time, ratio(part.den, part.num))))
}
