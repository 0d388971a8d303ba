/** Which notes sound together where perfections begin, and whether an ear of the piece's century calls them consonant. */
import {
  compare,
  over,
  plus,
  ratio,
  sum,
  toText,
  type MensurationSpan,
  type Rational,
  type Reading,
} from "@resolutio/core"

/** Of two centuries: in the thirteenth the fourth is a concord and the sixth is none; afterwards it is the reverse. */
export type Ear = "thirteenth" | "later"

/** The level whose perfections (or pairs, where it is imperfect) are looked at. */
export type Beat = "modus" | "tempus"

/** Semitones above the lower note, octaves taken away. */
const CONCORDS: Readonly<Record<Ear, ReadonlySet<number>>> = {
  thirteenth: new Set([0, 3, 4, 5, 7]),
  later: new Set([0, 3, 4, 7, 8, 9]),
}
/** Seconds, sevenths and the tritone: discords at all times, also between two voices that agree with a third. */
const DISCORDS = new Set([1, 2, 6, 10, 11])

const SEMITONES: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 }

/** "bf3" as a number of semitones; middle c ("c4") is 60. */
export function semitonesOf(pitch: string): number {
  const [, name, accidental, octave] = /^([a-g])([fs]*)n?(\d)$/.exec(pitch) ?? []
  if (name === undefined) throw new Error(`${pitch} is no pitch`)
  const inflection = [...accidental!].reduce((total, one) => total + (one === "f" ? -1 : 1), 0)
  return SEMITONES[name]! + inflection + 12 * (Number(octave) + 1)
}

/**
 * Discords where perfections of a voice begin, each in words ("motetus a3 against tenor g3 at 12"). Every voice is
 * held against `foundation` while it sounds, else against the lowest note.
 */
export function discordsAt(
  onsets: readonly Rational[],
  readings: readonly Reading[],
  ear: Ear,
  foundation?: string,
): string[] {
  return onsets.flatMap(onset => {
    const notes = soundingAt(readings, onset)
    const lowest = [...notes].sort((a, b) => a.height - b.height)[0]
    const base = notes.find(note => note.label === foundation) ?? lowest
    return pairsOf(notes)
      .filter(([a, b]) => isDiscord(Math.abs(a.height - b.height) % 12, a === base || b === base, ear))
      .map(([a, b]) => `${a.label} ${a.pitch} against ${b.label} ${b.pitch} at ${toText(onset)}`)
  })
}

function isDiscord(semitones: number, withBase: boolean, ear: Ear): boolean {
  return withBase ? !CONCORDS[ear].has(semitones) : DISCORDS.has(semitones)
}

interface Sounding {
  readonly label: string
  readonly pitch: string
  readonly height: number
}

function soundingAt(readings: readonly Reading[], at: Rational): Sounding[] {
  return readings.flatMap(({ label, signs }) => {
    const note = signs.find(
      sign => sign.kind === "note" && compare(sign.onset, at) <= 0 && compare(plus(sign.onset, sign.duration), at) > 0,
    )
    return note?.pitch ? [{ label, pitch: note.pitch, height: semitonesOf(note.pitch) }] : []
  })
}

function pairsOf<T>(all: readonly T[]): [T, T][] {
  return all.flatMap((a, i) => all.slice(i + 1).map((b): [T, T] => [a, b]))
}

/** Where the perfections of a voice begin, in its unit, through all its mensurations. */
export function perfectionsOf(reading: Reading, beat: Beat): Rational[] {
  return reading.mensurations.flatMap((span, i) => {
    const end = reading.mensurations[i + 1]?.onset ?? reading.duration
    const step = lengthOf(span, beat)
    const starts: Rational[] = []
    for (let at = span.onset; compare(at, end) < 0; at = plus(at, step)) starts.push(at)
    return starts
  })
}

/** In the voice's unit: where there is no prolation that is the tempus, and only the modus is counted. */
function lengthOf(span: MensurationSpan, beat: Beat): Rational {
  const breve = span.prolatio === null ? 1 : span.tempus! * span.prolatio
  return over(ratio(beat === "modus" ? breve * span.modusMinor! : breve), span.proportion)
}

/** Durations as a line of text, rests with a minus, and a stroke wherever a perfection begins with a new sign. */
export function durationsOf(reading: Reading, beat: Beat): string {
  const starts = new Set(perfectionsOf(reading, beat).slice(1).map(toText))
  return reading.signs
    .filter(sign => sign.kind === "note" || sign.kind === "rest")
    .map(sign => {
      const bar = starts.has(toText(sign.onset)) ? "| " : ""
      return `${bar}${sign.kind === "rest" ? "-" : ""}${toText(sign.duration)}`
    })
    .join(" ")
}

/** A line of durations added up: how long the voice was meant to last. */
export function totalOf(durations: string): Rational {
  const values = durations.replaceAll("|", " ").trim().split(/\s+/)
  return sum(
    values.map(value => {
      const [num, den = "1"] = value.replace("-", "").split("/")
      return ratio(Number(num), Number(den))
    }),
  )
}
