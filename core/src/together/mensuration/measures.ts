/** The sixteen mensurations as measures on which notes find their places. */
import type { Divisions } from "../../practices/index.js"
import { LEVEL_NAMES, type LevelName } from "./types.js"

/** Ticks of a minim: divisible by 16 for dotted semifusae and by 9 for colour. */
export const TICK = 144
export const BREVE = 2
export const SEMIBREVE = 3
export const MINIM = 4

export interface Measure {
  readonly divisions: readonly number[]
  readonly full: readonly number[]
  /** Ticks after which places repeat. */
  readonly cycle: number
}

export const ALL_DIVISIONS: readonly Divisions[] = [2, 3].flatMap(modusMaior =>
  [2, 3].flatMap(modusMinor =>
    [2, 3].flatMap(tempus => [2, 3].map(prolatio => ({ modusMaior, modusMinor, tempus, prolatio }) as Divisions)),
  ),
)

/** The measure of these divisions; places are counted up to the largest level of which there are notes. */
export function measureOf(divisions: Divisions, largest: number): Measure {
  const all = [...LEVEL_NAMES.map(level => divisions[level]), 2, 2, 2, 2]
  const full = [0, 0, 0, 0, TICK, TICK / 2, TICK / 4, TICK / 8]
  for (let k = SEMIBREVE; k >= 0; k--) full[k] = full[k + 1]! * all[k]!
  return { divisions: all, full, cycle: full[largest]! }
}

/** The measure of breves alone: what is smaller stands in groups. */
export function measureOfBreves(divisions: Divisions, largest: number): Measure {
  const all = [divisions.modusMaior, divisions.modusMinor, divisions.tempus, 2, 2, 2, 2, 2]
  const full = [0, 0, TICK, TICK / 3, TICK / 6, TICK / 12, TICK / 24, TICK / 48]
  for (let k = BREVE - 1; k >= 0; k--) full[k] = full[k + 1]! * all[k]!
  return { divisions: all, full, cycle: full[largest]! }
}

/** Levels that a practice measures by. */
export const levelsOf = (practice: string): readonly LevelName[] =>
  practice === "ars-antiqua" ? ["modusMinor", "tempus"] : LEVEL_NAMES

export const sameDivisions = (a: Divisions, b: Divisions): boolean => LEVEL_NAMES.every(level => a[level] === b[level])

/** The divisions with some levels as another has them. */
export function withLevels(divisions: Divisions, from: Divisions, levels: Iterable<LevelName>): Divisions {
  const changed: Record<LevelName, 2 | 3> = { ...divisions }
  for (const level of levels) changed[level] = from[level]
  return changed
}

/** Whether a cell of the level begins at this place. */
export const beginsCell = ({ full }: Measure, level: number, place: number): boolean => {
  const cell = full[level]!
  return place % cell === 0
}
