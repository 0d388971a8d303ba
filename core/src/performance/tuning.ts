/** Tuning follows spelling: what a written pitch sounds as, in hertz. */
import { done, failed, type Problem, type Result } from "../base/index.js"
import type { Score, ScorePitch } from "../score/index.js"
import { centsOf, chainOf, fifthsOf, keyNumber, nameOf, octavesOf, wordsOf, type Interval } from "./spelling.js"

/** A table of one's own: cents above its c, by name ("gs", "af"). It repeats at the octave. */
export interface TuningTable {
  readonly title: string
  readonly cents: Readonly<Record<string, number>>
}
export type TuningName = "pythagorean" | "meantone" | "equal"
export type Tuning = TuningName | TuningTable

/** The fifth that each tuning is a chain of. */
const FIFTHS: Readonly<Record<TuningName, number>> = {
  // Pure: 3 to 2. Division of the monochord in the treatises of the thirteenth and fourteenth centuries: common practice.
  pythagorean: 3 / 2,
  // Four of them make a pure major third (5 to 1): quarter-comma meantone. Toscanello in musica, 1523, II.41, from memory.
  meantone: 5 ** (1 / 4),
  equal: 2 ** (7 / 12),
}
export const TUNINGS = Object.keys(FIFTHS) as TuningName[]

/** For people: "Pythagorean tuning (pure fifths)". */
export function tuningTitle(tuning: Tuning): string {
  if (typeof tuning !== "string") return `the tuning “${tuning.title}”`
  const titles: Record<TuningName, string> = {
    pythagorean: "Pythagorean tuning (pure fifths)",
    meantone: "quarter-comma meantone (pure major thirds)",
    equal: "equal temperament",
  }
  return titles[tuning]
}

export interface TuningOptions {
  /** Hertz of the a above the middle c. */
  readonly reference: number
  /** All is sounded so much higher or lower. */
  readonly shift?: Interval
}

/** From a pitch as written to hertz. Null where a table does not have the note. */
export type Tuner = (pitch: ScorePitch) => number | null

/** The tuner; all tunings agree on a4. */
export function tunerOf(tuning: Tuning, { reference, shift }: TuningOptions): Tuner {
  const moved = reference * (shift ? shiftRatio(tuning, shift) : 1)
  if (typeof tuning !== "string") return pitch => fromTable(tuning, pitch, moved)
  const fifth = FIFTHS[tuning]
  const a4 = { step: "a", accidental: "", octave: 4 } as const
  return pitch => moved * fifth ** (fifthsOf(pitch) - fifthsOf(a4)) * 2 ** (octavesOf(pitch) - octavesOf(a4))
}

/** By the tuning's own fifths and octaves; by a table, which may have unequal ones, in steps of 100 cents. */
function shiftRatio(tuning: Tuning, shift: Interval): number {
  if (typeof tuning !== "string") return 2 ** (shift.semitones / 12)
  const { fifths, octaves } = chainOf(shift)
  return FIFTHS[tuning] ** fifths * 2 ** octaves
}

function fromTable({ cents }: TuningTable, pitch: ScorePitch, a4: number): number | null {
  const own = cents[nameOf(pitch)]
  const a = cents["a"]
  return own === undefined || a === undefined ? null : a4 * 2 ** (pitch.octave - 4 + (own - a) / 1200)
}

/** Names of the notes of a score that a tuning does not have, sorted; none unless it is a table. */
export function untuned(score: Score, tuning: Tuning): string[] {
  if (typeof tuning === "string") return []
  const names = score.voices.flatMap(({ events }) =>
    events.flatMap(event =>
      event.kind === "note" ? [event.pitch, event.plica?.pitch].flatMap(pitch => (pitch ? [nameOf(pitch)] : [])) : [],
    ),
  )
  return [...new Set(names)].filter(name => tuning.cents[name] === undefined).sort()
}

/**
 * Reads a table: a line for each note, its name (`g`, `g#` or `gs`, `ab` or `af`) and how far it stands above c, in cents
 * (`772.6`) or as a ratio (`25/16`). `#` after a space begins a remark. `file` is named in what is wrong with it.
 */
export function parseTuning(text: string, file: string, title = file): Result<TuningTable> {
  const cents: Record<string, number> = {}
  const problems: Problem[] = []
  text.split(/\r\n|\r|\n/).forEach((line, at) => {
    const bare = line.replace(/(^|\s)#.*$/, "").trim()
    if (bare === "") return
    const [name, value, ...rest] = bare.split(/[\s,;:=]+/)
    const [note, size] = [noteName(name ?? ""), sizeOf(value ?? "")]
    if (note === undefined || size === undefined || rest.length > 0) problems.push(badLine(file, at + 1, bare))
    else if (cents[note] !== undefined) problems.push(twice(file, at + 1, note))
    else cents[note] = nearItsPlace(note, size)
  })
  if (problems.length > 0) return failed(...problems)
  return cents["a"] === undefined ? failed(withoutA(file)) : done({ title, cents })
}

/** A c flat may be written as 1110 or as -90: it is taken in the octave in which its letter stands. */
function nearItsPlace(note: string, cents: number): number {
  const [step, ...signs] = note
  const nominal = 100 * keyNumber({ step: step as ScorePitch["step"], accidental: "", octave: -1 })
  const place = nominal + 100 * signs.reduce((total, sign) => total + (sign === "s" ? 1 : -1), 0)
  return cents + 1200 * Math.round((place - cents) / 1200)
}

function noteName(text: string): string | undefined {
  const found = /^([a-gA-G])(#{0,2}|b{0,2}|s{0,2}|f{0,2})$/.exec(text)
  return found ? found[1]!.toLowerCase() + found[2]!.replaceAll("#", "s").replaceAll("b", "f") : undefined
}

function sizeOf(text: string): number | undefined {
  const found = /^(\d{1,9})\/(\d{1,9})$/.exec(text)
  const size = found ? centsOf(Number(found[1]) / Number(found[2])) : text === "" ? NaN : Number(text)
  // A ratio with nothing above or below the stroke is no ratio; a note stands within its octave, or near it.
  return Number.isFinite(size) && Math.abs(size) <= 2400 ? size : undefined
}

const badLine = (file: string, line: number, what: string): Problem => ({
  code: "bad-tuning-line",
  what: `“${what.slice(0, 40)}” does not tune a note.`,
  where: { file, line },
  mend: "Write the name of a note and how far it stands above c, in cents or as a ratio: `gs 772.6`, or `gs 25/16`.",
  severity: "error",
})
const twice = (file: string, line: number, note: string): Problem => ({
  code: "bad-tuning-line",
  what: `The note ${wordsOf(note)} is tuned twice.`,
  where: { file, line },
  mend: "Take out one of the two lines.",
  severity: "error",
})
const withoutA = (file: string): Problem => ({
  code: "bad-tuning",
  what: "The table does not tune the note a, by which the pitch is set.",
  where: { file },
  mend: "Add a line for it, such as `a 27/16`.",
  severity: "error",
})
