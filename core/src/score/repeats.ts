/** Repeats and endings of all voices together. */
import { compare, equals, times, type Rational } from "../base/index.js"
import type { NotatedBlock, NotatedScore } from "./notated.js"
import type { ScoreMark } from "./types.js"

/** An ending, ouvert (1) or clos (2); in whole notes. */
export interface Ending {
  readonly number: 1 | 2
  readonly from: Rational
  readonly to: Rational
}

export interface Repeats {
  readonly starts: readonly Rational[]
  readonly ends: readonly Rational[]
  /** Those that begin and end where all voices have a line. */
  readonly endings: readonly Ending[]
  /** The others. */
  readonly lineless: readonly Ending[]
}

/** Where any voice has them; in whole notes from the beginning. */
export function repeatsOf({ score, wholesPerUnit, blocks }: NotatedScore): Repeats {
  const marks = score.voices.flatMap(voice => voice.marks).toSorted((a, b) => compare(a.onset, b.onset))
  const at = (of: ScoreMark["of"]) =>
    distinct(marks.filter(mark => mark.of === of).map(mark => times(mark.onset, wholesPerUnit)))
  const [open, closed] = [at("ending-open"), at("ending-closed")]
  const stops = [...open, ...closed, ...at("repeat-start"), ...at("section"), ...at("refrain-start")]
  const sections = blocks.filter(block => block.sectionEnd).map(block => block.end)
  const end = blocks.at(-1)?.end
  const next = (from: Rational): Rational[] => {
    const later = [...stops, ...sections, ...(end ? [end] : [])].filter(stop => compare(stop, from) > 0)
    return later.toSorted(compare).slice(0, 1)
  }
  const endings = (number: 1 | 2, starts: readonly Rational[]) =>
    starts.flatMap(from => next(from).map((to): Ending => ({ number, from, to })))
  const all = [...endings(1, open), ...endings(2, closed)]
  const isWhole = ({ from, to }: Ending) => isEdge(from, blocks) && isEdge(to, blocks)
  return {
    starts: at("repeat-start"),
    ends: at("repeat-end"),
    endings: all.filter(isWhole),
    lineless: all.filter(ending => !isWhole(ending)),
  }
}

function distinct(times: readonly Rational[]): Rational[] {
  return times.filter((time, i) => i === 0 || !equals(time, times[i - 1]!))
}

/** Whether something at that time can stand at the edge of a stretch. */
export function isEdge(time: Rational, blocks: readonly NotatedBlock[]): boolean {
  return blocks.some(({ start, end }) => equals(start, time) || equals(end, time))
}
