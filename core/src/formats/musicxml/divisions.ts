/** How finely a quarter note has to be divided so that every time in the file is a whole number. */
import { leastCommonMultiple, ratio, times, toNumber, type Rational } from "../../base/index.js"
import type { NotatedScore } from "../../score/index.js"

export interface Divisions {
  readonly perQuarter: number
  /** Whether every sign lasts a whole number of divisions; else the nearest is taken. */
  readonly exact: boolean
  /** A time in whole notes from the beginning, in divisions. */
  at(time: Rational): number
}

/** More than that MusicXML advises against, for the sake of players. */
const MOST = 16_383
/** Where no number holds all times: one that holds 32nds of a quarter, ninths, fifths and sevenths. */
const USUAL = 10_080

export function divisionsOf(notated: NotatedScore): Divisions {
  const needed = neededBy(notated)
  const exact = needed <= MOST
  const perQuarter = exact ? needed : USUAL
  return { perQuarter, exact, at: time => Math.round(toNumber(times(time, ratio(4 * perQuarter)))) }
}

/** Infinity once it is more than any file should have. */
function neededBy(notated: NotatedScore): number {
  let needed = 1
  const take = (time: Rational) => {
    if (needed <= MOST) needed = leastCommonMultiple(needed, times(time, ratio(4)).den)
  }
  for (const block of notated.blocks) {
    take(block.end)
    for (const item of block.layers.flat()) {
      const signs = item.kind === "tuplet" ? item.signs : item.kind === "sign" ? [item] : []
      for (const sign of signs) take(sign.end)
    }
  }
  return needed
}
