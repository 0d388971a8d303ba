/** On which divisions the length of a sign depends. */
import { compare, minus, over, ratio, times, type Rational } from "../../base/index.js"
import { LEVELS } from "../../page/index.js"
import type { Reading, SignReading } from "../../reading/index.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"

/** Levels whose division is in the length of a sign of the reading; where no minim is written, in its share of the breve. */
export function dependingOn(reading: Reading): (sign: SignReading) => readonly LevelName[] {
  const { unit, practice } = reading
  if (unit === "tempus") return inTempora
  if (practice.options["minims"] !== "unwritten") return inMinims
  const byTempus = dependingOnTempus(reading)
  return sign => {
    if (sign.rule === "via-artis" || (sign.rule === "via-naturae" && practice.options["plainGroups"] !== "equal"))
      return ["tempus", "prolatio"]
    // how many minims a breve has is no question: all longer notes scale alike, and equal parts are the same shares of it
    const last = byTempus(sign) ? PROLATIO : TEMPUS
    return LEVEL_NAMES.slice(Math.min(TEMPUS, firstLevel(sign)), last)
  }
}

function inTempora(sign: SignReading): readonly LevelName[] {
  const own = levelOf(sign)
  return own >= SEMIBREVIS ? ["tempus"] : own < BREVIS || sign.quality === "altera" ? ["modusMinor"] : []
}

const inMinims = (sign: SignReading): readonly LevelName[] =>
  GROUPED.has(sign.rule) ? ["tempus", "prolatio"] : LEVEL_NAMES.slice(firstLevel(sign))

const levelOf = ({ level }: SignReading): number => (level === null ? LEVELS.length : LEVELS.indexOf(level))

/** An altered note lasts as the division above it has it, a shortened or whole one as its own. */
const firstLevel = (sign: SignReading): number =>
  Math.max(0, sign.quality === "altera" && sign.kind === "note" ? levelOf(sign) - 1 : levelOf(sign))

const BREVIS = LEVELS.indexOf("brevis")
const SEMIBREVIS = LEVELS.indexOf("semibrevis")
const TEMPUS = LEVEL_NAMES.indexOf("tempus")
const PROLATIO = LEVEL_NAMES.indexOf("prolatio")
/** Plain semibreves that share a breve. */
const GROUPED: ReadonlySet<string> = new Set(["via-naturae", "via-artis"])

/**
 * Whether a sign is another share of the breve in the other tempus: whole breves are not, nor three and more plain semibreves
 * that share one evenly (observed of motets of c. 1315-25).
 */
function dependingOnTempus(reading: Reading): (sign: SignReading) => boolean {
  const cells = new Map<string, SignReading[]>()
  for (const sign of reading.signs) {
    if (sign.number === 0) continue
    const { cell } = placeIn(reading, sign)
    const known = cells.get(cell)
    if (known === undefined) cells.set(cell, [sign])
    else known.push(sign)
  }
  return sign => {
    const { cell, breve } = placeIn(reading, sign)
    if (compare(sign.duration, breve) >= 0) return over(sign.duration, breve).den !== 1
    return !isEven(cells.get(cell) ?? [], breve)
  }
}

const isEven = (signs: readonly SignReading[], breve: Rational): boolean =>
  signs.length > 2 &&
  signs.every(({ kind, duration }) => kind === "note" && compare(times(duration, ratio(signs.length)), breve) === 0)

/** The breve in which a sign begins, and how long it is. */
function placeIn(
  { mensurations }: Reading,
  { onset }: SignReading,
): { readonly cell: string; readonly breve: Rational } {
  const at = Math.max(
    0,
    mensurations.findLastIndex(one => compare(one.onset, onset) <= 0),
  )
  const { tempus, prolatio, proportion, onset: from } = mensurations[at]!
  const breve = over(ratio((tempus ?? 2) * (prolatio ?? 2)), proportion)
  const { num, den } = over(minus(onset, from), breve)
  return { cell: `${at}:${Math.floor(num / den)}`, breve }
}
