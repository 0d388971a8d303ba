/** Signs and figures of proportion: how many notes of a kind go into one time under each. Ratios and times are read. */
import { done, failed, over, ratio, toNumber, type Rational, type Result } from "../../../base/index.js"
import { readLine, spanOf, type PracticeWish } from "../own-signs.js"

export interface ProportionLane {
  /** In shorthand: "C|", "C prop:3/2". */
  readonly written: string
  readonly ratio: Rational
  /** Of one semibreve, in minims. */
  readonly duration: Rational
  /** How many semibreves fill the common time. */
  readonly count: number
}

export interface ProportionTable {
  readonly practice: PracticeWish
  readonly lanes: readonly ProportionLane[]
  /** Minims. */
  readonly time: Rational
}

export const USUAL_PROPORTIONS = ["C", "3/2", "4/3", "C|", "3/1"]

/** Signs in shorthand, and bare figures ("3/2") under the half circle. */
export function proportionTable(signs: readonly string[], practice: PracticeWish): Result<ProportionTable> {
  const read: Omit<ProportionLane, "count">[] = []
  for (const sign of signs) {
    const written = /^\d+(\/\d+)?$/.test(sign) ? `C prop:${sign}` : sign
    const span = spanOf(practice, written)
    if (!span || span.tempus === null || /\b0+(\/|$)/.test(sign)) return notKnown(sign)
    const reading = readLine(practice, `${written} S o o o B o`)
    const proportion = reading.mensurations.at(-1)!.proportion
    read.push({ written, ratio: proportion, duration: reading.signs.find(one => one.kind === "note")!.duration })
  }
  const time = commonTime(read.map(one => one.duration))
  return done({
    practice,
    time,
    lanes: read.map(one => ({ ...one, count: Math.round(toNumber(over(time, one.duration))) })),
  })
}

const notKnown = (sign: string): Result<ProportionTable> =>
  failed({
    code: "no-such-sign",
    what: `“${sign}” is neither a sign of mensuration nor a proportion.`,
    where: { place: "--signs" },
    mend: "Write signs as in the shorthand and proportions as figures: --signs “C C| O 3/2 4/3”.",
    severity: "error",
  })

/** The least time, a whole number of semibreves of two minims, into which all of them go; at most so many. */
function commonTime(durations: readonly Rational[]): Rational {
  for (let n = 2; n <= 12; n += 2) {
    const time = ratio(2 * n)
    if (durations.every(one => over(time, one).den === 1) && n >= 4) return time
  }
  return ratio(12)
}
