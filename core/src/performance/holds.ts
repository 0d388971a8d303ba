/** Where the music waits: fermatas, and the final that is held freely. */
import { compare, max, ZERO, type Rational } from "../base/index.js"
import type { Score, ScoreEvent } from "../score/index.js"
import { endOf, secondsAt, type Clock, type Hold } from "./clock.js"

export interface HoldOptions {
  /** A note with a fermata lasts so many times as long; 1 for no waiting. */
  readonly fermata: number
  /** The final sounds at least so many seconds. */
  readonly final: number
}

/** No fermata waits longer than this, in seconds. */
const LONGEST = 3

/**
 * One wait for each group of fermatas that sound together, at the moment the first of them ends, so that all voices wait
 * for one another. A fermata on a final is the final's own.
 */
export function holdsOf(score: Score, clock: Clock, { fermata, final }: HoldOptions): Hold[] {
  const marked = score.voices.flatMap(voice => voice.events.filter(isHeld)).sort((a, b) => compare(a.onset, b.onset))
  const waits = groups(marked).map(group => wait(group, clock, fermata - 1))
  return [...waits, ...finalHold(score, clock, final)]
}

/** A final is held as such; the note before a finis is held too, though counted as it stands (Ars cantus mensurabilis, c. 1280, IX). */
function isHeld(event: ScoreEvent): boolean {
  if (event.kind === "rest") return event.fermata
  return !event.held && (event.fermata || event.penultimateHeld === true)
}

/** Those that sound together in a row. */
function groups(events: readonly ScoreEvent[]): ScoreEvent[][] {
  const all: ScoreEvent[][] = []
  let until: Rational = ZERO
  for (const event of events) {
    const group = all.at(-1)
    if (group && compare(event.onset, until) < 0) {
      group.push(event)
      until = compare(endOf(event), until) < 0 ? endOf(event) : until
    } else {
      all.push([event])
      until = endOf(event)
    }
  }
  return all
}

function wait(group: readonly ScoreEvent[], clock: Clock, more: number): Hold {
  const at = group.map(endOf).reduce((first, end) => (compare(end, first) < 0 ? end : first))
  const longest = Math.max(...group.map(event => secondsAt(clock, at) - secondsAt(clock, event.onset)))
  return { at, seconds: Math.min(LONGEST, Math.max(0, longest * more)) }
}

function finalHold({ voices, duration }: Score, clock: Clock, final: number): Hold[] {
  const finals = voices.flatMap(({ events }) =>
    events.flatMap(one => (one.kind === "note" && one.held ? [one.onset] : [])),
  )
  if (finals.length === 0) return []
  const last = finals.reduce((latest, onset) => max(latest, onset))
  const sounds = secondsAt(clock, duration) - secondsAt(clock, last)
  return sounds < final ? [{ at: duration, seconds: final - sounds }] : []
}
