/** Color and talea as tables: statement under statement, a column for every place, marks where one differs. */
import {
  ABBREVIATIONS,
  toText,
  type Difference,
  type Page,
  type Reading,
  type Series,
  type SignId,
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

/** A place of the series, or room for a sign that only some statement has. */
interface Column {
  readonly head: string
  readonly sign: (statement: Statement) => SignId | null | undefined
}

/** Two lines for each statement, cut into blocks as wide as the terminal; then each difference in words. */
export function statementTable(page: Page, reading: Reading, series: Series, options: TableOptions): string[] {
  const width = Math.max(NARROWEST, options.columns ?? USUAL_WIDTH)
  const cells = new Cells(page, reading, series)
  const all = columnsOf(series)
  const widest = Math.max(3, ...all.flatMap(one => series.statements.flatMap(to => cells.of(one, to).map(wide))))
  const numbers = Math.max(2, String(reading.signs.length).length)
  const head = String(series.statements.length).length + numbers + 4
  const inBlock = Math.max(1, Math.floor((width - head) / (widest + 1)))
  const blocks = Array.from({ length: Math.ceil(all.length / inBlock) }, (_, at) =>
    all.slice(at * inBlock, (at + 1) * inBlock),
  )
  return [
    ...paragraph(titleOf(series), width).map(options.bold),
    ...blocks.flatMap((block, at) => [
      ...(at > 0 ? [""] : []),
      ...blockLines(block, series, cells, { head, numbers, widest }, options),
    ]),
    ...differenceLines(reading, series).flatMap(line => paragraph(line, width)),
  ]
}

const wide = (text: string) => [...text].length

function titleOf({ of, by, places, statements, doubt }: Series): string {
  const what = of === "color" ? "pitches" : "notes and rests"
  const how = by === "durations" ? ", compared by their durations" : ""
  const sure = doubtMark(doubt)
  return `${of === "color" ? "Color" : "Talea"}: ${places.length} ${what}, ${statements.length} statements${how}${sure}`
}

function columnsOf({ places, statements }: Series): Column[] {
  return places.flatMap((_, place) => {
    const extras = Math.max(0, ...statements.map(one => one.extra.filter(({ before }) => before === place).length))
    const room = Array.from({ length: extras }, (_, at): Column => {
      const sign = (one: Statement) => one.extra.filter(({ before }) => before === place)[at]?.sign
      return { head: "+", sign }
    })
    return [...room, { head: String(place + 1), sign: one => one.signs[place] }]
  })
}

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

  number(column: Column, statement: Statement): number | undefined {
    const id = column.sign(statement)
    return id ? this.readings.get(id)?.number : undefined
  }

  of(column: Column, statement: Statement): readonly [above: string, below: string] {
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
  block: readonly Column[],
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

/** One line for each difference; of two signs that only contradict each other, one line for both. */
function differenceLines(reading: Reading, series: Series): string[] {
  const numbers = new Map(reading.signs.map(sign => [sign.id, sign.number]))
  const nameOf = (sign: SignId) => `${plain(reading.label)} ${numbers.get(sign) ?? "?"}`
  const told = new Set<SignId>()
  return series.differences.flatMap(one => {
    if (!one.odd && one.fellows.length > 0 && one.fellows.every(fellow => told.has(fellow))) return []
    told.add(one.sign)
    return [`${MARK} ${placeOf(one, series, nameOf)}: ${whatDiffers(one, nameOf)}`]
  })
}

function placeOf(
  { statement, place, sign, kind }: Difference,
  series: Series,
  nameOf: (sign: SignId) => string,
): string {
  const name = kind === "missing" ? `after ${nameOf(sign)}` : nameOf(sign)
  return `${name} (${series.of} ${statement}, place ${place + 1})`
}

function whatDiffers({ kind, own, others, fellows, odd }: Difference, nameOf: (sign: SignId) => string): string {
  const who = odd
    ? "the others have"
    : `${fellows.slice(0, 3).map(nameOf).join(", ")} ${fellows.length > 1 ? "have" : "has"}`
  const open = odd ? "" : "; which of them is at fault cannot be told from this"
  if (kind === "missing") return `nothing stands where ${who} ${others}${open}`
  if (kind === "extra") return `a ${own} too many${odd ? "" : ", or one too few in the other statement"}`
  if (kind === "duration")
    return `it lasts ${own}, by the measure of ${odd ? "the others" : nameOf(fellows[0]!)} ${others}${open}`
  return `${own}, where ${who} ${others}${open}`
}
