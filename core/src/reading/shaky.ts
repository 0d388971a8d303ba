/**
 * Where the signs do not fill their perfections the theory that every chance rests on has failed, so the doubt it gives
 * is too small. Near such a place, and in a voice full of them, doubt has a floor. The floors are estimates.
 */
import { BREVIS } from "../practices/index.js"
import type { SettledStretch } from "./assemble.js"
import type { SignReading } from "./types.js"

/** Notes that share the trouble: what went wrong usually stands a little before the place where it shows. */
const BEFORE = 6
const AFTER = 2
const NEAR_OPEN = 0.3
/** Within a displacement of the perfections: seldom meant, often a slip. */
const DISPLACED = 0.12
/** A voice with an open place in every so many figures may not be in its declared mensuration at all. */
const OFTEN = 25
const OFTEN_DOUBT = 0.06

/** `byFigure` gives the entries of notes and rests by stretch and figure; returns where, among all entries, doubt rises. */
export function raisedDoubts(
  settled: readonly SettledStretch[],
  byFigure: () => readonly (readonly SignReading[])[],
): ReadonlyMap<number, number> {
  const floors = new Map<number, number>()
  const raise = (entry: SignReading | undefined, floor: number): void => {
    if (entry === undefined || entry.kind !== "note" || entry.decidedBy !== "voice" || entry.held) return
    if (floor > Math.max(entry.doubt, floors.get(entry.index) ?? 0)) floors.set(entry.index, floor)
  }
  let figures = 0
  let open = 0
  settled.forEach(({ decisions }, at) => {
    const entryOf = (i: number): SignReading | undefined => byFigure()[at]![i]
    figures += decisions.length
    for (let i = 0; i < decisions.length; i++) {
      const { choice, member } = decisions[i]!
      if (choice.shiftBefore > 0 || choice.shiftAfter > 0) raise(entryOf(i), DISPLACED)
      if (!choice.left || member > 0) continue
      open++
      for (let near = Math.max(0, i - BEFORE); near <= i + AFTER; near++) raise(entryOf(near), NEAR_OPEN)
    }
  })
  if (open >= 2 && open * OFTEN > figures)
    settled.forEach(({ stretch }, at) => {
      stretch.figures.forEach((figure, i) => {
        if (figure.level <= BREVIS) raise(byFigure()[at]![i], OFTEN_DOUBT)
      })
    })
  return floors
}
