/** Values that no rule decides: rests by their length, durations that a file states. */
import { minus, ONE, ratio, type Rational } from "../base/index.js"
import { LEVELS, type Note, type Rest } from "../page/index.js"
import { BREVIS, LONGA, SEMIBREVIS, UNIT, type Mensuration, type Settings } from "../practices/index.js"

export const LEVEL_NUMBER: Readonly<Record<string, number>> = Object.fromEntries(LEVELS.map((level, i) => [level, i]))

interface MeasuredRest {
  readonly level: number
  readonly ticks: number
  /** Its length in spaces says so, not only its name. */
  readonly known: boolean
  /** Two breves in perfect modus. */
  readonly short: boolean
}

/** Value of a rest by its length, else by its name; undefined for a stroke that ends everything. */
export function measureRest(
  rest: Rest,
  mensuration: Mensuration,
  byTempus: boolean,
  settings: Settings,
): MeasuredRest | undefined {
  const { full, divisions } = mensuration
  if (rest.spaces !== undefined) {
    const { spaces } = rest
    const tempora = byTempus ? restTempora(spaces, settings) : spaces.den === 1 ? spaces : undefined
    if (byTempus && tempora === undefined) return undefined
    if (tempora !== undefined) return restOfTempora(tempora, full, divisions[LONGA]!)
    // thirds of a space were thirds of a breve in the early fourteenth century
    if (spaces.den === 3)
      return { level: SEMIBREVIS, ticks: Math.round((full[BREVIS]! * spaces.num) / 3), known: true, short: false }
  }
  const level = LEVEL_NUMBER[rest.level ?? "brevis"]!
  return { level, ticks: full[level]!, known: false, short: false }
}

function restOfTempora(tempora: Rational, full: readonly number[], modus: number): MeasuredRest {
  const ticks = (full[BREVIS]! * tempora.num) / tempora.den
  if (tempora.num < tempora.den) return { level: SEMIBREVIS, ticks, known: true, short: false }
  if (tempora.num === tempora.den) return { level: BREVIS, ticks, known: true, short: false }
  return { level: LONGA, ticks, known: true, short: modus === 3 && tempora.num === 2 * tempora.den }
}

/** Tempora of a rest that covers so many spaces (option restSystem); undefined: the end of a section, unmeasured. */
function restTempora(spaces: Rational, settings: Settings): Rational | undefined {
  const system = settings["restSystem"] ?? "acm-1280"
  const half = spaces.num === 1 && spaces.den === 2
  const long = spaces.num / spaces.den >= 4
  if (system === "tractatus-c1275") {
    if (half) return ratio(1, 3)
    if (long) return ratio(3)
    return spaces.num === spaces.den ? ratio(2, 3) : spaces.den === 1 ? minus(spaces, ONE) : spaces
  }
  if (long) return system === "regulae-c1275" ? ratio(3) : undefined
  const third = settings["halfSpaceRest"] === "minor" || system === "dmm-1250" || system === "dmd-c1275"
  if (half) return third ? ratio(1, 3) : ratio(2, 3)
  return spaces
}

/** Ticks of an explicit duration: MEI's dur.quality, then num/numbase on the written value. */
export function givenTicks(
  sign: Note | Rest,
  level: number,
  mensuration: Mensuration,
  byTempus: boolean,
  full: number,
): number | undefined {
  const { quality, num, numbase } = sign.given!
  const whole = sign.kind === "rest" ? full : mensuration.full[level]!
  // num and numbase are told of the undiminished note; files often state the quality beside them
  if (num && numbase) return (whole * numbase) / num
  const semibreve = byTempus && level === SEMIBREVIS
  const below = semibreve ? UNIT / 3 : (mensuration.full[level + 1] ?? full / 2)
  switch (quality) {
    case "perfecta":
      return 3 * below
    case "imperfecta":
      return 2 * below
    case "altera":
      return 2 * whole
    case "minor":
      return byTempus ? UNIT / 3 : whole
    case "maior":
      return byTempus ? (2 * UNIT) / 3 : 2 * whole
    default:
      return undefined
  }
}
