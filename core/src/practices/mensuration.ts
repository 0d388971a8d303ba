/** Division of the levels, as lengths in ticks. One unit (minim, or tempus in the thirteenth century) is UNIT ticks. */

/**
 * Ticks of one unit. Divisible by every number the practices divide by (2^6, 3^3, 5, 7), so that sums stay whole
 * numbers on the way through a voice; durations leave the reader as exact fractions.
 */
export const UNIT = 64 * 27 * 5 * 7

export const MAXIMA = 0
export const LONGA = 1
export const BREVIS = 2
export const SEMIBREVIS = 3
export const MINIMA = 4
export const SEMIMINIMA = 5

export interface Mensuration {
  /** divisions[k]: how many of level k+1 make one of level k; indices 0 to 7. */
  readonly divisions: readonly number[]
  /** full[k]: ticks of an undiminished note of level k. */
  readonly full: readonly number[]
  /** Levels that divide in three and are counted by perfections, largest first. */
  readonly perfect: readonly number[]
  /** counts[k]: level k is one of `perfect`. */
  readonly counts: readonly boolean[]
  /** Ticks of the largest perfection; 0 when no level is perfect. */
  readonly cycle: number
  /** anchor[k]: ticks of the largest perfect level that is not larger than level k; 0 when there is none. */
  readonly anchor: readonly number[]
  /** fence[k]: ticks of the smallest perfect level that is larger than level k; 0 when there is none. */
  readonly fence: readonly number[]
  readonly tempus: 2 | 3
}

function finish(
  divisions: readonly number[],
  full: readonly number[],
  perfect: readonly number[],
  tempus: 2 | 3,
): Mensuration {
  const anchor = full.map((_, level) => full[perfect.find(k => k >= level) ?? -1] ?? 0)
  const fence = full.map((_, level) => full[perfect.filter(k => k < level).at(-1) ?? -1] ?? 0)
  return {
    divisions,
    full,
    perfect,
    counts: full.map((_, k) => perfect.includes(k)),
    cycle: full[perfect[0] ?? -1] ?? 0,
    anchor,
    fence,
    tempus,
  }
}

/** The sixteen combinations from the Ars nova on; below the minim everything halves. */
export function mensurationOf(modusMaior: 2 | 3, modusMinor: 2 | 3, tempus: 2 | 3, prolatio: 2 | 3): Mensuration {
  const divisions = [modusMaior, modusMinor, tempus, prolatio, 2, 2, 2, 2]
  const full = [0, 0, 0, 0, UNIT, UNIT / 2, UNIT / 4, UNIT / 8]
  for (let level = SEMIBREVIS; level >= MAXIMA; level--) full[level] = full[level + 1]! * divisions[level]!
  return finish(
    divisions,
    full,
    [0, 1, 2, 3].filter(k => divisions[k] === 3),
    tempus,
  )
}

/** Before the Ars nova: the breve is the unit, semibreves are read in groups on it, only the modus counts perfections. */
export function mensurationByTempus(modusMinor: 2 | 3, tempus: 2 | 3): Mensuration {
  const full = [2 * modusMinor * UNIT, modusMinor * UNIT, UNIT, UNIT / 3, UNIT / 9, UNIT / 18, UNIT / 36, UNIT / 72]
  return finish([2, modusMinor, tempus, 3, 2, 2, 2, 2], full, modusMinor === 3 ? [LONGA] : [], tempus)
}
