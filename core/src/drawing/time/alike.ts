/** What looks alike at the beginning and the end of a voice and of the same voice in the last layout. */
import { equals } from "../../base/index.js"
import { sameList } from "./same.js"
import type { TimedSign, TimeVoice } from "./timeline.js"

/** So many signs look alike from the beginning on, and so many up to the end. Neither parts a ligature. */
export interface Alikeness {
  readonly head: number
  readonly tail: number
}
const NOTHING: Alikeness = { head: 0, tail: 0 }

export function alikeIn(now: TimeVoice, before: TimeVoice | undefined): Alikeness {
  if (!before || !sameStyle(now, before)) return NOTHING
  const [signs, known] = [now.signs, before.signs]
  const most = Math.min(signs.length, known.length)
  let head = 0
  while (head < most && looksAlike(signs[head]!, known[head]!)) head++
  while (head > 0 && (isWithin(signs[head]) || isWithin(known[head]))) head--
  let tail = 0
  while (tail < most - head && looksAlike(signs.at(-1 - tail)!, known.at(-1 - tail)!)) tail++
  // its body hangs on all of its notes
  while (tail > 0 && isWithin(signs.at(-tail))) tail--
  return { head, tail }
}

const isWithin = (timed: TimedSign | undefined): boolean => (timed?.inLigature ?? 0) > 0

/** Pages with the same shapes of their own are presupposed. */
const sameStyle = ({ style: one }: TimeVoice, { style: other }: TimeVoice): boolean =>
  one.lines === other.lines && one.white === other.white && one.clefs === other.clefs

/** It has the same form and lasts as long, whenever it sounds: an edit moves all that comes later. */
const looksAlike = (one: TimedSign, other: TimedSign): boolean =>
  one === other ||
  (one.sign === other.sign &&
    one.ligature === other.ligature &&
    one.inLigature === other.inLigature &&
    one.position === other.position &&
    one.held === other.held &&
    one.lasts === other.lasts &&
    one.reading.level === other.reading.level &&
    one.clef.shape === other.clef.shape &&
    one.clef.line === other.clef.line &&
    equals(one.duration, other.duration) &&
    sameList(one.before, other.before) &&
    sameList(one.after, other.after))

/** A list of `length` of which the beginning and the end are as they were; the rest is made. */
export function takenOver<T>(
  before: readonly T[] = [],
  { head, tail }: Alikeness,
  length: number,
  make: (at: number) => T,
): T[] {
  const all = before.slice(0, head)
  for (let at = head; at < length - tail; at++) all.push(make(at))
  for (let at = before.length - tail; at < before.length; at++) all.push(before[at]!)
  return all
}
