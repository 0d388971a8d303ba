/** When each sign sounds, and where its measure begins and ends. */
import {
  compare,
  minus,
  plus,
  ratio,
  secondsAt,
  times,
  toNumber,
  type Performance,
  type Rational,
  type Score,
  type ScoreVoice,
  type SignId,
} from "@resolutio/core"
import type { Sounding } from "./messages.js"

/** `score` is what is shown; what is sung again has no other place in it than the first time. */
export function soundingsOf(performance: Performance, score: Score): Sounding[] {
  const shown = new Map<SignId, Shown>()
  for (const voice of score.voices)
    for (const { id, sign, onset, duration } of voice.events)
      for (const name of [id, sign])
        if (name !== null && !shown.has(name)) shown.set(name, { voice, onset, until: plus(onset, duration) })
  const heard = new Set(performance.voices.filter(one => one.heard).map(one => one.id))
  return performance.sounds.flatMap(({ voice, sign, note, start, end, onset }) => {
    const at = [note, sign].map(name => (name === null ? undefined : shown.get(name))).find(Boolean)
    if (sign === null || !at) return []
    const [from, until] = [toNumber(at.onset), toNumber(at.until)]
    const bar = barOf(performance, at, onset, start)
    return [{ sign, start, end, onset: from, until, bar, heard: voice !== null && heard.has(voice) }]
  })
}

interface Shown {
  readonly voice: ScoreVoice
  readonly onset: Rational
  readonly until: Rational
}

/** The measure in seconds of the sound, in which what is performed at the moment `sung` is heard at `start`. */
function barOf(
  { clock }: Performance,
  { voice, onset }: Shown,
  sung: Rational,
  start: number,
): readonly [number, number] {
  const span = voice.mensurations.findLast(one => compare(one.onset, onset) <= 0) ?? voice.mensurations[0]
  const period = span?.periods[0] ?? ratio(1)
  const number = Math.floor(toNumber(minus(onset, span?.onset ?? ratio(0))) / toNumber(period))
  const first = plus(span?.onset ?? ratio(0), times(period, ratio(number)))
  const [from, to] = [minus(first, onset), minus(plus(first, period), onset)].map(by => plus(sung, by))
  const later = start - secondsAt(clock, sung)
  return [secondsAt(clock, from!) + later, secondsAt(clock, to!) + later]
}
