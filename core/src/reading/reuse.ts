/** After an edit: which settled blocks of a stretch still hold, before and after the place that changed. */
import type { LatticeInput, Standing } from "./lattice-parts.js"
import type { SettledStretch } from "./assemble.js"
import type { Ruling } from "./rulings.js"
import type { GroupPlan } from "./semibreve-plan.js"
import type { Settled } from "./settle.js"
import type { DraftFigure } from "./draft-figure.js"
import { sameMeasuring } from "./in-force.js"
import type { Ends } from "./ends.js"
import type { Stretch } from "./stretches.js"

/** Rules look two figures ahead and one back; groups of semibreves up to nine ahead. */
const SIGHT = 3
const SIGHT_OF_GROUPS = 12
/** Names and causes of a figure are looked for so far among what is decided of others: a unit carried, a group that made up a whole. */
export const FURTHEST_NAMED = 40

export interface KnownBlocks {
  /** What was settled of the stretch before. */
  readonly old: SettledStretch
  /** Blocks that stand before the change, as they were. */
  readonly before: readonly Settled[]
  /** States known at places after the change. */
  readonly starts: KnownStarts
  /** The blocks from that place on. */
  after(node: number): Settled[]
  /** Figures by which the end has moved. */
  readonly moved: number
  /** Of figures before the first nothing that was said can have changed; nor, where the same is decided, from the second on. */
  readonly head: number
  readonly tail: number
}

/** `kept`: so many figures at the beginning and the end are known to be alike. */
export function knownBlocks(
  old: SettledStretch,
  stretch: Stretch,
  input: LatticeInput,
  kept: Ends,
): KnownBlocks | undefined {
  const a = old.stretch.figures
  const b = stretch.figures
  if (!sameMeasuring(old.stretch.measuring, stretch.measuring) || old.endsAtSign !== input.endsAtSign) return undefined
  if (old.plan?.voiceDots !== input.plan?.voiceDots || old.plan?.habits !== input.plan?.habits) return undefined
  const moved = b.length - a.length
  if (a === b) return { old, before: old.blocks, starts: NO_STARTS, after: () => [], moved, head: a.length, tail: 0 }
  const grouped = (i: number, j: number): boolean => sameGrouping(old.plan, i, input.plan, j)
  const known = outsideRuns(input.plan, b.length, kept)
  const head = commonHead(a, b, grouped, known.head)
  const whole = head === a.length && moved === 0
  const tail = whole ? 0 : commonTail(a, b, head, grouped, Math.min(known.tail, b.length - head))
  const sight = old.plan === undefined && input.plan === undefined ? SIGHT : SIGHT_OF_GROUPS
  const before = whole ? old.blocks : old.blocks.slice(0, blocksUpTo(old.blocks, head - sight))
  const starts = whole ? NO_STARTS : new KnownStarts(old.blocks, b.length - tail + sight, moved)
  const after = (node: number): Settled[] =>
    old.blocks.slice(firstBlockAt(old.blocks, node - moved)).map(block => movedBlock(block, moved))
  const told = whole ? a.length : Math.min(head, lastEnd(before)) - FURTHEST_NAMED
  return { old, before, starts, after, moved, head: told, tail: b.length - tail + FURTHEST_NAMED }
}

/** How many of the blocks end at the place or before it. */
function blocksUpTo(blocks: readonly Settled[], node: number): number {
  return firstWhere(blocks.length, i => blocks[i]!.end.node > node)
}

/** The first of the blocks that starts at the place or after it. */
function firstBlockAt(blocks: readonly Settled[], node: number): number {
  return firstWhere(blocks.length, i => blocks[i]!.start.node >= node)
}

/** The first of so many for which it is true; it is so for all that follow. */
function firstWhere(count: number, is: (i: number) => boolean): number {
  let [low, high] = [0, count]
  while (low < high) {
    const middle = (low + high) >> 1
    if (is(middle)) high = middle
    else low = middle + 1
  }
  return low
}

/** The states in which blocks began, from a place on; asked for from left to right. */
export class KnownStarts {
  private at: number

  constructor(
    private readonly blocks: readonly Settled[],
    from: number,
    private readonly moved: number,
  ) {
    this.at = firstBlockAt(blocks, from - moved)
  }

  get(node: number): Standing | undefined {
    const was = node - this.moved
    while (this.at < this.blocks.length && this.blocks[this.at]!.start.node < was) this.at++
    const block = this.blocks[this.at]
    return block?.start.node === was ? movedState(block.start, this.moved) : undefined
  }
}

const NO_STARTS = new KnownStarts([], 0, 0)

export const lastEnd = (blocks: readonly Settled[]): number => blocks.at(-1)?.end.node ?? 0

/** Whether rules would see no difference; runs are compared because they tell of what stands further on. */
function alike(a: DraftFigure, b: DraftFigure): boolean {
  if (a === b) return true
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
    a.ligatureEnd === b.ligatureEnd &&
    a.conjunctura === b.conjunctura &&
    a.drawn === b.drawn
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

/** Of the figures known to be alike those that stand in no run of semibreves with others. */
function outsideRuns(plan: GroupPlan | undefined, length: number, { head, tail }: Ends): Ends {
  if (plan === undefined) return { head, tail }
  let [from, to] = [head, length - tail]
  while (from > 0 && plan.to[from - 1]! >= head) from--
  while (to < length && plan.from[to]! <= length - tail) to++
  return { head: from, tail: length - to }
}

type Grouped = (i: number, j: number) => boolean

function commonHead(a: readonly DraftFigure[], b: readonly DraftFigure[], grouped: Grouped, known: number): number {
  const most = Math.min(a.length, b.length)
  let n = Math.min(known, most)
  while (n < most && alike(a[n]!, b[n]!) && grouped(n, n)) n++
  return n
}

function commonTail(
  a: readonly DraftFigure[],
  b: readonly DraftFigure[],
  head: number,
  grouped: Grouped,
  known: number,
): number {
  const most = Math.min(a.length, b.length) - head
  let n = Math.min(known, most)
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
