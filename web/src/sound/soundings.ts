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
} from "@resolutio/core"
import type { Sounding } from "./messages.js"

export function soundingsOf(performance: Performance, { voices }: Score): Sounding[] {
  const byId = new Map(voices.map(voice => [voice.id as string, voice]))
  const until = new Map(
    voices.flatMap(({ events }) => events).map(({ id, onset, duration }) => [id, plus(onset, duration)]),
  )
  return performance.sounds.flatMap(({ voice, sign, note, start, end, onset }) => {
    const own = voice === null ? undefined : byId.get(voice)
    if (sign === null || !own) return []
    const ends = until.get(note) ?? onset
    return [
      { sign, start, end, onset: toNumber(onset), until: toNumber(ends), bar: barOf(performance, own, onset, start) },
    ]
  })
}

/** In seconds of the sound, in which what is heard at `onset` is heard at `start`. */
function barOf({ clock }: Performance, voice: ScoreVoice, onset: Rational, start: number): [number, number] {
  const span = voice.mensurations.findLast(one => compare(one.onset, onset) <= 0) ?? voice.mensurations[0]
  const period = span?.periods[0] ?? ratio(1)
  const number = Math.floor(toNumber(minus(onset, span?.onset ?? ratio(0))) / toNumber(period))
  const first = plus(span?.onset ?? ratio(0), times(period, ratio(number)))
  const later = start - secondsAt(clock, onset)
  return [secondsAt(clock, first) + later, secondsAt(clock, plus(first, period)) + later]
}
