/** A voice's bars cut to the stretches that all voices share, and its notes cut to the bars. */
import { compare, minus, type Rational } from "../base/index.js"
import type { Bar, Block } from "./bars.js"
import type { Piece } from "./split.js"
import type { ScoreEvent } from "./types.js"
import { isDyadic } from "./values.js"

/** A bar, or the part of one that lies in a stretch. Times in whole notes. */
export interface Cell {
  readonly start: Rational
  readonly end: Rational
  /** Where the bar's lines are counted from. */
  readonly origin: Rational
  /** Null where several bars had to be written as one. */
  readonly bar: Bar | null
}

/** One list for each stretch. */
export function cellsOf(bars: readonly Bar[], blocks: readonly Block[]): Cell[][] {
  let next = 0
  return blocks.map(block => {
    const inside: Cell[] = []
    for (; bars[next] && compare(bars[next]!.start, block.end) < 0; next++) {
      inside.push(cellOf(bars[next]!, block))
      if (compare(bars[next]!.end, block.end) > 0) break
    }
    return joinUneven(inside, block)
  })
}

function cellOf(bar: Bar, block: Block): Cell {
  const start = compare(bar.start, block.start) < 0 ? block.start : bar.start
  const end = compare(bar.end, block.end) > 0 ? block.end : bar.end
  return { start, end, origin: isDyadic(minus(bar.start, block.start)) ? bar.start : block.start, bar }
}

/** Bars whose line halving cannot reach from the stretch's beginning are written as one: no tie could be cut there. */
function joinUneven(cells: readonly Cell[], block: Block): Cell[] {
  const joined: Cell[] = []
  for (const cell of cells) {
    const before = joined.at(-1)
    if (before && !isDyadic(minus(before.end, block.start)))
      joined[joined.length - 1] = { ...before, end: cell.end, bar: null }
    else joined.push(cell)
  }
  return joined
}

export interface TimedEvent {
  readonly event: ScoreEvent
  readonly start: Rational
  readonly end: Rational
}

/** The events' parts in each cell, counted from its origin. Cells and events in order, each list without gap. */
export function piecesOf(events: readonly TimedEvent[], cells: readonly Cell[]): Piece[][] {
  let next = 0
  return cells.map(cell => {
    const pieces: Piece[] = []
    for (; events[next] && compare(events[next]!.start, cell.end) < 0; next++) {
      const { event, start, end } = events[next]!
      const from = compare(start, cell.start) < 0 ? cell.start : start
      const to = compare(end, cell.end) > 0 ? cell.end : end
      if (compare(from, to) < 0) pieces.push({ event, start: minus(from, cell.origin), end: minus(to, cell.origin) })
      if (compare(end, cell.end) > 0) break
    }
    return pieces
  })
}
