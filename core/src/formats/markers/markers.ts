/** When each sign is heard: what people need who cut sound or pictures elsewhere. */
import { compare, times, type SignId } from "../../base/index.js"
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
  /** As `read` prints it; empty where the sign has none. */
  readonly pitch: string
  /** Number of the measure of the modern score in which it begins; null where there is no such score. */
  readonly bar: number | null
  /** Id of the rule that gave its duration; empty where nothing is known of the sign. */
  readonly rule: string
  /** Name of the passage, or number of the time round, where several are heard. */
  readonly passage: string
}

/** In the order of time, a marker for each tone of the voices that are heard. */
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
        pitch: (sound.kind === "plica" ? known?.sign.plica?.pitch : known?.sign.pitch) ?? "",
        bar: barOf(sound),
        rule: known?.sign.rule ?? "",
        passage: passageOf(performance, sound),
      },
    ]
  })
}

function bars(score: Score, options: ValueOptions): (sound: Sound) => number | null {
  let blocks: readonly NotatedBlock[] = []
  let scale = { num: 1, den: 1 }
  try {
    const notated = notate(score, options)
    blocks = notated.blocks
    scale = notated.wholesPerUnit
  } catch (error) {
    if (!(error instanceof TooShort)) throw error
  }
  return ({ onset }) => {
    const at = times(onset, scale)
    return blocks.findLast(block => compare(block.start, at) <= 0)?.n ?? null
  }
}

function passageOf({ passages }: Performance, { start }: Sound): string {
  if (passages.length < 2) return ""
  // A hair later than the start: sums of seconds are not exact.
  const at = passages.findLastIndex(passage => passage.start <= start + 1e-6)
  return passages[at]?.name ?? String(at + 1)
}
