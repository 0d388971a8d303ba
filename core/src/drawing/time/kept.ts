/** Which systems of a layout still stand as they did in the last. */
import { AROUND } from "./bands.js"
import type { FormedVoice } from "./formed.js"
import { isImperfection } from "./gains.js"
import { pillarsIn } from "./perfections.js"
import { openingAt, type Axis } from "./place.js"
import type { Plan } from "./plan.js"
import { storeysWithin } from "./rivals.js"
import { sameList } from "./same.js"
import { firstFrom, NEAR } from "./timeline.js"

/** All that a system is drawn from, for telling whether it would be drawn the same. */
export class SystemKey {
  readonly #own: readonly unknown[]
  readonly #voices: readonly FormedVoice[]
  readonly #axis: Axis
  readonly #lists: (readonly unknown[])[] = []

  constructor({ voices, options, parting, reason, wholes, score }: Plan, axis: Axis) {
    this.#axis = axis
    this.#voices = voices
    const { from, to, left, right, scale, lead, clear, nameSize, step, first, last } = axis
    const line = [from, to, left, right, scale, lead, clear, nameSize, step, first, last]
    const piece = [wholes.num, wholes.den, score.unit, options.lanes, options.select]
    const said = [reason?.headline, reason?.sentences, reason?.source, parting?.sentence]
    this.#own = [...line, ...piece, ...said, ...(parting?.signs ?? [])]
  }

  equals(other: SystemKey): boolean {
    return (
      sameList(this.#own, other.#own) &&
      this.#voices.length === other.#voices.length &&
      this.#voices.every((voice, i) => voice === other.#voices[i] || sameList(this.#list(i), other.#list(i)))
    )
  }

  /** Values and objects that are the same when nothing has changed; only where the voice is not the same altogether. */
  #list(at: number): readonly unknown[] {
    this.#lists[at] ??= voiceKey(this.#voices[at]!, this.#axis)
    return this.#lists[at]
  }
}

function voiceKey(voice: FormedVoice, axis: Axis): readonly unknown[] {
  const key: unknown[] = []
  const { time, storeys, tail } = voice
  key.push(time.voice.id, time.voice.label, time.voice.n, time.style.lines, time.style.white, time.signs.length === 0)
  const opening = openingAt(voice, axis.from)
  key.push(
    opening.clef,
    opening.signature,
    opening.isNew,
    axis.last && tail.drawing.kind === "single" && time.tail.length,
  )
  const begins = Math.max(0, firstFrom(time.signs, axis.from) - AROUND)
  const ends = firstFrom(time.signs, axis.to) + AROUND
  for (let at = begins; at < Math.min(ends, time.signs.length); at++) {
    const timed = time.signs[at]!
    const isNear = timed.at + timed.lasts < axis.from - NEAR || timed.at > axis.to + NEAR
    // of those around only sleeves reach into it
    if (!isNear || isImperfection(timed.reading.rule)) key.push(timed, time.decided.has(timed.sign.id))
  }
  for (const { at, sign, span, minims } of time.capitals)
    if (at >= axis.from - NEAR && at <= axis.to + NEAR)
      key.push(
        at,
        sign,
        minims,
        span?.modusMaior,
        span?.modusMinor,
        span?.tempus,
        span?.prolatio,
        span?.from,
        span?.proportion.num,
        span?.proportion.den,
      )
  for (const { from, to, row, pieces } of storeysWithin(storeys, axis.from, axis.to)) {
    key.push(from, to, row)
    for (const { timed, at, lasts } of pieces) key.push(timed, at, lasts)
  }
  pillarsIn(voice.ruled, axis, key)
  return key
}
