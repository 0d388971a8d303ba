/** Tables in a book: cells broken to their columns, the names of the columns again on each page. */
import type { Line, Type } from "./flow.js"
import type { Sheets } from "./sheets.js"
import { TYPES } from "./style.js"

export interface Column {
  readonly name: string
  /** Part of the whole width. */
  readonly part: number
  readonly type: Type
}

const GAP = 10
const ROW_GAP = 4

/** A row that fits no page is broken, any other stays whole. */
export function writeTable(sheets: Sheets, columns: readonly Column[], rows: readonly (readonly string[])[]): void {
  const table = laid(sheets, columns)
  const next = () => {
    sheets.addPage()
    heads(sheets, table)
  }
  const whole = sheets.bottom - sheets.top - HEAD
  rows.forEach((row, r) => {
    const cells = row.map((text, i) => sheets.flow.lines(text, table[i]!.type, table[i]!.width))
    const height = Math.min(whole, Math.max(...cells.map(lines => lines.length)) * LEADING)
    if (r === 0) {
      sheets.ensure(height + HEAD)
      heads(sheets, table)
    } else if (sheets.room < height) next()
    writeRow(sheets, table, cells, next)
    sheets.y += ROW_GAP
  })
  sheets.y += 6
}

const LEADING = TYPES.table.leading
/** Names of the columns with the line under them. */
const HEAD = LEADING + 6

interface LaidColumn extends Column {
  readonly x: number
  readonly width: number
}
function laid(sheets: Sheets, columns: readonly Column[]): LaidColumn[] {
  const whole = columns.reduce((sum, { part }) => sum + part, 0)
  let x = sheets.left
  return columns.map(column => {
    const full = (column.part / whole) * sheets.width
    const own = { ...column, x, width: full - GAP }
    x += full
    return own
  })
}

function heads(sheets: Sheets, table: readonly LaidColumn[]): void {
  const y = sheets.y + LEADING * 0.76
  sheets.artifact(() => {
    for (const { name, x, width } of table) sheets.flow.write(sheets.flow.lines(name, TYPES.tableHead, width)[0]!, x, y)
  })
  sheets.rule(sheets.y + LEADING + 2)
  sheets.y += HEAD
}

function writeRow(
  sheets: Sheets,
  table: readonly LaidColumn[],
  cells: readonly (readonly Line[])[],
  nextPage: () => void,
): void {
  const count = Math.max(...cells.map(lines => lines.length))
  const draw = (from: number, to: number) => {
    const y = sheets.y + LEADING * 0.76
    cells.forEach((lines, c) => {
      lines.slice(from, to).forEach((line, i) => sheets.flow.write(line, table[c]!.x, y + i * LEADING))
    })
  }
  sheets.runs("P", count, LEADING, draw, nextPage)
}
