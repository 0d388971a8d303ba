/** Thirds that were given and taken, and what alteration added: told in time, before they are drawn. */
import { compare, minus, over, plus, ratio, times, toNumber, ZERO, type Rational } from "../../base/index.js"
import type { TimedSign, TimeVoice } from "./timeline.js"

/** A sleeve covers what a note would last whole; `given` are the parts that others took. */
export interface Sleeve {
  readonly from: number
  readonly to: number
  readonly given: readonly { readonly from: number; readonly to: number }[]
}

/** Whether a note read by this rule may have given a part of its time. */
export const isImperfection = (rule: string): boolean =>
  rule.startsWith("imperfectio") || rule.endsWith("-et-imperfectio")

/** Undefined where the note gave nothing. */
export function sleeveOf(timed: TimedSign, voice: TimeVoice): Sleeve | undefined {
  const { reading, duration, onset, whole } = timed
  if (!isImperfection(reading.rule) || whole === undefined) return undefined
  const full = reading.rule === "alteratio-et-imperfectio" ? times(whole, ratio(2)) : whole
  const lost = minus(full, duration)
  if (lost.num <= 0 || duration.num <= 0) return undefined
  const before = lostBefore(timed, lost, voice)
  const [from, kept, until, to] = [
    toNumber(minus(onset, before)),
    timed.at,
    timed.at + timed.lasts,
    toNumber(plus(plus(onset, duration), minus(lost, before))),
  ]
  const given = [
    ...(before.num > 0 ? [{ from, to: kept }] : []),
    ...(compare(before, lost) < 0 ? [{ from: until, to }] : []),
  ]
  return { from, to, given }
}

const sleeves = new WeakMap<TimeVoice, (Sleeve | undefined | null)[]>()

/** Of the notes and rests of a voice from this number up to that; each is reckoned once, when it is asked for. */
export function eachSleeve(
  voice: TimeVoice,
  from: number,
  to: number,
  take: (timed: TimedSign, sleeve: Sleeve) => void,
): void {
  let known = sleeves.get(voice)
  if (known === undefined) sleeves.set(voice, (known = new Array<null>(voice.signs.length).fill(null)))
  for (let at = from; at < to; at++) {
    let sleeve = known[at]
    if (sleeve === null) known[at] = sleeve = sleeveOf(voice.signs[at]!, voice)
    if (sleeve) take(voice.signs[at]!, sleeve)
  }
}

/** How much of what was lost those before it took. */
function lostBefore({ reading, onset }: TimedSign, lost: Rational, voice: TimeVoice): Rational {
  if (reading.rule === "imperfectio-a-parte-ante" || reading.rule === "alteratio-et-imperfectio") return lost
  if (reading.rule === "imperfectio-a-parte-post") return ZERO
  if (reading.rule === "imperfectio-ab-utraque-parte") return over(lost, ratio(2))
  const takers = reading.because.flatMap(id => voice.byId.get(id) ?? [])
  const early = takers.filter(taker => compare(taker.onset, onset) < 0)
  if (early.length === takers.length && early.length > 0) return lost
  const taken = early.reduce((sum, taker) => plus(sum, taker.duration), ZERO)
  return compare(taken, lost) > 0 ? lost : taken
}

/** What an altered note gained, at its end. */
export function gainOf({ reading, at, lasts, held }: TimedSign): { from: number; to: number } | undefined {
  if (held || lasts === 0) return undefined
  const altered = reading.rule === "alteratio" || reading.quality === "altera"
  return altered ? { from: at + lasts / 2, to: at + lasts } : undefined
}
