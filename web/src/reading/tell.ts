/** All that is said of one sign: what the Reason band shows. From any reading: a voice by itself, or all together. */
import {
  countText,
  decisionPlace,
  decisionReason,
  decisionWords,
  explainRule,
  explainShort,
  headlineOf,
  otherLengths,
  signTold,
  sourceOf,
  spokenName,
  unitText,
  type Page,
  type Rational,
  type Reading,
  type SignId,
  type SignReading,
  type VoiceRival,
} from "@resolutio/core"
import { signOf, voiceOf } from "../document/index-signs.js"

export interface ToldRival {
  readonly duration: Rational
  /** "6 minims". */
  readonly count: string
  readonly why: string
  /** 0 to 1. */
  readonly chance: number
}
export interface ToldDecision {
  readonly id: SignId
  readonly words: string
  readonly reason: string
}
export interface Told {
  readonly sign: SignId
  /** "still": it is no matter of duration, and nothing can be decided of it. */
  readonly kind: SignReading["kind"] | "still"
  /** "tenor 4". */
  readonly place: string
  readonly spoken: string
  readonly headline: string
  readonly sentence: string
  /** "" where it is not in doubt. */
  readonly otherwise: string
  readonly source: string
  /** Further rules that are also true of it. */
  readonly also: readonly string[]
  readonly because: readonly { readonly sign: SignId; readonly place: string }[]
  /** Undefined where there was nothing to decide. */
  readonly decidedBy?: SignReading["decidedBy"]
  readonly duration: Rational
  /** "6 minims". */
  readonly count: string
  readonly unit: Reading["unit"]
  readonly doubt: number
  readonly rivals: readonly ToldRival[]
  readonly decisions: readonly ToldDecision[]
  /** Other readings of the voice as a whole in which this sign lasts otherwise. */
  readonly ways: readonly ToldWay[]
}
export interface ToldWay {
  /** Label of the voice. */
  readonly voice: string
  readonly rival: VoiceRival
  /** Signs that last otherwise, with their counts. */
  readonly signs: readonly { readonly place: string; readonly count: string }[]
  readonly total: string
}

/** Undefined where there is no such sign. */
export function tell(page: Page, readings: readonly Reading[], id: SignId): Told | undefined {
  for (const reading of readings) {
    const sign = entryOf(reading, id)
    if (sign) return toldOf(page, reading, sign)
  }
  return stillTold(page, readings, id)
}

/** Of a sign without a part in the durations: what it is for. */
function stillTold(page: Page, readings: readonly Reading[], id: SignId): Told | undefined {
  const voice = voiceOf(page, id)
  const reading = readings.find(one => one.voice === voice?.id)
  const sign = signOf(page, id)?.sign
  const said = sign && signTold(sign)
  if (!voice || !reading || !said) return undefined
  return {
    sign: id,
    kind: "still",
    place: decisionPlace(page, { sign: id }),
    spoken: `${reading.label || reading.n}, ${said.headline.replace(/^(A|An|The) /, "")}. ${said.sentence}`,
    ...said,
    otherwise: "",
    source: "",
    also: [],
    because: [],
    duration: ZERO,
    count: "",
    unit: reading.unit,
    doubt: 0,
    rivals: [],
    decisions: [],
    ways: [],
  }
}
const ZERO: Rational = { num: 0, den: 1 }

const entries = new WeakMap<Reading, ReadonlyMap<SignId, SignReading>>()
/** The entry of a sign in a reading. */
export function entryOf(reading: Reading, id: SignId): SignReading | undefined {
  let known = entries.get(reading)
  if (!known) entries.set(reading, (known = new Map(reading.signs.map(sign => [sign.id, sign]))))
  return known.get(id)
}

function toldOf(page: Page, reading: Reading, sign: SignReading): Told {
  const voice = reading.label || reading.n
  const explained = sign.also.filter(rule => rule !== sign.rule)
  return {
    sign: sign.id,
    kind: sign.kind,
    place: sign.number > 0 ? `${voice} ${sign.number}` : decisionPlace(page, { sign: sign.id }),
    spoken: spokenName(reading, sign),
    headline: headlineOf(reading, sign),
    sentence: explainShort(reading, sign),
    otherwise: otherLengths(reading, sign),
    source: sourceOf(reading.practice.name, sign.rule),
    also: explained.map(rule => explainRule(reading, sign, rule)),
    because: sign.because.map(one => ({ sign: one, place: placeIn(page, reading, one) })),
    decidedBy: sign.decidedBy,
    duration: sign.duration,
    count: counted(sign.duration, reading.unit),
    unit: reading.unit,
    doubt: sign.doubt,
    rivals: sign.rivals.map(({ duration, because, rule, chance }) => ({
      duration,
      count: counted(duration, reading.unit),
      why: explainRule(reading, { ...sign, duration, because }, rule),
      chance,
    })),
    decisions: (page.decisions ?? [])
      .filter(one => one.sign === sign.id)
      .map(one => ({ id: one.id, words: decisionWords(one, reading.unit), reason: decisionReason(page, one) })),
    ways: waysOf(page, reading, sign.id),
  }
}

const counted = (duration: Rational, unit: Reading["unit"]): string =>
  `${countText(duration)} ${unitText(unit, duration)}`

function waysOf(page: Page, reading: Reading, id: SignId): ToldWay[] {
  return reading.rivals.flatMap(rival =>
    rival.signs.has(id)
      ? [
          {
            voice: reading.label || reading.n,
            rival,
            signs: [...rival.signs].map(([sign, lasts]) => ({
              place: placeIn(page, reading, sign),
              count: counted(lasts, reading.unit),
            })),
            total: countText(rival.duration),
          },
        ]
      : [],
  )
}

function placeIn(page: Page, reading: Reading, id: SignId): string {
  const number = entryOf(reading, id)?.number ?? 0
  return number > 0 ? `${reading.label || reading.n} ${number}` : decisionPlace(page, { sign: id })
}
