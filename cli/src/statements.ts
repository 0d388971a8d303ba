/** Color and talea as tables: statement under statement, a column for every place, marks where one differs. */
import {
  ABBREVIATIONS,
  differencesInWords,
  seriesColumns,
  seriesInWords,
  toText,
  type Page,
  type Reading,
  type Series,
  type SignId,
  type SeriesColumn,
  type SignReading,
  type Statement,
} from "@resolutio/core"
import { paragraph } from "./layout.js"
import type { TableOptions } from "./printer.js"
import { plain } from "./shell.js"
import { doubtMark } from "./table.js"
import { writtenSigns } from "./written.js"

/** Without a terminal: what a page or a slide takes. */
const USUAL_WIDTH = 80
const NARROWEST = 30
/** Stands where a sign is missing. */
const GAP = "-"
const MARK = "*"

/** Two lines for each statement, cut into blocks as wide as the terminal; then each difference in words. */
export function statementTable(page: Page, reading: Reading, series: Series, options: TableOptions): string[] {
  const width = Math.max(NARROWEST, options.columns ?? USUAL_WIDTH)
  const cells = new Cells(page, reading, series)
  const all = seriesColumns(series)
  const widest = Math.max(3, ...all.flatMap(one => series.statements.flatMap(to => cells.of(one, to).map(wide))))
  const numbers = Math.max(2, String(reading.signs.length).length)
  const head = String(series.statements.length).length + numbers + 4
  const inBlock = Math.max(1, Math.floor((width - head) / (widest + 1)))
  const blocks = Array.from({ length: Math.ceil(all.length / inBlock) }, (_, at) =>
    all.slice(at * inBlock, (at + 1) * inBlock),
  )
  return [
    ...paragraph(`${seriesInWords(series)}${doubtMark(series.doubt)}`, width).map(options.bold),
    ...blocks.flatMap((block, at) => [
      ...(at > 0 ? [""] : []),
      ...blockLines(block, series, cells, { head, numbers, widest }, options),
    ]),
    ...differencesInWords(reading, series).flatMap(({ text }) => paragraph(`${MARK} ${plain(text)}`, width)),
  ]
}

const wide = (text: string) => [...text].length

/** What stands in the two lines of a statement. */
class Cells {
  private readonly readings: ReadonlyMap<SignId, SignReading>
  private readonly written: ReadonlyMap<SignId, string>
  private readonly marks = new Map<SignId, Set<string>>()
  private readonly missing = new Set<string>()

  constructor(
    page: Page,
    reading: Reading,
    private readonly series: Series,
  ) {
    this.readings = new Map(reading.signs.map(sign => [sign.id, sign]))
    this.written = writtenSigns(page, reading)
    for (const { sign, kind, statement, place } of series.differences) {
      if (kind === "missing") this.missing.add(`${statement} ${place}`)
      else this.marks.set(sign, (this.marks.get(sign) ?? new Set()).add(kind === "duration" ? "below" : "above"))
    }
  }

  number(column: SeriesColumn, statement: Statement): number | undefined {
    const id = column.sign(statement)
    return id ? this.readings.get(id)?.number : undefined
  }

  of(column: SeriesColumn, statement: Statement): readonly [above: string, below: string] {
    const id = column.sign(statement)
    if (id === null)
      return [`${GAP}${this.missing.has(`${statement.number} ${Number(column.head) - 1}`) ? MARK : ""}`, ""]
    const sign = id === undefined ? undefined : this.readings.get(id)
    if (!sign) return ["", ""]
    const marks = this.marks.get(sign.id)
    const mark = (line: string) => (marks?.has(line) ? MARK : "")
    const level = this.levelOf(sign)
    if (this.series.of === "color") return [`${sign.pitch ?? ""}${mark("above")}`, level]
    const byDuration = this.series.by === "durations"
    return [
      `${level}${byDuration ? "" : mark("above")}`,
      `${toText(sign.duration)}${mark(byDuration ? "above" : "below")}`,
    ]
  }

  /** As in the shorthand, its dot with it; whether it stands in a ligature does not matter here. */
  private levelOf(sign: SignReading): string {
    const level = sign.level ? ABBREVIATIONS[sign.level] : "?"
    if (sign.kind === "rest") return `r${level}`
    const coloured = this.series.differences.some(one => one.kind === "coloration" && one.sign === sign.id)
    return `${level}${this.written.get(sign.id)?.replace("]", "").endsWith(".") ? "." : ""}${coloured ? "c" : ""}`
  }
}

interface Widths {
  readonly head: number
  readonly numbers: number
  readonly widest: number
}

function blockLines(
  block: readonly SeriesColumn[],
  { statements }: Series,
  cells: Cells,
  { head, numbers, widest }: Widths,
  { dim }: TableOptions,
): string[] {
  const row = (start: string, texts: readonly string[]) =>
    `${start.padEnd(head)}${texts.map(text => text + " ".repeat(Math.max(0, widest - wide(text)))).join(" ")}`.trimEnd()
  const lines = statements.flatMap(statement => {
    const texts = block.map(column => cells.of(column, statement))
    if (texts.every(([above]) => above === "")) return []
    const first = block.map(column => cells.number(column, statement)).find(one => one !== undefined)
    const start = `${String(statement.number).padStart(head - numbers - 4)}  ${String(first ?? "").padStart(numbers)}`
    return [
      row(
        start,
        texts.map(([above]) => above),
      ),
      dim(
        row(
          "",
          texts.map(([, below]) => below),
        ),
      ),
    ]
  })
  return [
    dim(
      row(
        "",
        block.map(column => column.head),
      ),
    ),
    ...lines,
  ]
}
