/** Two readings of a doubtful passage: as it was read, and as the nearest rival of a sign would have it. */
import {
  alignVoices,
  applyChange,
  compare,
  findSign,
  idGiver,
  max,
  minus,
  plus,
  ratio,
  shortPlace,
  times,
  toText,
  type Rational,
  type ReadOptions,
  type Result,
  type Score,
  type ScoreVoice,
  type SignId,
  type SignReading,
} from "@resolutio/core"
import type { HearFlags } from "./hear-flags.js"
import { fine, wrong } from "./hear-options.js"
import { noSuchSign, readWith, type PageRead } from "./reading.js"

export interface Rivals {
  /** As decided. */
  readonly b: Score
  readonly read: PageRead
  readonly from: Rational
  readonly to: Rational
  /** What A and B are. */
  readonly sentence: string
}

/** Without a place it is the sign of which the reading is least sure. */
export function rivalsAt(
  read: PageRead,
  a: Score,
  options: ReadOptions,
  { rivals: place = true, alone, repeats }: HearFlags,
): Result<Rivals> {
  const sign = place === true ? mostDoubtful(read) : entryOf(read, place)
  if (!sign) return place === true ? nothingDoubtful() : { ok: false, problems: [noSuchSign(place, read)] }
  const rival = sign.rivals[0]
  const name = shortPlace(read.page, sign.id) ?? sign.id
  if (!rival)
    return wrong(
      "--rivals",
      `Of ${name} there is only one reading.`,
      "Name a sign that `read` marks as doubtful, or leave the place out.",
    )
  const decision = { id: idGiver(read.page, "decision-")(), sign: sign.id, duration: rival.duration }
  const changed = applyChange(read.page, { kind: "insert-decision", decision })
  if (!changed.ok) return changed
  const other = readWith(changed.value.page, options, alone)
  const b = alignVoices(other.page, other.readings, { repeats })
  const [from, to] = passage(a, b, sign.id)
  return fine({
    b,
    read: other,
    from,
    to,
    sentence: `After one click ${name} lasts ${toText(sign.duration)} (${sign.rule}), after two ${toText(rival.duration)} (${rival.rule}).`,
  })
}

function entryOf({ page, readings }: PageRead, place: string): SignReading | undefined {
  const sign = findSign(page, place)
  return sign && readings.flatMap(one => one.signs).find(one => one.id === sign.id && one.number > 0)
}

function mostDoubtful({ readings }: PageRead): SignReading | undefined {
  const open = readings.flatMap(one => one.signs).filter(one => one.number > 0 && one.rivals.length > 0)
  return open.reduce<SignReading | undefined>((most, one) => (most && most.doubt >= one.doubt ? most : one), undefined)
}

const nothingDoubtful = (): Result<never> =>
  wrong("--rivals", "Nothing in this piece could be read otherwise.", "Leave --rivals out.")

/** So many bars of the sign's voice at most after it. */
const MOST_BARS = 8

/** From the bar before the sign to the bar after the moment from which both readings agree again. */
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
