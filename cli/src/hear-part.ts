/** Which part of a piece is heard, how often, and with what before it. */
import {
  compare,
  excerpt,
  findSign,
  fromText,
  plus,
  tactusSeconds,
  withCountIn,
  type Page,
  type Performance,
  type Problem,
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
  const asked = from.value !== undefined || to.value !== undefined
  if (asked && isEmpty(start, end, score.duration))
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

const isEmpty = (start: Rational, end: Rational, duration: Rational): boolean =>
  compare(start, end) >= 0 || compare(start, duration) >= 0

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

/** Seconds of the longest recording; what is longer comes of a slip in a file or an option. */
const LONGEST = 3 * 3600

/** What cannot be recorded: nothing, or without end. */
export function unheard({ voices, sounds, duration }: Performance): Problem[] {
  const problem = (what: string, mend: string): Problem[] => [
    { code: "nothing-to-hear", what, mend, severity: "error" },
  ]
  if (duration > LONGEST)
    return problem(
      `It would sound for ${Math.round(duration / 3600)} hours.`,
      "Choose a part with --from and --to, or look for a proportion or a duration in the file that makes a sign so long.",
    )
  if (sounds.every(one => one.voice === null))
    return problem("There is nothing to hear: no note with a pitch.", "Give a piece with notes, or another part of it.")
  if (voices.some(one => one.heard)) return []
  return problem("There is nothing to hear: every voice is left out.", "Take back one --mute or --solo.")
}

/** The part of the performance, the count before it. */
export function heardPart(performance: Performance, score: Score, part: Part): Performance {
  const cut = part.from || part.to || part.times > 1 ? excerpt(performance, part) : performance
  if (part.beats === 0) return cut
  return withCountIn(cut, part.beats, tactusSeconds(performance, score, part.from))
}
