/** Which bars begin a system, so that all systems are about equally full. */
import type { EngravedScore } from "./compose.js"
import { attributeOf, childrenOf, hasClass, type SvgNode } from "./svg-tree.js"
import { numbersIn } from "./extents.js"

/**
 * Ids of the bars that begin the systems after the first, in a score that was engraved in one line; `line` is the width of a
 * system in the engraver's units.
 */
export function systemsFor({ systems: [only] }: EngravedScore, line: number): string[] {
  if (!only) return []
  const measures = childrenOf(only.content).filter(node => hasClass(node, "measure"))
  const left = Math.max(...only.staves.map(staff => staff.left))
  const bars = measures.map((measure, i) => {
    const [from, to] = reach(measure)
    return to - (i === 0 ? only.openingEnd : from)
  })
  const starts = systemBreaks({ bars, firstOpening: only.openingEnd, opening: only.openingEnd - left, line })
  return starts.flatMap(at => attributeOf(measures[at]!, "id") ?? [])
}

/** Where the lines of its staves begin and end. */
function reach(measure: SvgNode): [from: number, to: number] {
  const staff = childrenOf(measure).find(node => hasClass(node, "staff"))
  const line = staff && childrenOf(staff).find(({ name }) => name === "path")
  const [from = 0, , to = 0] = line ? numbersIn(attributeOf(line, "d") ?? "") : []
  return [from, to]
}

/** A last system that is less full than this looks like something left over. */
const LONELY = 0.4

/** The last of several systems has so little that it should have been set otherwise: one bar, or a short piece of a line. */
export function endsLonely({ systems, width, margin }: EngravedScore): boolean {
  const last = systems.length > 1 ? systems.at(-1)! : undefined
  if (!last) return false
  const measures = childrenOf(last.content).filter(node => hasClass(node, "measure"))
  return measures.length === 1 || reach(measures.at(-1)!)[1] < LONELY * (width - 2 * margin)
}

/** Natural widths of a score that was engraved in one line; all in one unit. */
export interface BarWidths {
  /** Of each bar without what opens the line. */
  readonly bars: readonly number[]
  /** What stands before the first system: names, prefatory staves, clefs. */
  readonly firstOpening: number
  /** Clefs and signatures at the beginning of the others. */
  readonly opening: number
  /** Of a system. */
  readonly line: number
}

/** A line may be squeezed so far; what is longer is taken only where one bar is. */
const SQUEEZED = 1.12
/** Of the last line so much at least should be filled. */
const LAST = 0.6

/**
 * Indices of the bars that begin a system, without the first: among all ways the one with the least sum of squares of what
 * each line lacks or has too much, parts of a line.
 */
export function systemBreaks({ bars, firstOpening, opening, line }: BarWidths): number[] {
  const best: { cost: number; from: number }[] = [{ cost: 0, from: 0 }]
  for (let end = 1; end <= bars.length; end++) {
    let chosen = { cost: Infinity, from: end - 1 }
    let width = 0
    for (let from = end - 1; from >= 0; from--) {
      width += bars[from]!
      const full = (width + (from === 0 ? firstOpening : opening)) / line
      if (full > SQUEEZED && from < end - 1) break
      const cost = best[from]!.cost + costOf(full, end === bars.length)
      if (cost < chosen.cost) chosen = { cost, from }
    }
    best.push(chosen)
  }
  const starts: number[] = []
  for (let end = bars.length; end > 0; end = best[end]!.from) if (best[end]!.from > 0) starts.unshift(best[end]!.from)
  return starts
}

/** Squeezing costs more than stretching; each line a little, so that no more are made than are needed. */
function costOf(full: number, last: boolean): number {
  const each = 0.02
  if (full > 1) return each + (3 * (full - 1)) ** 2
  const wanted = last ? LAST : 1
  return each + Math.max(0, wanted - full) ** 2
}
