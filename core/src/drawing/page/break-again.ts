/**
 * Rows after a change, for a page that is being written: they stay as they were but for those in which something changed, and
 * these take in neighbours only where one of them would be too full or too empty.
 */
import type { Cell } from "./cells.js"
import { breakEvenly, endsBadly, setRow, type RowHead, type Spacing } from "./set-line.js"

export interface RowLook {
  readonly width: number
  readonly headOf: RowHead
  readonly spacing: Spacing
}

/** A row that is emptier is broken anew with its neighbours. */
const EMPTY = 0.68
/** At most so many of them are taken in. */
const NEIGHBOURS = 4

/** The part of the cells that is broken anew. */
interface Region {
  readonly cells: readonly Cell[]
  readonly start: number
  readonly end: number
  /** Number of its first row, and how many there were. */
  readonly row: number
  readonly were: number
}

/** `before` are the rows as they were; those that stay are the very same arrays. */
export function breakAgain(cells: readonly Cell[], before: readonly Cell[][], look: RowLook): Cell[][] {
  let { from, to } = changedRows(cells, before)
  for (let turn = 0; ; turn++) {
    const [start, end] = [sizeOf(before.slice(0, from)), cells.length - sizeOf(before.slice(to))]
    const region = { cells, start, end, row: from, were: to - from }
    const rows = broken(region, look)
    const side = badSide(region) ?? (turn < NEIGHBOURS ? emptySide(rows, region, look) : undefined)
    if (side === undefined || (from === 0 && to === before.length))
      return [...before.slice(0, from), ...rows, ...before.slice(to)]
    if (from === 0 || (side === "next" && to < before.length)) to++
    else from--
  }
}

const sizeOf = (rows: readonly Cell[][]): number => rows.reduce((sum, row) => sum + row.length, 0)

/** The rows before `from`, and those from `to` on, are as they were. */
function changedRows(cells: readonly Cell[], before: readonly Cell[][]): { from: number; to: number } {
  let [from, start, to, end] = [0, 0, before.length, cells.length]
  while (from < before.length && stands(before[from]!, cells, start)) start += before[from++]!.length
  while (to > from && stands(before[to - 1]!, cells, end - before[to - 1]!.length, start)) end -= before[--to]!.length
  return { from, to }
}
const stands = (row: readonly Cell[], cells: readonly Cell[], at: number, least = 0): boolean =>
  at >= least && at + row.length <= cells.length && row.every((cell, i) => cell === cells[at + i])

function broken({ cells, start, end, row: first, were }: Region, look: RowLook): Cell[][] {
  const own = cells.slice(start, end)
  if (own.length === 0) return []
  const headOf: RowHead = (row, last, line) => look.headOf(row + first, last ?? cells[start - 1], line)
  if (were === 1 && endOf(headOf(0, undefined, own), look) <= look.width) return [own]
  return breakEvenly(own, look.width, headOf, look.spacing)
}

const endOf = ({ start, cells }: ReturnType<RowHead>, { spacing }: RowLook): number => setRow(cells, start, spacing).end

type Side = "before" | "next"

/** Where the region parts what belongs together. */
function badSide({ cells, start, end }: Region): Side | undefined {
  if (start > 0 && start < cells.length && endsBadly(cells, start)) return "before"
  return end > 0 && end < cells.length && endsBadly(cells, end) ? "next" : undefined
}

/** From where a row that is too empty is to be filled. The last one of all may be. */
function emptySide(rows: readonly Cell[][], { cells, start, end, row, were }: Region, look: RowLook): Side | undefined {
  const isLast = end === cells.length
  const isEmpty = (own: Cell[], i: number): boolean => {
    if (isLast && i === rows.length - 1) return false
    const head = look.headOf(row + i, rows[i - 1]?.at(-1) ?? cells[start - 1], own)
    return endOf(head, look) < look.width * EMPTY
  }
  // put between two rows it goes to one of them
  const isBetween = were === 0 && rows.length > 0
  return isBetween || rows.some(isEmpty) ? (isLast ? "before" : "next") : undefined
}
