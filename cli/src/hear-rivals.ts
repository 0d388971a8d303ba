/** Two readings of a doubtful passage: as it was read, and as the nearest rival of a sign would have it. */
import { findSign, rivalOf, type ReadOptions, type Result, type RivalReading, type Score } from "@resolutio/core"
import type { HearFlags } from "./hear-flags.js"
import { wrong } from "./hear-options.js"
import { noSuchSign, readWith, type PageRead } from "./reading.js"

/** Without a place it is the sign of which the reading is least sure. */
export function rivalsAt(
  read: PageRead,
  score: Score,
  options: ReadOptions,
  { rivals: place = true, alone, repeats }: HearFlags,
): Result<RivalReading> {
  const sign = place === true ? undefined : findSign(read.page, place)
  const isSung = read.readings.some(one => one.signs.some(entry => entry.id === sign?.id && entry.number > 0))
  if (place !== true && !isSung) return { ok: false, problems: [noSuchSign(place, read)] }
  const rival = rivalOf({
    ...read,
    score,
    ...(sign ? { sign: sign.id } : {}),
    read: page => readWith(page, options, alone).readings,
    align: { repeats },
  })
  if (rival.ok || place !== true) return rival.ok ? rival : atPlace(rival)
  return wrong("--rivals", rival.problems[0]!.what, "Leave --rivals out.")
}

function atPlace({ problems }: Exclude<Result<never>, { ok: true }>): Result<never> {
  return wrong("--rivals", problems[0]!.what, "Name a sign that `read` marks as doubtful, or leave the place out.")
}
