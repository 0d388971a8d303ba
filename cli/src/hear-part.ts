/** Which part of a piece is heard, how often, and with what before it. */
import {
  excerpt,
  findSign,
  fromText,
  plus,
  tactusSeconds,
  withCountIn,
  type Page,
  type Performance,
  type Rational,
  type Result,
  type Score,
} from "@resolutio/core"
import type { HearFlags } from "./hear-flags.js"
import { fine, numberOf, wrong } from "./hear-options.js"

export interface Part {
  readonly from?: Rational
  readonly to?: Rational
  readonly times: number
  readonly beats: number
}

/** `--from`, `--to`, `--loop`, `--count-in`. */
export function partOf(flags: HearFlags, page: Page, score: Score): Result<Part> {
  const from = momentOf("--from", flags.from, page, score)
  const to = momentOf("--to", flags.to, page, score)
  const times = numberOf("--loop", flags.loop, 1, 1000, "how many times it is played", true)
  const beats = numberOf("--count-in", flags.countIn, 0, 64, "how many beats are counted before it", true)
  const all = [from, to, times, beats]
  if (!from.ok || !to.ok || !times.ok || !beats.ok) return { ok: false, problems: all.flatMap(one => one.problems) }
  const [start, end] = [from.value ?? { num: 0, den: 1 }, to.value ?? score.duration]
  if (start.num * end.den >= end.num * start.den || start.num * score.duration.den >= score.duration.num * start.den)
    return wrong(
      "--from",
      `Nothing sounds between ${flags.from ?? "the beginning"} and ${flags.to ?? "the end"}.`,
      `The piece lasts from 0 to ${score.duration.num / score.duration.den} ${score.unit === "minima" ? "minims" : "tempora"}: let --from come before --to.`,
    )
  return fine({
    ...(from.value ? { from: from.value } : {}),
    ...(to.value ? { to: to.value } : {}),
    times: times.value ?? 1,
    beats: beats.value ?? 0,
  })
}

/** A number of units, or a sign: from where it begins, or to where it ends, the first time that it is heard. */
function momentOf(place: string, text: string | undefined, page: Page, score: Score): Result<Rational | undefined> {
  if (text === undefined) return fine(undefined)
  const moment = fromText(text)
  if (moment && moment.num >= 0) return fine(moment)
  const sign = findSign(page, text)
  const event = sign && score.voices.flatMap(voice => voice.events).find(one => one.sign === sign.id)
  if (event) return fine(place === "--to" ? plus(event.onset, event.duration) : event.onset)
  return wrong(
    place,
    `“${text}” is no moment of this piece.`,
    'Write a number of minims or tempora (24, 9/2), or a sign ("tenor 12").',
  )
}

/** The part of the performance, the count before it. */
export function heardPart(performance: Performance, score: Score, part: Part): Performance {
  const cut = part.from || part.to || part.times > 1 ? excerpt(performance, part) : performance
  if (part.beats === 0) return cut
  return withCountIn(cut, part.beats, tactusSeconds(performance, score, part.from))
}
