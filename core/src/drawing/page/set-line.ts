/** Cells in a row: where each stands so that neither signs nor syllables meet, and how a line is filled. */
import type { Cell } from "./cells.js"
import type { Word } from "./words.js"

/** A cell and where its zero stands in the line, in staff spaces. */
export interface SetCell {
  readonly cell: Cell
  readonly x: number
}

export type Spacing = "shape" | "even"
/** With even spacing: from the left edge of one note or rest to that of the next. */
const EVEN_STEP = 3
/** Least ground between two signs. */
const LEAST = 0.35
const NEAREST = 0.1
/** Least ground between two words, and between the syllables of one, where a hyphen has to go. */
const WORD_GAP = 0.8
const SYLLABLE_GAP = 0.66

/** Sets cells one after another; asks of each only what stands before it. */
export class Row {
  readonly #isEven: boolean
  /** Right edge of the last sign with its ground. */
  #edge: number
  #right: number
  #lastLeft = -Infinity
  /** Where the next word of each stanza may begin; the first stanza is asked for most. */
  #firstEnd: number | undefined
  readonly #laterEnds = new Map<number, number>()
  #textEnd = -Infinity

  constructor(start: number, spacing: Spacing) {
    this.#edge = start
    this.#right = start
    this.#isEven = spacing === "even"
  }

  /** Where the cell's zero would stand at the earliest. */
  place(cell: Cell): number {
    const { box, body, words } = cell
    const { before } = cell.gaps
    // what clings to a note keeps clear of anything else that it may stand behind
    let x = (before < 0 ? Math.max(this.#edge + before, this.#right + NEAREST) : this.#edge + before) - box.left
    if (this.#isEven && isFigure(cell) && this.#lastLeft > -Infinity)
      x = Math.max(this.#right + LEAST - box.left, this.#lastLeft + EVEN_STEP - body.left)
    for (let i = 0; i < words.length; i++) {
      const word = words[i]!
      const end = word.stanza === 1 ? this.#firstEnd : this.#laterEnds.get(word.stanza)
      if (end !== undefined) x = Math.max(x, end - word.x)
    }
    return x
  }

  /** Takes the cell in with its zero at x, which is no earlier than its place. */
  take(cell: Cell, x: number): void {
    const { box, body, words } = cell
    this.#right = Math.max(this.#right, x + box.right)
    this.#edge = x + box.right + cell.gaps.after
    if (isFigure(cell)) this.#lastLeft = x + body.left
    for (let i = 0; i < words.length; i++) {
      const word = words[i]!
      const end = x + word.x + word.width + gapAfter(word)
      if (word.stanza === 1) this.#firstEnd = end
      else this.#laterEnds.set(word.stanza, end)
      this.#textEnd = Math.max(this.#textEnd, end)
    }
  }

  /** Right end of everything taken so far, syllables too. */
  get end(): number {
    return Math.max(this.#right, this.#textEnd - WORD_GAP)
  }
}

export const isFigure = ({ kind }: Cell): boolean => kind === "note" || kind === "rest" || kind === "ligature"
const gapAfter = ({ join }: Word): number => (join === "-" ? SYLLABLE_GAP : WORD_GAP)

/** Rows are made at most so much shorter than the width, where that makes the last one longer and their number stays. */
export const SHORTEST = 0.78

/** Where a row begins, and its cells with what is repeated at its head: row number, the cell before it, and its own cells. */
export type RowHead = (
  row: number,
  before: Cell | undefined,
  own: readonly Cell[],
) => { readonly start: number; readonly cells: readonly Cell[] }

/** As `breakToFit`, but with the rows as even in length as their number allows. */
export function breakEvenly(cells: readonly Cell[], width: number, headOf: RowHead, spacing: Spacing): Cell[][] {
  const full = breakToFit(cells, width, headOf, spacing)
  if (full.length < 2 || !Number.isFinite(width)) return full
  let [rows, low, high] = [full, width * SHORTEST, width]
  for (let turn = 0; turn < 5; turn++) {
    const middle = (low + high) / 2
    const tried = breakToFit(cells, middle, headOf, spacing)
    if (tried.length > full.length) low = middle
    else [rows, high] = [tried, middle]
  }
  return rows
}

/** All cells in one row from `start` on. */
export function setRow(cells: readonly Cell[], start: number, spacing: Spacing): { row: SetCell[]; end: number } {
  const row = new Row(start, spacing)
  const set = cells.map(cell => {
    const x = row.place(cell)
    row.take(cell, x)
    return { cell, x }
  })
  return { row: set, end: row.end }
}

/** Cells in as many rows as a width asks for. */
export function breakToFit(cells: readonly Cell[], width: number, headOf: RowHead, spacing: Spacing): Cell[][] {
  const rows: Cell[][] = []
  const begin = (own: readonly Cell[]): Row => {
    const { start, cells: all } = headOf(rows.length, rows.at(-1)?.at(-1), own)
    const row = new Row(start, spacing)
    for (const one of all) row.take(one, row.place(one))
    return row
  }
  let current: Cell[] = []
  let row: Row | undefined
  for (const cell of cells) {
    current.push(cell)
    if (row) row.take(cell, row.place(cell))
    else row = begin(current)
    while (row.end > width) {
      const over = [overhang(current), overhang(current, true)].find(count => count < current.length)
      if (over === undefined) break
      rows.push(current.slice(0, -over))
      current = current.slice(-over)
      row = begin(current)
    }
  }
  if (current.length > 0) rows.push(current)
  return rows
}

/** What says something of the next note does not end a line. */
const OPENS: ReadonlySet<Cell["kind"]> = new Set([
  "accidental",
  "mark",
  "clef",
  "signature",
  "mensuration",
  "proportion",
] as const)

/** A custos, or a stroke, ends what stands before it: it does not begin a line. */
const closes = ({ kind }: Cell): boolean => kind === "custos" || kind === "stroke"

/**
 * How many cells at the end go to the next row together: what clings to a note or ends a group goes with it, as does what opens
 * a note, unless a row is filled with nothing else.
 */
function overhang(cells: readonly Cell[], opening = false): number {
  let count = 1
  while (count < cells.length) {
    const first = cells[cells.length - count]!
    const before = cells[cells.length - count - 1]!
    if (!first.gaps.clings && !closes(first) && (opening || !OPENS.has(before.kind))) return count
    count++
  }
  return cells.length
}

/** Whether a row that ends before the cell at `at` would part what belongs together. */
export const endsBadly = (cells: readonly Cell[], at: number): boolean =>
  cells[at]!.gaps.clings || closes(cells[at]!) || OPENS.has(cells[at - 1]!.kind)

/** Clef, signature and sign stand together however wide a line becomes. */
const HEAD: ReadonlySet<Cell["kind"]> = new Set(["clef", "signature", "mensuration", "proportion"] as const)
export const isHead = ({ kind }: Cell): boolean => HEAD.has(kind)

/** How much of what a line lacks goes between these two. */
function stretchOf(before: Cell, cell: Cell): number {
  if (cell.gaps.clings || (isHead(before) && isHead(cell))) return 0
  return isFigure(before) ? 1 : 0.4
}

/** Staff spaces that a gap is widened by at the most: a line of few signs is rather left short than torn apart. */
const WIDENED = 4

/** Shares what a line lacks among its gaps, so that it ends at `width`. A custos at the end stands at the very end. */
export function justified(row: readonly SetCell[], end: number, width: number, full: boolean): readonly SetCell[] {
  const spare = width - end
  const last = row.at(-1)
  const isCustos = last?.cell.kind === "custos" && spare > 0
  let sum = 0
  for (let i = 1; i < row.length; i++) sum += stretchOf(row[i - 1]!.cell, row[i]!.cell)
  const fill = full && spare > 0 ? Math.min(spare, sum * WIDENED) : 0
  if (fill === 0 && !isCustos) return row
  let shift = 0
  const spread: SetCell[] = []
  for (let i = 0; i < row.length; i++) {
    const { cell, x } = row[i]!
    if (i > 0 && sum > 0) shift += (fill * stretchOf(row[i - 1]!.cell, cell)) / sum
    spread.push({ cell, x: x + shift })
  }
  if (isCustos) spread[spread.length - 1] = { cell: last.cell, x: width - last.cell.box.right }
  return spread
}
