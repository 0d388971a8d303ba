/** Whether what was drawn for a sign last time still holds. */
import { equals, type Rational } from "../../base/index.js"
import type { MensurationSpan, SignReading, VoiceRival } from "../../reading/index.js"
import type { ScoreEvent } from "../../score/index.js"
import type { Capital, Head, TimedSign, TimeVoice, VoiceInput } from "./timeline.js"

/** What a voice is laid from, whole: then it is as it was and need not be gone through. */
export function sameInput(before: TimeVoice, { voice, reading, scoreVoice, decided }: VoiceInput): boolean {
  return (
    before.voice === voice &&
    before.decided.size === 0 &&
    decided.size === 0 &&
    before.reading.unit === reading.unit &&
    sameWith(before.reading.signs, reading.signs, sameWhole) &&
    sameWith(before.reading.mensurations, reading.mensurations, sameMensuration) &&
    sameWith(before.reading.rivals, reading.rivals, sameWay) &&
    sameWith(before.events, scoreVoice.events, sameEvent)
  )
}

const sameWhole = (one: SignReading, other: SignReading): boolean =>
  one === other || (one.id === other.id && equals(one.onset, other.onset) && sameReading(one, other))

const sameMensuration = (one: MensurationSpan, other: MensurationSpan): boolean =>
  one.sign === other.sign && equals(one.onset, other.onset) && sameLevels(one, other)

function sameWay(one: VoiceRival, other: VoiceRival): boolean {
  if (one === other) return true
  if (one.signs.size !== other.signs.size || !equals(one.duration, other.duration)) return false
  for (const [id, duration] of one.signs) {
    const own = other.signs.get(id)
    if (!own || !equals(own, duration)) return false
  }
  return true
}

export const sameEvent = (one: ScoreEvent, other: ScoreEvent): boolean =>
  one === other ||
  (one.id === other.id &&
    one.kind === other.kind &&
    equals(one.onset, other.onset) &&
    equals(one.duration, other.duration) &&
    (one.kind === "note" && one.held) === (other.kind === "note" && other.held))

export const sameWith = <T>(one: readonly T[], other: readonly T[], same: (a: T, b: T) => boolean): boolean =>
  one === other || (one.length === other.length && one.every((own, i) => same(own, other[i]!)))

export const sameHead = (one: Head, other: Head): boolean =>
  one.at === other.at && one.clef === other.clef && one.signature === other.signature

export const sameCapital = (one: Capital, other: Capital): boolean =>
  one.at === other.at &&
  one.sign === other.sign &&
  one.minims === other.minims &&
  (one.span === other.span || (one.span !== undefined && other.span !== undefined && sameLevels(one.span, other.span)))

export const sameLevels = (one: MensurationSpan, other: MensurationSpan): boolean =>
  one.modusMaior === other.modusMaior &&
  one.modusMinor === other.modusMinor &&
  one.tempus === other.tempus &&
  one.prolatio === other.prolatio &&
  one.from === other.from &&
  equals(one.proportion, other.proportion)

export function sameTimed(one: TimedSign, other: TimedSign): boolean {
  return (
    one.sign === other.sign &&
    one.ligature === other.ligature &&
    one.position === other.position &&
    one.held === other.held &&
    equals(one.onset, other.onset) &&
    equals(one.duration, other.duration) &&
    sameOrNone(one.whole, other.whole) &&
    one.parts === other.parts &&
    one.clef.shape === other.clef.shape &&
    one.clef.line === other.clef.line &&
    sameList(one.before, other.before) &&
    sameList(one.after, other.after) &&
    sameReading(one.reading, other.reading)
  )
}

export function sameList<T>(one: readonly T[], other: readonly T[]): boolean {
  if (one.length !== other.length) return false
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) return false
  return true
}

const sameOrNone = (one: Rational | undefined, other: Rational | undefined): boolean =>
  one === other || (one !== undefined && other !== undefined && equals(one, other))

/** In all of which the picture or the reason below it tells. */
export function sameReading(one: SignReading, other: SignReading): boolean {
  return (
    one === other ||
    (one.rule === other.rule &&
      one.doubt === other.doubt &&
      one.level === other.level &&
      one.quality === other.quality &&
      one.decidedBy === other.decidedBy &&
      one.number === other.number &&
      equals(one.duration, other.duration) &&
      sameList(one.because, other.because) &&
      sameRivals(one, other))
  )
}

function sameRivals({ rivals: one }: SignReading, { rivals: other }: SignReading): boolean {
  if (one === other) return true
  if (one.length !== other.length) return false
  return one.every((rival, i) => rival.chance === other[i]!.chance && equals(rival.duration, other[i]!.duration))
}
