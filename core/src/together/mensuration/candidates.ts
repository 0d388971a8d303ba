/** The mensurations tried for one voice, each with how well it foretells the signs. */
import type { Divisions, Settings } from "../../practices/index.js"
import type { Chosen } from "../../reading/settings.js"
import { foretell, sharesOf, type Foretold } from "./forward.js"
import { groupChances } from "./groups.js"
import type { GroupChances } from "./onward.js"
import { ALL_DIVISIONS, BREVE, measureOf, measureOfBreves, SEMIBREVE, withLevels, type Measure } from "./measures.js"
import { innerSigns, type InnerSign } from "./inner-signs.js"
import type { Section, Token } from "./tokens.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"
import { GROUPS } from "./weights.js"

/** One mensuration of a voice. */
export interface Trial {
  readonly divisions: Divisions
  /** Natural logarithm of odds against no measure, inner signs included. */
  readonly fit: number
  /** By section. */
  readonly foretold: readonly Foretold[]
  readonly signs: readonly InnerSign[]
  /**
   * Ticks of the smallest level that is written, a breve where what is smaller stands in groups: what the notes cannot show of
   * the divisions below it still scales all.
   */
  readonly scale: number
  /** The same in breves: a tenor of longs alone does not show how many they have. */
  readonly breves: number
}

/** How a voice is counted, whatever its mensuration. */
export interface Counting {
  readonly sections: readonly Section[]
  readonly grouped: boolean
  readonly groups: GroupChances | undefined
  readonly byTempus: boolean
  /** What the notes do under each measure is kept, for telling. */
  readonly told: boolean
}

export function isGrouped(practice: string, settings: Settings): boolean {
  return practice === "ars-antiqua" || settings["minims"] === "unwritten"
}

export function countingOf(sections: readonly Section[], { practice, settings }: Chosen, told = false): Counting {
  const byTempus = practice.unit === "tempus"
  const grouped = isGrouped(practice.name, settings)
  const sizes = !byTempus ? GROUPS.unwritten : settings["breveDivision"] === "two-or-three" ? GROUPS.few : GROUPS.many
  return { sections, grouped, byTempus, groups: grouped ? groupChances(sizes) : undefined, told }
}

/** All mensurations for the voice that keep to what its signs state at the beginning. */
export function trialsOf(counting: Counting): Trial[] {
  const first = counting.sections[0]
  if (first === undefined) return []
  const stated = [...first.stated]
  const wanted = ALL_DIVISIONS.filter(
    one =>
      stated.every(level => one[level] === first.measuring[level]) &&
      // before the Ars nova these are no question: the breve holds three, and has no minims
      (!counting.byTempus || (one.modusMaior === 2 && one.tempus === 3 && one.prolatio === 2)),
  )
  const cache = new Map<string, Foretold>()
  return wanted.map(divisions => trial(counting, divisions, cache))
}

/** One mensuration tried; of what the voice's signs state, nothing is changed. */
export function trial(counting: Counting, divisions: Divisions, cache = new Map<string, Foretold>()): Trial {
  const foretold = counting.sections.map((section, i) => {
    const own = withLevels(divisions, section.measuring, section.stated)
    return foretoldOf(section.tokens, own, counting, `${i}`, cache)
  })
  const signs = counting.sections.flatMap((section, i) =>
    section.stated.size < LEVEL_NAMES.length && i === 0 ? innerSigns(section.tokens, divisions, counting.grouped) : [],
  )
  const fit = foretold.reduce((sum, { total }) => sum + total, 0) + signs.reduce((sum, { weight }) => sum + weight, 0)
  return { divisions, fit, foretold, signs, ...scaleOf(counting, divisions) }
}

function scaleOf({ sections, grouped, byTempus }: Counting, divisions: Divisions): Pick<Trial, "scale" | "breves"> {
  let smallest = 0
  for (const { tokens } of sections) for (const { level } of tokens) smallest = Math.max(smallest, level)
  const { full } = measureOf(divisions, 0)
  const scale = full[grouped ? Math.min(BREVE, smallest) : smallest]!
  const breves = scale / full[BREVE]!
  return { scale: byTempus ? breves : scale, breves }
}

/** Whether the notes count alike under both: then they differ in length by their scales at most. */
export const countsAlike = (a: Trial, b: Trial): boolean => a.foretold.every((part, i) => part === b.foretold[i])

/** Like measures are worked out once: a division that no note of the voice can show makes no other measure. */
function foretoldOf(
  tokens: readonly Token[],
  divisions: Divisions,
  { grouped, groups, told }: Counting,
  section: string,
  cache: Map<string, Foretold>,
): Foretold {
  const reach = reachOf(tokens)
  const shown = LEVEL_NAMES.filter((level, k) => isShown(level, k, reach, grouped))
  const key = `${section}:${shown.map(level => `${level}${divisions[level]}`).join()}`
  let known = cache.get(key)
  if (known === undefined) {
    const measure: Measure = (grouped ? measureOfBreves : measureOf)(divisions, reach.largest)
    cache.set(key, (known = foretell(tokens, measure, sharesOf(tokens), groups, { told })))
  }
  return known
}

/** The measure in which the tokens find their places. */
export const measureFor = (tokens: readonly Token[], divisions: Divisions): Measure =>
  measureOf(divisions, reachOf(tokens).largest)

/** A stretch by itself. */
export const foretoldIn = (tokens: readonly Token[], divisions: Divisions, counting: Counting): Foretold =>
  foretoldOf(tokens, divisions, counting, "", new Map())

interface Reach {
  /** Largest level whose cells matter: one above the largest note if that bears a dot. */
  readonly largest: number
  readonly smallest: number
  readonly coloured: boolean
  readonly single: boolean
}

function reachOf(tokens: readonly Token[]): Reach {
  let largest = SEMIBREVE
  let smallest = 0
  for (const token of tokens) {
    largest = Math.min(largest, token.level)
    smallest = Math.max(smallest, token.level)
  }
  const dotted = tokens.some(token => token.level === largest && (token.dot ?? token.wall) !== undefined)
  return {
    largest: dotted ? Math.max(0, largest - 1) : largest,
    smallest,
    coloured: tokens.some(token => token.coloured),
    single: tokens.some(token => token.members === 1),
  }
}

function isShown(level: LevelName, k: number, reach: Reach, grouped: boolean): boolean {
  if (k < reach.largest) return false
  if (grouped && level === "prolatio") return false
  if (grouped && k === BREVE) return reach.single || reach.coloured
  return k < reach.smallest || reach.coloured
}
