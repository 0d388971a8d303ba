/** A score performed: every tone in seconds and hertz. */
import { done, failed, minus, ratio, type Problem, type Rational, type Result } from "../base/index.js"
import { plicaShare, type Score, type ScoreNote, type ScorePitch } from "../score/index.js"
import { leavingsOf, letGo } from "./articulation.js"
import { clockOf, endOf, secondsAt, withHolds, type Clock } from "./clock.js"
import { equivalencesOf, equivalenceSentences, type EquivalenceDecision } from "./equivalence.js"
import { holdsOf } from "./holds.js"
import { nameOf, wordsOf, type Interval } from "./spelling.js"
import { TEMPO_VALUES, type Equivalence, type Timbre } from "./names.js"
import { tempoTaken, valueIn, type Tempo } from "./tempo.js"
import { tuningChosen, tuningDefault } from "./tuning-default.js"
import { tunerOf, untuned, type Tuner, type Tuning } from "./tuning.js"
import type { Performance, Sound } from "./types.js"
import { performedVoices, type VoiceWishes } from "./voices.js"

export interface PerformanceOptions {
  /** Without it by practice, as an editor's estimate. */
  readonly tempo?: Tempo
  /** 0.5 is half as fast. */
  readonly speed?: number
  /** For all changes of mensuration; without it as the practice says. */
  readonly equivalence?: Equivalence
  readonly decisions?: readonly EquivalenceDecision[]
  /** Without it by year or practice. */
  readonly tuning?: Tuning
  readonly year?: number
  /** Hertz of the a above the middle c; 440 without it. */
  readonly reference?: number
  readonly shift?: Interval
  /**
   * "sung": each plica has its tone, in the time that the reading gives or, where that is left open, in the last third.
   * "read": only where the reading gives it time. "unsung": none.
   */
  readonly plica?: "sung" | "read" | "unsung"
  /** A note with a fermata lasts so many times as long; 2 without it. */
  readonly fermata?: number
  /** The final sounds at least so many seconds; 2.5 without it. */
  readonly final?: number
  readonly voices?: VoiceWishes
  /** Of voices that have no other. */
  readonly timbre?: Timbre
}

/** How strongly tones are begun; a plica's lightly. */
const VELOCITY = { note: 96, plica: 72, click: 96 }

/** Fails where the tempo's value has no length in the score, or the table of a tuning lacks a note that is sung. */
export function perform(score: Score, options: PerformanceOptions = {}): Result<Performance> {
  const { speed = 1, fermata = 2, final = 2.5, reference = 440, plica = "sung" } = options
  const tempo = tempoTaken(score, options.tempo)
  if (!tempo) return failed(noLength(score, options.tempo!))
  const usual = tuningDefault({ practice: score.practice, year: options.year })
  const tuning = options.tuning ?? usual.tuning
  const missing = untuned(score, tuning)
  if (missing.length > 0) return failed(notInTable(missing))
  const equivalences = equivalencesOf(score, options.equivalence, options.decisions ?? [])
  const even = clockOf(tempo.unitsPerMinute * speed, equivalences)
  const clock = withHolds(even, holdsOf(score, even, { fermata, final }))
  const tuner = tunerOf(tuning, { reference, shift: options.shift })
  const made = score.voices.map((_, voice) => soundsOf(score, voice, { clock, tuner, plica }))
  const duration = secondsAt(clock, score.duration)
  const silent = made.reduce((count, one) => count + one.silent, 0)
  return done({
    title: score.title,
    voices: performedVoices(score, options.voices, options.timbre),
    sounds: inOrder(made.flatMap(one => one.sounds)),
    duration,
    passages: [{ name: null, from: ratio(0), to: score.duration, start: 0, end: duration }],
    clock,
    tempo,
    equivalences,
    sentences: [
      tempo.sentence,
      ...equivalenceSentences(equivalences, score.unit),
      options.tuning ? tuningChosen(tuning) : usual.sentence,
    ],
    problems: silent > 0 ? [silentNotes(silent)] : [],
  })
}

export const inOrder = (sounds: readonly Sound[]): Sound[] => sounds.toSorted((a, b) => a.start - b.start)

interface How {
  readonly clock: Clock
  readonly tuner: Tuner
  readonly plica: "sung" | "read" | "unsung"
}

function soundsOf(score: Score, voice: number, how: How): { sounds: Sound[]; silent: number } {
  const { id, events } = score.voices[voice]!
  const leavings = leavingsOf(score, voice)
  let silent = 0
  const sounds = events.flatMap((event, at): Sound[] => {
    if (event.kind === "rest") return []
    const tones = tonesOf(event, how)
    if (tones.length === 0) silent++
    return tones.map(({ onset, end, hertz, kind, pitch }, n): Sound => {
      const [from, to] = [secondsAt(how.clock, onset), secondsAt(how.clock, end)]
      const last = n === tones.length - 1
      return {
        voice: id,
        note: event.id,
        sign: event.sign,
        kind,
        pitch: nameOf(pitch) + String(pitch.octave),
        onset,
        start: from,
        end: letGo(last ? leavings[at]! : "legato", from, to),
        ...keyed(hertz),
        velocity: VELOCITY[kind],
      }
    })
  })
  return { sounds, silent }
}

interface Tone {
  readonly kind: "note" | "plica"
  readonly pitch: ScorePitch
  readonly onset: Rational
  readonly end: Rational
  readonly hertz: number
}

/** One or two; none for a note without a pitch. */
function tonesOf(note: ScoreNote, { tuner, plica }: How): Tone[] {
  const { pitch } = note
  const hertz = pitch && heard(tuner, pitch)
  if (!pitch || hertz === null) return []
  const end = endOf(note)
  const share = plica === "unsung" ? null : shareOf(note, plica)
  const second = note.plica?.pitch ?? null
  const other = second && heard(tuner, second)
  if (!share || !second || other === null) return [{ kind: "note", pitch, onset: note.onset, end, hertz }]
  const parting = minus(end, share)
  return [
    { kind: "note", pitch, onset: note.onset, end: parting, hertz },
    { kind: "plica", pitch: second, onset: parting, end, hertz: other },
  ]
}

/** A plica takes its time from the note that bears it. */
const shareOf = (note: ScoreNote, how: "sung" | "read"): Rational | null =>
  how === "sung" || note.plica?.duration ? plicaShare(note) : null

/** Null for what nobody hears, or no keyboard has. */
function heard(tuner: Tuner, pitch: ScorePitch): number | null {
  const hertz = tuner(pitch)
  return hertz !== null && hertz > 8.2 && hertz < 12_800 ? hertz : null
}

/** The key nearest to it, and how far it is from that. */
export function keyed(hertz: number): Pick<Sound, "hertz" | "key" | "cents"> {
  const place = 69 + 12 * Math.log2(hertz / 440)
  const key = Math.min(127, Math.max(0, Math.round(place)))
  return { hertz, key, cents: 100 * (place - key) }
}

const noLength = (score: Score, { value }: Tempo): Problem => ({
  code: "bad-tempo",
  what: `A ${value} has no length of its own at the beginning of this piece, so it cannot set the speed.`,
  mend: `Give the speed in one of ${TEMPO_VALUES.filter(one => valueIn(score, one) !== null).join(", ")}.`,
  severity: "error",
})
const notInTable = (names: readonly string[]): Problem => ({
  code: "untuned",
  what: `The tuning has no ${names.map(wordsOf).join(", no ")}, which the piece needs.`,
  mend: `Add a line for each to the table: ${names.map(name => `\`${name} …\``).join(", ")}.`,
  severity: "error",
})
const silentNotes = (count: number): Problem => ({
  code: "silent-notes",
  what: `${count === 1 ? "One note has" : `${count} notes have`} no pitch that can be heard and ${count === 1 ? "is" : "are"} silent.`,
  mend: "Write the pitch, or the clef that gives it.",
})
