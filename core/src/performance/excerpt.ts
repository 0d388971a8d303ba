/** Parts of a performance: from here to there, again and again, one after the other, with a count before. */
import { compare, ratio, toNumber, type Rational } from "../base/index.js"
import type { Score } from "../score/index.js"
import { secondsAt, secondsPerUnitAt } from "./clock.js"
import { inOrder, keyed } from "./perform.js"
import { lengthsOf, tactusOf } from "./tempo.js"
import type { Passage, Performance, Sound } from "./types.js"

export interface Excerpt {
  /** In the score's unit; the beginning and the end where they are left out. */
  readonly from?: Rational
  readonly to?: Rational
  /** How many times it is played; once where it is left out. */
  readonly times?: number
}

/**
 * What sounds from one moment to another, so many times without a gap. A tone that is sounding at the beginning begins there.
 * Moments are for a performance of one passage; one of several is repeated as a whole.
 */
export function excerpt(performance: Performance, { from, to, times = 1 }: Excerpt): Performance {
  const once = from || to ? cut(performance, from, to) : performance
  return times > 1 ? inSequence(Array.from({ length: times }, () => once)) : once
}

function cut(performance: Performance, from: Rational | undefined, to: Rational | undefined): Performance {
  const whole = performance.passages[0]!
  const [first, last] = [from ?? whole.from, to ?? whole.to]
  const [start, end] = [
    from ? secondsAt(performance.clock, first) : whole.start,
    to ? Math.min(secondsAt(performance.clock, last), whole.end) : whole.end,
  ]
  const inside = performance.sounds.flatMap(sound => {
    const [a, b] = [Math.max(sound.start, start) - start, Math.min(sound.end, end) - start]
    return sound.start < end && sound.end > start && b - a > 0.005 ? [{ ...sound, start: a, end: b }] : []
  })
  const passage: Passage = { name: null, from: first, to: last, start: 0, end: end - start }
  return { ...performance, sounds: inOrder(inside), duration: end - start, passages: [passage] }
}

/** One after the other, with so many seconds of silence between; voices and clock are those of the first. */
export function inSequence(parts: readonly Performance[], gap = 0): Performance {
  const sounds: Sound[] = []
  const passages: Passage[] = []
  let at = 0
  for (const part of parts) {
    for (const sound of part.sounds) sounds.push(later(sound, at))
    for (const passage of part.passages) passages.push(later(passage, at))
    at += part.duration + gap
  }
  return { ...parts[0]!, sounds: inOrder(sounds), passages, duration: parts.length > 0 ? at - gap : 0 }
}

const later = <T extends { readonly start: number; readonly end: number }>(one: T, by: number): T => ({
  ...one,
  start: one.start + by,
  end: one.end + by,
})

/** So many clicks before it, a beat of so many seconds apart, the first higher than the others. */
export function withCountIn(performance: Performance, beats: number, beatSeconds: number): Performance {
  const clicks = Array.from({ length: beats }, (_, n) => click(n * beatSeconds, n === 0 ? 1760 : 1318.5))
  const moved = inSequence([performance])
  const by = beats * beatSeconds
  return {
    ...moved,
    sounds: [...clicks, ...moved.sounds.map(sound => later(sound, by))],
    passages: moved.passages.map(passage => later(passage, by)),
    duration: moved.duration + by,
  }
}

function click(start: number, hertz: number): Sound {
  const none = { voice: null, note: null, sign: null, pitch: null, onset: ratio(0) }
  return { ...none, kind: "click", start, end: start + 0.06, ...keyed(hertz), velocity: 96 }
}

/** How long a beat of the hand lasts at a moment (at the beginning without one), by the first voice. */
export function tactusSeconds({ clock }: Performance, { unit, voices }: Score, at: Rational = ratio(0)): number {
  const spans = voices[0]?.mensurations ?? []
  const span = spans.findLast(one => compare(one.onset, at) <= 0) ?? spans[0]
  return toNumber(tactusOf(lengthsOf(unit, span?.periods ?? []))) * secondsPerUnitAt(clock, at)
}

/** Two readings of a passage for comparison: one click, A, two clicks, B. */
export function rivalsInTurn(a: Performance, b: Performance, gap = 0.6): Performance {
  const named = (performance: Performance, name: string, clicks: number) => {
    const counted = withCountIn(performance, clicks, 0.25)
    const passages = counted.passages.map(passage => ({ ...passage, name }))
    return inSequence([{ ...counted, passages }])
  }
  const pair = inSequence([named(a, "A", 1), named(b, "B", 2)], gap)
  return { ...pair, problems: [...a.problems, ...b.problems] }
}

/** Whether a moment lies in the passage; its end does not. */
export const isWithin = ({ from, to }: Passage, moment: Rational): boolean =>
  compare(from, moment) <= 0 && compare(moment, to) < 0
