/** How a note is let go: held into the next, parted from one of the same pitch, or with a breath before a rest. */
import { compare, type Rational } from "../base/index.js"
import type { Score, ScoreEvent, ScoreNote } from "../score/index.js"
import { endOf } from "./clock.js"

/** "legato": up to the next note. "again": the next has the same pitch. "breath": a rest follows. "hocket": and another voice takes over. */
export type Leaving = "legato" | "again" | "breath" | "hocket"

/** A sound's dying away is counted as so many seconds: what it leaves before a rest is over when the rest begins. */
export const FADE = 0.06
/** Longest breath, and the largest share of a note that it may take. */
const BREATH = { hocket: { seconds: 0.08, share: 1 / 3 }, breath: { seconds: 0.16, share: 1 / 4 } }

/** How each note is left, by its place in its voice. */
export function leavingsOf(score: Score, voice: number): (Leaving | null)[] {
  const events = score.voices[voice]!.events
  return events.map((event, at) => {
    if (event.kind === "rest") return null
    const next = events[at + 1]
    if (next?.kind === "rest") return takenOver(score, voice, endOf(event)) ? "hocket" : "breath"
    return next && samePitch(event, next) ? "again" : "legato"
  })
}

const samePitch = (a: ScoreNote, b: ScoreNote): boolean =>
  a.pitch !== null &&
  a.pitch.octave === b.pitch?.octave &&
  a.pitch.step === b.pitch.step &&
  a.pitch.accidental === b.pitch.accidental

/** Another voice comes out of a rest at the very moment at which this one goes into one. */
function takenOver({ voices }: Score, voice: number, moment: Rational): boolean {
  return voices.some(({ events }, other) => {
    if (other === voice) return false
    const at = indexAt(events, moment)
    return events[at]?.kind === "note" && events[at - 1]?.kind === "rest"
  })
}

/** Of the event that begins at the moment; -1 where none does. */
function indexAt(events: readonly ScoreEvent[], moment: Rational): number {
  let low = 0
  let high = events.length - 1
  while (low <= high) {
    const middle = (low + high) >> 1
    const order = compare(events[middle]!.onset, moment)
    if (order === 0) return middle
    if (order < 0) low = middle + 1
    else high = middle - 1
  }
  return -1
}

/** From the seconds between which the score has the note: when it is let go, after which it fades. */
export function letGo(leaving: Leaving, start: number, end: number): number {
  const length = end - start
  if (leaving === "legato") return end
  if (leaving === "again") return end - Math.min(0.05, length / 5)
  const { seconds, share } = BREATH[leaving]
  // The fade is over when the rest begins, however short the note.
  return Math.max(start + length / 3, end - Math.max(Math.min(seconds, length * share), FADE))
}
