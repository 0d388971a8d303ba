/** After an edit: which entries of the reading before still hold, but for their places. */
import { LONGA } from "../practices/index.js"
import type { SettledStretch } from "./assemble.js"
import { commonEnds, type Ends } from "./ends.js"
import type { Cut, Entry, Stretch } from "./stretches.js"
import type { SignReading } from "./types.js"

export interface KnownEntries {
  /** The entries before. */
  readonly of: readonly SignReading[]
  /** Those up to the first hold as they are; those from the second on too, so many places further on. */
  readonly head: number
  readonly tail: number
  readonly moved: number
  /** The notes from the second on may sound otherwise. */
  readonly soundAnew: boolean
}

/** Of what is decided in a stretch, what was decided before in another: of figures up to the first and from the second on. */
export interface KnownDecisions {
  /** That stretch, by its number among those before. */
  readonly of: number
  readonly head: number
  readonly tail: number
}

/** A voice before and after: how it is cut, what is decided in each stretch. */
interface Both {
  readonly before: { readonly cut: Cut; readonly signs: readonly SignReading[] }
  readonly cut: Cut
  readonly settled: readonly SettledStretch[]
  readonly known: readonly (KnownDecisions | undefined)[]
  readonly byTempus: boolean
}

/** `kept`: the entries that are cut as before, if that is known. */
export function knownEntries(both: Both, kept: Ends | undefined): Omit<KnownEntries, "soundAnew"> {
  const { before, cut } = both
  const ends = kept ?? commonEnds(before.cut.entries, cut.entries, sameEntry)
  const head = Math.min(ends.head, entriesBefore(both))
  const tail = Math.max(head, cut.entries.length - ends.tail, entriesAfter(both))
  return { of: before.signs, head, tail, moved: cut.entries.length - before.signs.length }
}

const sameEntry = (a: Entry, b: Entry): boolean =>
  a.sign === b.sign &&
  a.takenFor === b.takenFor &&
  a.figure < 0 === b.figure < 0 &&
  a.after < 0 === b.after < 0 &&
  String(a.lasts?.num) === String(b.lasts?.num) &&
  a.lasts?.den === b.lasts?.den

/** How many entries stand before the first figure of which something else may be said than before. */
function entriesBefore(both: Both): number {
  const { cut, known, before } = both
  let at = 0
  while (at < cut.stretches.length && isWhole(both, at) && known[at]!.of === at) at++
  if (at === cut.stretches.length) return at === before.cut.stretches.length ? cut.entries.length : 0
  const first = known[at]?.of === at ? firstInDoubt(both, at, known[at]!.head) : 0
  return Math.max(0, entryOf(cut.entries, at, first))
}

/** The entry from which on the same is said of every figure. */
function entriesAfter(both: Both): number {
  const { cut, known, before } = both
  const moved = before.cut.stretches.length - cut.stretches.length
  let at = cut.stretches.length - 1
  while (at >= 0 && isWhole(both, at) && known[at]!.of === at + moved) at--
  const told = at < 0 ? undefined : known[at]
  if (told?.of === at + moved && told.tail < cut.stretches[at]!.figures.length) {
    const entry = entryOf(cut.entries, at, pastRun(cut.stretches[at]!, told.tail, both.byTempus))
    if (entry >= 0) return entry
  }
  const entry = entryOf(cut.entries, at + 1, 0)
  return entry < 0 ? cut.entries.length : entry
}

const isWhole = ({ cut, known }: Both, at: number): boolean =>
  known[at] !== undefined && known[at].head >= cut.stretches[at]!.figures.length

/**
 * What is said of a long that opens a run is known when the run ends, and how breves are counted when all are; so the
 * run that reaches past `limit` is gone back over.
 */
function firstInDoubt({ settled, byTempus }: Both, at: number, limit: number): number {
  const { stretch, decisions } = settled[at]!
  const { figures } = stretch
  let first = limit
  if (byTempus) while (first > 0 && first < figures.length && figures[first]!.level > LONGA) first--
  for (let i = first - 1; i >= 0; i--) {
    if (!decisions[i]!.choice.opens) continue
    const distance = figures[i]!.runs[LONGA]?.distance ?? -1
    return distance < 0 || i + distance >= first ? i : first
  }
  return Math.max(0, first)
}

/** Breves are counted from the long before them: the first figure from `from` on that does not hang on what stands before. */
function pastRun({ figures }: Stretch, from: number, byTempus: boolean): number {
  let first = from
  if (byTempus) while (first < figures.length && figures[first]!.level > LONGA) first++
  return first
}

function entryOf(entries: readonly Entry[], stretch: number, figure: number): number {
  return entries.findIndex(one => one.stretch === stretch && one.figure === figure)
}
