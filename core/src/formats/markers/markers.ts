/** When each sign is heard: what people need who cut sound or pictures elsewhere. */
import { compare, ONE, times, type Rational, type SignId, type VoiceId } from "../../base/index.js"
import type { Performance, Sound } from "../../performance/index.js"
import type { Reading } from "../../reading/index.js"
import { notate, TooShort, type NotatedBlock, type Score, type ValueOptions } from "../../score/index.js"

export interface Marker {
  /** In seconds from the beginning. */
  readonly start: number
  readonly end: number
  /** Label of its voice. */
  readonly voice: string
  /** As it can be typed: "triplum 12". */
  readonly place: string
  readonly id: SignId
  readonly kind: "note" | "plica"
  /** As it sounds in its voice, before any shift: "bf3". */
  readonly pitch: string
  /** Number of the measure of the modern score in which it begins; null where there is no such score. */
  readonly bar: number | null
  /** Id of the rule that gave its duration; empty where nothing is known of the sign. */
  readonly rule: string
  /** Name of the passage, or number of the time round, where several are heard. */
  readonly passage: string
}

/**
 * In the order of time, a marker for each tone of the voices that are heard. `score` is the one whose bars are printed: the
 * performance may be of the same piece with its repeats written out.
 */
export function markersOf(
  performance: Performance,
  score: Score,
  readings: readonly Reading[],
  options: ValueOptions = {},
): Marker[] {
  const signs = new Map(readings.flatMap(({ label, signs }) => signs.map(sign => [sign.id, { label, sign }] as const)))
  const voices = new Map(performance.voices.map(voice => [voice.id, voice]))
  const barOf = bars(score, options)
  return performance.sounds.flatMap((sound): Marker[] => {
    const voice = sound.voice === null ? undefined : voices.get(sound.voice)
    if (!voice?.heard || sound.sign === null || sound.kind === "click") return []
    const known = signs.get(sound.sign)
    return [
      {
        start: sound.start,
        end: sound.end,
        voice: voice.label,
        place: known ? `${known.label} ${known.sign.number}` : "",
        id: sound.sign,
        kind: sound.kind,
        pitch: sound.pitch ?? "",
        bar: barOf(voice.id, sound.sign),
        rule: known?.sign.rule ?? "",
        passage: passageOf(performance, sound),
      },
    ]
  })
}

/** The bar in which a voice first has a sign. */
function bars(score: Score, options: ValueOptions): (voice: VoiceId, sign: SignId) => number | null {
  const found = new Map<string, number | null>()
  const numberAt = barNumbers(score, options)
  for (const { id, events } of score.voices)
    for (const { sign, onset } of events) {
      const name = `${id} ${sign}`
      if (sign !== null && !found.has(name)) found.set(name, numberAt(onset))
    }
  return (voice, sign) => found.get(`${voice} ${sign}`) ?? null
}

function barNumbers(score: Score, options: ValueOptions): (onset: Rational) => number | null {
  let blocks: readonly NotatedBlock[] = []
  let scale = ONE
  try {
    const notated = notate(score, options)
    blocks = notated.blocks
    scale = notated.wholesPerUnit
  } catch (error) {
    if (!(error instanceof TooShort)) throw error
  }
  let last = 0
  return onset => {
    const at = times(onset, scale)
    if (blocks[last] && compare(blocks[last]!.start, at) > 0) last = 0
    while (blocks[last + 1] && compare(blocks[last + 1]!.start, at) <= 0) last++
    return blocks[last]?.n ?? null
  }
}

function passageOf({ passages }: Performance, { start }: Sound): string {
  if (passages.length < 2) return ""
  // A hair later than the start: sums of seconds are not exact.
  const at = passages.findLastIndex(passage => passage.start <= start + 1e-6)
  return passages[at]?.name ?? String(at + 1)
}
