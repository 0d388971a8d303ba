/**
 * Another practice that may be meant: a note is in doubt for it as far as it reads the note otherwise. What is compared is shares
 * of the breve, since the practices count in units of their own.
 */
import { equals, over, ratio, times, type Rational, type VoiceId } from "../../base/index.js"
import type { Reading, SignReading } from "../../reading/index.js"
import type { Assumed, RivalPractice } from "../../reading/settings.js"

type Against = RivalPractice["against"]
type AssumedByVoice = ReadonlyMap<VoiceId, Assumed>

/** What would be supposed if the other practice were meant; undefined where none may be. */
export function inOtherPractice(assumed: AssumedByVoice): AssumedByVoice | undefined {
  if (![...assumed.values()].some(one => one.practice?.rival)) return undefined
  return new Map(
    [...assumed].map(([voice, one]): [VoiceId, Assumed] => {
      const rival = one.practice?.rival
      if (rival === undefined) return [voice, one]
      return [voice, { practice: { name: rival.name, doubt: 0 }, divisions: { ...rival.divisions, doubt: 0 } }]
    }),
  )
}

/** The doubt of a sign that has `doubt` in its own practice, by what the other makes of it (at the same place of its reading). */
export function withOther(
  doubt: number,
  { num, reading, other }: { readonly num: number; readonly reading: Reading; readonly other: Reading },
  { chance, against }: RivalPractice,
): number {
  const sign = reading.signs[num]!
  const there = other.signs[num]
  if (there?.id !== sign.id) return Math.min(1, doubt + 2 * chance)
  const alike = equals(inBreves(sign, reading), inBreves(there, other))
  const wrong = alike ? Math.min(1, there.doubt / 2 + open(there, against)) : 1
  const both = (1 - chance) * doubt + 2 * chance * wrong
  return Math.round(1e4 * Math.min(1, Math.max(doubt, both))) / 1e4
}

/** Chance that a division on which the length in breves depends is another. */
function open({ level, quality }: SignReading, against: Against): number {
  if (level === "maxima") return Math.min(1, against.modusMaior + against.modusMinor)
  if (level === "longa" || quality === "altera") return against.modusMinor
  return level === "brevis" ? 0 : against.tempus
}

function inBreves({ duration, onset }: SignReading, { unit, mensurations }: Reading): Rational {
  if (unit === "tempus") return duration
  const span = mensurations.findLast(({ onset: from }) => from.num * onset.den <= onset.num * from.den)
  return span ? over(times(duration, span.proportion), ratio((span.tempus ?? 2) * (span.prolatio ?? 2))) : duration
}
