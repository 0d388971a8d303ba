/** A doubtful passage in another reading: as the nearest rival of a sign would have it, with everything that follows from it. */
import {
  compare,
  done,
  failed,
  max,
  minus,
  plus,
  ratio,
  times,
  toText,
  type Problem,
  type Rational,
  type Result,
  type SignId,
} from "../base/index.js"
import { applyChange, idGiver, shortPlace, type Page } from "../page/index.js"
import type { Reading, SignReading } from "../reading/index.js"
import { alignVoices, type AlignOptions, type Score, type ScoreVoice } from "../score/index.js"

export interface RivalAsked {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  /** Without it, that of which the reading is least sure. */
  readonly sign?: SignId
  /** Reads the page as it would be, as the page itself was read. */
  readonly read: (page: Page) => readonly Reading[]
  readonly align?: AlignOptions
}

export interface RivalReading {
  /** With the rival decided. */
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
  /** From the bar before the sign to the bar after the moment from which both readings agree again, in the score's unit. */
  readonly from: Rational
  readonly to: Rational
  /** What either reading is. */
  readonly sentence: string
}

/** Fails where nothing could be read otherwise. */
export function rivalOf({ page, readings, score, sign, read, align }: RivalAsked): Result<RivalReading> {
  const entry = sign === undefined ? mostDoubtful(readings) : entryOf(readings, sign)
  const rival = entry?.rivals[0]
  if (!entry || !rival) return failed(onlyOne(page, entry?.id ?? sign))
  const decision = { id: idGiver(page, "decision-")(), sign: entry.id, duration: rival.duration }
  const changed = applyChange(page, { kind: "insert-decision", decision })
  if (!changed.ok) return changed
  const other = read(changed.value.page)
  const b = alignVoices(changed.value.page, other, align)
  const [from, to] = passage(score, b, entry.id)
  const name = shortPlace(page, entry.id) ?? entry.id
  const sentence = `After one click ${name} lasts ${toText(entry.duration)} (${entry.rule}), after two ${toText(rival.duration)} (${rival.rule}).`
  return done({ page: changed.value.page, readings: other, score: b, from, to, sentence })
}

const entryOf = (readings: readonly Reading[], id: SignId): SignReading | undefined =>
  readings.flatMap(one => one.signs).find(one => one.id === id && one.number > 0)

function mostDoubtful(readings: readonly Reading[]): SignReading | undefined {
  const open = readings.flatMap(one => one.signs).filter(one => one.number > 0 && one.rivals.length > 0)
  return open.reduce<SignReading | undefined>((most, one) => (most && most.doubt >= one.doubt ? most : one), undefined)
}

function onlyOne(page: Page, sign: SignId | undefined): Problem {
  if (sign === undefined)
    return {
      code: "no-rival",
      what: "Nothing in this piece could be read otherwise.",
      mend: "There is no other reading to be heard.",
      severity: "error",
    }
  return {
    code: "no-rival",
    what: `Of ${shortPlace(page, sign) ?? sign} there is only one reading.`,
    mend: "Name a sign that is marked as doubtful, or none for the most doubtful one.",
    severity: "error",
  }
}

/** So many bars of the sign's voice at most after it. */
const MOST_BARS = 8

function passage(a: Score, b: Score, sign: SignId): [from: Rational, to: Rational] {
  const voice = a.voices.find(one => one.events.some(event => event.sign === sign))!
  const at = voice.events.findIndex(event => event.sign === sign)
  const { onset, duration } = voice.events[at]!
  const bar = barAt(voice, onset)
  const other = b.voices.find(one => one.id === voice.id)
  const starts = new Map(other?.events.map(event => [event.sign, toText(event.onset)]))
  const again = voice.events.slice(at + 1).find(event => starts.get(event.sign) === toText(event.onset))
  const from = minus(onset, bar)
  const first = plus(plus(onset, duration), bar)
  const wanted = again ? plus(again.onset, bar) : first
  const last = plus(onset, times(bar, ratio(MOST_BARS)))
  const to = least(least(max(first, wanted), last), max(a.duration, b.duration))
  return [max(from, ratio(0)), to]
}

function barAt({ mensurations }: ScoreVoice, onset: Rational): Rational {
  const span = mensurations.findLast(one => compare(one.onset, onset) <= 0) ?? mensurations[0]
  return span?.periods[0] ?? ratio(1)
}

const least = (a: Rational, b: Rational): Rational => (compare(a, b) <= 0 ? a : b)
