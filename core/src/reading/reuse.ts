/** After an edit: which settled blocks of a stretch still hold, before and after the place that changed. */
import type { LatticeInput, Standing } from "./lattice-parts.js"
import type { SettledStretch } from "./assemble.js"
import type { Ruling } from "./rulings.js"
import type { GroupPlan } from "./semibreve-plan.js"
import type { Settled } from "./settle.js"
import type { DraftFigure } from "./draft-figure.js"
import type { Stretch } from "./stretches.js"

/** Rules look two figures ahead and one back; groups of semibreves up to nine ahead. */
const SIGHT = 12

export interface KnownBlocks {
  /** Blocks that stand before the change, as they were. */
  readonly before: readonly Settled[]
  /** States known at places after the change. */
  readonly starts: ReadonlyMap<number, Standing>
  /** The blocks from that place on. */
  after(node: number): Settled[]
  /** Index in the old stretch of a figure so far from the change that nothing said of it can have changed; -1 for others. */
  was(figure: number): number
}

export function knownBlocks(old: SettledStretch, stretch: Stretch, input: LatticeInput): KnownBlocks | undefined {
  const a = old.stretch.figures
  const b = stretch.figures
  if (!sameMeasuring(old.stretch, stretch) || old.endsAtSign !== input.endsAtSign) return undefined
  if (old.plan?.voiceDots !== input.plan?.voiceDots) return undefined
  const grouped = (i: number, j: number): boolean => sameGrouping(old.plan, i, input.plan, j)
  const head = commonHead(a, b, grouped)
  const whole = head === a.length && a.length === b.length
  const tail = whole ? 0 : commonTail(a, b, head, grouped)
  const before = whole ? old.blocks : old.blocks.filter(block => block.end.node <= head - SIGHT)
  const moved = b.length - a.length
  const starts = new Map<number, Standing>()
  const later = new Map<number, number>()
  old.blocks.forEach((block, i) => {
    if (whole || block.start.node < a.length - tail + SIGHT) return
    starts.set(block.start.node + moved, movedState(block.start, moved))
    later.set(block.start.node + moved, i)
  })
  const after = (node: number): Settled[] =>
    old.blocks.slice(later.get(node) ?? old.blocks.length).map(block => movedBlock(block, moved))
  const head2 = whole ? a.length : head - 2 * SIGHT
  const tail2 = whole ? a.length : a.length - tail + 2 * SIGHT
  const reaches = lastEnd(before)
  const was = (figure: number): number => {
    if (figure < head2 && figure < reaches) return figure
    return figure - moved >= tail2 ? figure - moved : -1
  }
  return { before, starts, after, was }
}

const lastEnd = (blocks: readonly Settled[]): number => blocks.at(-1)?.end.node ?? 0

function sameMeasuring(a: Stretch, b: Stretch): boolean {
  const [x, y] = [a.measuring, b.measuring]
  return (
    x.modusMaior === y.modusMaior &&
    x.modusMinor === y.modusMinor &&
    x.tempus === y.tempus &&
    x.prolatio === y.prolatio &&
    x.ratio.num === y.ratio.num &&
    x.ratio.den === y.ratio.den
  )
}

/** Whether rules would see no difference; runs are compared because they tell of what stands further on. */
function alike(a: DraftFigure, b: DraftFigure): boolean {
  return sameSign(a, b) && sameSurroundings(a, b) && (a.runs === b.runs || sameRuns(a, b))
}

/** What the sign itself says: nothing need be compared where it is the same object. */
function sameSign(a: DraftFigure, b: DraftFigure): boolean {
  if (a.note === b.note && a.restSign === b.restSign) return true
  return (
    a.id === b.id &&
    a.rest === b.rest &&
    a.coloured === b.coloured &&
    a.syllable === b.syllable &&
    a.stemDown === b.stemDown &&
    a.stemOblique === b.stemOblique &&
    a.near === b.near &&
    a.duplex === b.duplex
  )
}

/** What its ligature, its mensuration, the marks after it and the voice make of it. */
function sameSurroundings(a: DraftFigure, b: DraftFigure): boolean {
  return (
    a.level === b.level &&
    a.full === b.full &&
    a.dot === b.dot &&
    a.dotGiven === b.dotGiven &&
    a.stroke === b.stroke &&
    a.strokeGroup === b.strokeGroup &&
    a.softWall === b.softWall &&
    a.colouredTicks === b.colouredTicks &&
    a.fixed === b.fixed &&
    a.fixedBy === b.fixedBy &&
    sameRuling(a.ruling, b.ruling) &&
    a.final === b.final &&
    a.texted === b.texted &&
    a.localShape === b.localShape &&
    a.ligatureStart === b.ligatureStart &&
    a.ligatureEnd === b.ligatureEnd
  )
}

function sameRuling(a: Ruling | undefined, b: Ruling | undefined): boolean {
  if (a === b) return true
  return a?.dot === b?.dot && a?.stroke === b?.stroke && String(a?.not ?? []) === String(b?.not ?? [])
}

function sameRuns(a: DraftFigure, b: DraftFigure): boolean {
  for (let level = 0; level < 4; level++) {
    const [x, y] = [a.runs[level], b.runs[level]]
    if (
      x !== y &&
      (x === undefined ||
        y === undefined ||
        x.units !== y.units ||
        x.alterable !== y.alterable ||
        x.startsWithRest !== y.startsWithRest)
    )
      return false
  }
  return true
}

/** Whether the figures stand at the same place of runs of semibreves that look alike. */
function sameGrouping(a: GroupPlan | undefined, i: number, b: GroupPlan | undefined, j: number): boolean {
  if (a === undefined || b === undefined) return a === b
  const [from = 0, to = 0] = [a.from[i], a.to[i]]
  const moved = j - i
  if (b.from[j] !== from + moved || b.to[j] !== to + moved) return false
  return to <= from || (a.marks[from - 1] === b.marks[from + moved - 1] && a.marks[to - 1] === b.marks[to + moved - 1])
}

type Grouped = (i: number, j: number) => boolean

function commonHead(a: readonly DraftFigure[], b: readonly DraftFigure[], grouped: Grouped): number {
  const most = Math.min(a.length, b.length)
  let n = 0
  while (n < most && alike(a[n]!, b[n]!) && grouped(n, n)) n++
  return n
}

function commonTail(a: readonly DraftFigure[], b: readonly DraftFigure[], head: number, grouped: Grouped): number {
  const most = Math.min(a.length, b.length) - head
  let n = 0
  while (n < most && alike(a[a.length - 1 - n]!, b[b.length - 1 - n]!) && grouped(a.length - 1 - n, b.length - 1 - n))
    n++
  return n
}

const movedState = (s: Standing, by: number): Standing => ({
  ...s,
  node: s.node + by,
  opener: s.opener < 0 ? -1 : s.opener + by,
})

function movedBlock(block: Settled, by: number): Settled {
  if (by === 0) return block
  const moved = { ...block, start: movedState(block.start, by), end: movedState(block.end, by) }
  return block.block === undefined ? moved : { ...moved, moved: (block.moved ?? 0) + by }
}
