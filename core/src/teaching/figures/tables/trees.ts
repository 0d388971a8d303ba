/** How larger values divide: trees of any mensurations. All values are read by the engine. */
import { done, failed, toNumber, type Rational, type Result } from "../../../base/index.js"
import { LEVELS, type Level } from "../../../page/index.js"
import { spanOf, wholeValue, type PracticeWish } from "../own-signs.js"

export interface TreeLevel {
  readonly level: Level
  /** Of one, in minims. */
  readonly value: Rational
  /** How many there are in the largest. */
  readonly count: number
}

export interface DivisionTree {
  /** As it was written: "O.". */
  readonly sign: string
  /** Of what names it: "tempus perfectum", "prolatio maior". */
  readonly names: readonly string[]
  /** Largest first. */
  readonly levels: readonly TreeLevel[]
}

export const USUAL_TREES = ["O.", "O", "C.", "C"]

/** Trees of signs in shorthand ("O", "C.", "O:modus=3", "mens:modus=3:tempus=2:prolatio=2"). */
export function divisionTrees(signs: readonly string[], practice: PracticeWish): Result<DivisionTree[]> {
  const trees: DivisionTree[] = []
  for (const sign of signs) {
    const span = spanOf(practice, sign)
    if (!span || span.tempus === null || span.prolatio === null) return notASign(sign)
    const top: Level = /modusmaior|maximodus/.test(sign) ? "maxima" : /modus/.test(sign) ? "longa" : "brevis"
    trees.push({ sign, names: namesOf(span, top), levels: levelsOf(sign, practice, top) })
  }
  return done(trees)
}

const notASign = (sign: string): Result<DivisionTree[]> =>
  failed({
    code: "no-such-sign",
    what: `“${sign}” is no sign of mensuration that divides a breve into semibreves and minims.`,
    where: { place: "--signs" },
    mend: "Write signs as in the shorthand, with blanks between: --signs “O. O C. C”, or O:modus=3 with a perfect modus.",
    severity: "error",
  })

type Span = NonNullable<ReturnType<typeof spanOf>>

function namesOf({ modusMaior, modusMinor, tempus, prolatio }: Span, top: Level): string[] {
  const perfect = (division: 2 | 3 | null) => (division === 3 ? "perfectum" : "imperfectum")
  const perfectus = (division: 2 | 3 | null) => (division === 3 ? "perfectus" : "imperfectus")
  return [
    ...(top === "maxima" ? [`modus maior ${perfectus(modusMaior)}`] : []),
    ...(top === "brevis" ? [] : [`modus minor ${perfectus(modusMinor)}`]),
    `tempus ${perfect(tempus)}`,
    `prolatio ${prolatio === 3 ? "maior" : "minor"}`,
  ]
}

/** Every value is read by the engine: a note before its like. */
function levelsOf(sign: string, practice: PracticeWish, top: Level): TreeLevel[] {
  const levels = LEVELS.slice(LEVELS.indexOf(top), LEVELS.indexOf("minima") + 1)
  const values = levels.map(level => wholeValue(practice, sign, level))
  const whole = toNumber(values[0]!)
  return levels.map((level, i) => ({ level, value: values[i]!, count: Math.round(whole / toNumber(values[i]!)) }))
}
