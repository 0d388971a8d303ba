/** A voice of which nothing but the reading has changed: what stands on the page and when it sounds is as it was. */
import { equals } from "../../base/index.js"
import type { TimedSpan } from "./divisions.js"
import { sameSpan } from "./perfections.js"
import { sameEvent, sameReading, sameWith } from "./same.js"
import type { TimedSign, TimeVoice, VoiceInput } from "./timeline.js"

/** Its notes and rests, those that are read as they were the very same objects; undefined where more than that has changed. */
export function signsReadAgain(
  before: TimeVoice,
  { voice, reading, scoreVoice }: VoiceInput,
  spans: readonly TimedSpan[],
): readonly TimedSign[] | undefined {
  const known = before.reading.signs
  const isSame =
    before.voice === voice &&
    before.reading.unit === reading.unit &&
    known.length === reading.signs.length &&
    sameWith(before.spans, spans, sameSpan) &&
    sameWith(before.events, scoreVoice.events, sameEvent)
  if (!isSame) return undefined
  const signs: TimedSign[] = []
  for (let i = 0; i < known.length; i++) {
    const own = reading.signs[i]!
    if (own.id !== known[i]!.id || !equals(own.onset, known[i]!.onset)) return undefined
    const timed = before.signs[signs.length]
    if (timed?.sign.id !== own.id) continue
    if (timed.reading.level !== own.level) return undefined
    signs.push(sameReading(timed.reading, own) ? timed : { ...timed, reading: own })
  }
  return signs.length === before.signs.length ? signs : undefined
}
