/** All voices heard at once, step by step, for one who waits: at a glance, in full, and without the voice that does not fit. */
import type { Rational, SignId } from "../base/index.js"
import type { WorkedVoice } from "../reading/read-voice.js"
import type { Reading } from "../reading/types.js"
import { Ensemble, type Searched, type SungSoFar } from "./ensemble.js"
import { toTheEnd, type Paused } from "./paused.js"
import type { Together } from "./read-together.js"

export type Once = Omit<Together, "assumed">

/** Voices in which anything sounds or is silent. */
export const sounding = (worked: readonly WorkedVoice[]): WorkedVoice[] =>
  worked.filter(one => one.settled.some(({ stretch }) => stretch.figures.length > 0))

/** All of them meet at their finals. */
export const allMeet = ({ meeting, worked }: Pick<Once, "meeting" | "worked">): boolean =>
  meeting.length === sounding(worked).length

export const heard = (worked: readonly WorkedVoice[], expected: ReadonlyMap<SignId, Rational>, sung: SungSoFar): Once =>
  toTheEnd(hearingInSteps(worked, expected, sung))

/** What has been heard so far. */
export interface Heard {
  readonly once: () => Once
  /** It is what a narrow search finds. */
  readonly isGlance: boolean
}

/**
 * Hears all at once, and then, pausing after each search, which voice does not fit, if one does not. `glancing`: tells first
 * what is seen at a glance, in a long piece.
 */
export function* hearingInSteps(
  worked: readonly WorkedVoice[],
  expected: ReadonlyMap<SignId, Rational>,
  sung: SungSoFar,
  glancing = false,
): Generator<Heard, Once> {
  const voices = sounding(worked)
  const ensemble = new Ensemble(voices, expected, sung)
  const all = voices.map((_, i) => i)
  const told = (searched: Searched, whole: Searched): Once => {
    const readings = new Map<WorkedVoice, Reading>()
    for (const [i, reading] of ensemble.tell(searched)) readings.set(voices[i]!, reading)
    return {
      // a voice that misses the others is read by itself: laid beside them at the wrong place it would be misled
      readings: worked.map(one => readings.get(one) ?? one.reading),
      cost: whole.joint.cost + ensemble.ownCost,
      inFull: whole.inFull + ensemble.ownCost,
      meeting: ensemble.meeting(searched).map(i => voices[i]!.voice.id),
      worked,
    }
  }
  const glanced = glancing ? ensemble.glance(all) : undefined
  const seen: Heard | undefined = glanced && { once: () => told(glanced, glanced), isGlance: true }
  if (seen) yield seen
  const first = yield* telling(ensemble.searching(all), seen)
  const atFirst: Heard = { once: () => told(first, first), isGlance: false }
  yield atFirst
  return told(yield* telling(ensemble.searchingWithout(all, first), atFirst), first)
}

/** Tells at each pause of a work what has been heard so far, if something has. */
function* telling(work: Paused<Searched>, heard: Heard | undefined): Generator<Heard, Searched> {
  for (;;) {
    const { done, value } = work.next()
    if (done) return value
    if (heard) yield heard
  }
}
