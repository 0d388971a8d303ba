/** The notes of a score as the rules of musica ficta see them, and which of them meet. */
import { compare, minus, over, plus, toText, type Rational, type SignId } from "../base/index.js"
import type { Step } from "../page/index.js"
import type { Score, ScoreNote, ScorePitch, ScoreVoice } from "../score/index.js"

const STEPS: readonly Step[] = ["c", "d", "e", "f", "g", "a", "b"]
const SEMITONES = [0, 2, 4, 5, 7, 9, 11] as const
const ALTER: Readonly<Record<string, number>> = { f: -1, n: 0, s: 1, x: 1, "": 0 }

export interface FictaNote {
  readonly id: SignId
  readonly sign: SignId
  readonly voice: number
  readonly start: Rational
  readonly end: Rational
  readonly letter: Step
  /** Diatonic steps above C0. */
  readonly height: number
  /** Semitones by which it is altered as it stands: -1, 0 or 1. */
  readonly alter: number
  /** Source or editor have written an accidental: it is not touched. */
  readonly fixed: boolean
  /** Begins a bar (2) or a beat (1) of its voice. */
  readonly strength: 0 | 1 | 2
  /** Held, under a fermata, before a rest or at the end of a section. */
  readonly closes: boolean
  /** Sung right before and after it. */
  before: FictaNote | undefined
  after: FictaNote | undefined
}

/** Two notes that sound together; `lower` is the one that stands lower. */
export interface Contact {
  readonly lower: FictaNote
  readonly upper: FictaNote
  /** When both sound. */
  readonly at: Rational
  readonly together: boolean
  /** No other voice stands lower than `lower` at that time. */
  readonly onBass: boolean
}

/** The notes of each voice with a pitch that the rules can speak of. */
export function notesOf({ voices }: Score): FictaNote[][] {
  return voices.map((voice, i) => {
    const notes: FictaNote[] = []
    voice.events.forEach((event, at) => {
      if (event.kind === "rest" || !isKnown(event.pitch)) return
      const next = voice.events[at + 1]
      const note = noteOf(event, event.pitch, voice, i, next === undefined || next.kind === "rest")
      const before = voice.events[at - 1]?.kind === "note" ? notes.at(-1) : undefined
      if (before && compare(before.end, note.start) === 0) {
        note.before = before
        before.after = note
      }
      notes.push(note)
    })
    return notes
  })
}

function isKnown(pitch: ScorePitch | null): pitch is ScorePitch {
  return pitch !== null && ALTER[pitch.accidental] !== undefined
}

function noteOf(event: ScoreNote, pitch: ScorePitch, voice: ScoreVoice, index: number, beforeRest: boolean): FictaNote {
  const end = plus(event.onset, event.duration)
  const isEnd = voice.sectionEnds.some(at => compare(at, end) === 0)
  return {
    id: event.id,
    sign: event.sign,
    voice: index,
    start: event.onset,
    end,
    letter: pitch.step,
    height: pitch.octave * 7 + STEPS.indexOf(pitch.step),
    alter: ALTER[pitch.accidental]!,
    fixed: event.written !== undefined,
    strength: strengthAt(event.onset, voice),
    closes: event.held || event.fermata || beforeRest || isEnd,
    before: undefined,
    after: undefined,
  }
}

/** By the bars and beats of the voice's own mensuration. */
function strengthAt(at: Rational, { mensurations }: ScoreVoice): 0 | 1 | 2 {
  const mensuration = mensurations.findLast(({ onset }) => compare(onset, at) <= 0)
  if (!mensuration) return 0
  const within = minus(at, mensuration.onset)
  const [bar, beat] = mensuration.periods
  if (bar && over(within, bar).den === 1) return 2
  return beat && over(within, beat).den === 1 ? 1 : 0
}

/** Semitones above C0 with an alteration. */
export function semitonesOf({ height }: Pick<FictaNote, "height">, alter: number): number {
  return Math.floor(height / 7) * 12 + SEMITONES[height % 7]! + alter
}

/** All pairs of notes in two voices that sound together, in order of time. */
export function contactsOf(voices: readonly (readonly FictaNote[])[]): Contact[] {
  const lowest = lowestAt(voices)
  const contacts = voices.flatMap((one, i) => voices.slice(i + 1).flatMap(other => contactsOfTwo(one, other, lowest)))
  return contacts.sort((a, b) => compare(a.at, b.at))
}

type Lowest = (at: Rational) => number

function contactsOfTwo(one: readonly FictaNote[], other: readonly FictaNote[], lowest: Lowest): Contact[] {
  const contacts: Contact[] = []
  for (let i = 0, k = 0; i < one.length && k < other.length;) {
    const [a, b] = [one[i]!, other[k]!]
    const order = compare(a.start, b.start)
    const at = order < 0 ? b.start : a.start
    if (compare(a.end, at) > 0 && compare(b.end, at) > 0) {
      const [lower, upper] = semitonesOf(a, a.alter) <= semitonesOf(b, b.alter) ? [a, b] : [b, a]
      contacts.push({ lower, upper, at, together: order === 0, onBass: lower.height <= lowest(at) })
    }
    if (compare(a.end, b.end) <= 0) i++
    else k++
  }
  return contacts
}

/** Height of the lowest note that sounds at the beginning of any. */
function lowestAt(voices: readonly (readonly FictaNote[])[]): Lowest {
  const starts = voices.flat().toSorted((a, b) => compare(a.start, b.start))
  const lowest = new Map<string, number>()
  let sounding: FictaNote[] = []
  for (let i = 0; i < starts.length;) {
    const at = starts[i]!.start
    while (starts[i] && compare(starts[i]!.start, at) === 0) sounding.push(starts[i++]!)
    sounding = sounding.filter(note => compare(note.end, at) > 0)
    lowest.set(toText(at), Math.min(...sounding.map(note => note.height)))
  }
  return at => lowest.get(toText(at)) ?? Infinity
}
