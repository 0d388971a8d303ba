/** Where the notes of a voice contradict the mensuration that its own sign states. */
import type { Problem } from "../../base/index.js"
import type { Divisions } from "../../practices/index.js"
import { trial, type Counting } from "./candidates.js"
import type { Foretold } from "./forward.js"
import { evidenceFor } from "./evidence.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"
import type { Section } from "./tokens.js"
import { levelInWords } from "./words.js"
import { DECLARED_DOUBTED, DECLARED_RIGHT, TEMPER } from "./weights.js"

/** What was foretold of the sections of a voice, each by itself: trials of one mensuration ask for it more than once. */
export type Tried = ReadonlyMap<Section, Map<string, Foretold>>

export const nothingTried = ({ sections }: Counting): Tried => new Map(sections.map(one => [one, new Map()]))

export const CONTRADICTED = "declared-mensuration-contradicted"

/** One problem for each stated level that the notes under its sign deny. */
export function contradictions(
  counting: Counting,
  assumed: Divisions,
  label: string,
  tried: Tried = nothingTried(counting),
): Problem[] {
  return counting.sections.flatMap(section => {
    const alone: Counting = { ...counting, sections: [{ ...section, stated: new Set() }], told: false }
    const declared: Record<LevelName, 2 | 3> = { ...assumed }
    for (const level of section.stated) declared[level] = section.measuring[level]
    const cache = tried.get(section)!
    const own = trial(alone, declared, cache)
    return LEVEL_NAMES.filter(level => section.stated.has(level)).flatMap(level => {
      const turned = { ...declared, [level]: declared[level] === 3 ? 2 : 3 } as Divisions
      const other = trial(alone, turned, cache)
      const odds = Math.log(DECLARED_RIGHT / (1 - DECLARED_RIGHT)) - TEMPER * (other.fit - own.fit)
      if (1 / (1 + Math.exp(-odds)) >= DECLARED_DOUBTED) return []
      const told = { ...alone, told: true }
      const against = evidenceFor(alone.sections, trial(told, declared), trial(told, turned)).find(
        one => one.weight < 0,
      )
      const sign = section.sign ?? against?.signs[0]
      return [
        {
          code: CONTRADICTED,
          what: `The notes of ${label} contradict its declared ${levelInWords(level, declared[level])}${against ? `: ${against.what}` : ""}.`,
          where: { place: label, ...(sign === undefined ? {} : { sign }) },
          mend: `See whether ${levelInWords(level, other.divisions[level])} is meant, or a sign of change is missing.`,
        },
      ]
    })
  })
}
