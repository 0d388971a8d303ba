/** Figures of a lawful voice before they are written: each with its true duration and what it gave up to whom. */

/** Ticks of one minim (Ars nova and later) or one tempus (Ars antiqua): divisible by all that voices divide by. */
export const TICKS = 5040

export const LONGA = 1
export const BREVIS = 2
export const SEMIBREVIS = 3
export const MINIMA = 4

export type Mark = "none" | "division" | "perfection" | "group"

export interface Draft {
  /** 0 maxima … 7 semifusa. A group of semibreves on one breve stands at the level of the breve. */
  readonly level: number
  readonly rest: boolean
  readonly ticks: number
  /** A dot adds half; the ticks include it. */
  readonly dotted: boolean
  readonly coloured: boolean
  readonly altered: boolean
  /** A double long. */
  readonly duplex: boolean
  /** A rest of two breves in perfect modus. */
  readonly short: boolean
  /** The unit that is counted with later ones, past larger notes. */
  readonly carried: boolean
  /** Ticks of the semibreves of a group. */
  readonly members?: readonly number[]
  /** No dot parts the group from another such group beside it. */
  readonly loose?: boolean
  /** Units of level k lost to what follows, and to what precedes. */
  post: readonly number[]
  ante: readonly number[]
  /** The larger note that this one shortens. */
  owner?: Draft
  /** What the scribe writes after it. */
  mark: Mark
}

const NOTHING: readonly number[] = [0, 0, 0, 0]

export function draft(level: number, ticks: number, more: Partial<Draft> = {}): Draft {
  return {
    level,
    ticks,
    rest: false,
    dotted: false,
    coloured: false,
    altered: false,
    duplex: false,
    short: false,
    carried: false,
    post: NOTHING,
    ante: NOTHING,
    mark: "none",
    ...more,
  }
}

export function lost(level: number, units = 1): readonly number[] {
  return NOTHING.map((none, k) => (k === level ? units : none))
}

/** Divisions (2 or 3) and full ticks by level, and how this kind of voice is written. */
export interface Measure {
  readonly divisions: readonly number[]
  readonly full: readonly number[]
  /** Levels that divide in three and whose perfections are counted, largest first. */
  readonly perfect: readonly number[]
  /** Two longs may stand in one body. */
  readonly doubleLong: boolean
  /** Breves are divided into groups of plain semibreves: sizes with their weights, and the ticks of each. */
  readonly groups?: {
    readonly weights: Readonly<Record<string, number>>
    readonly shares: (size: number) => readonly number[]
  }
}

/** Divisions as [modus maior, modus minor, tempus, prolatio]. */
export function measureOf(divisions: readonly [number, number, number, number]): Measure {
  const all = [...divisions, 2, 2, 2, 2]
  const full = [0, 0, 0, 0, TICKS, TICKS / 2, TICKS / 4, TICKS / 8]
  for (let k = SEMIBREVIS; k >= 0; k--) full[k] = full[k + 1]! * all[k]!
  return { divisions: all, full, doubleLong: false, perfect: [0, 1, 2, 3].filter(k => all[k] === 3) }
}
