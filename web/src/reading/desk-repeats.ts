/** Color and talea of a voice, statement under statement, as they are told. Loaded when they are first asked for. */
import {
  ABBREVIATIONS,
  chooseTenor,
  countText,
  differencesInWords,
  findRepetition,
  planOf,
  seriesColumns,
  seriesInWords,
  type Page,
  type Reading,
  type Series,
  type SignId,
  type Statement,
  type VoiceId,
} from "@resolutio/core"
import { entryOf } from "./tell.js"
import type { CellTold, RepeatsTold, SeriesTold } from "./told-chapters.js"

/** Of the voice asked for; without one, of the tenor. Undefined where there is no voice. */
export function repeatsOf(page: Page, readings: readonly Reading[], voice?: VoiceId): RepeatsTold | undefined {
  const reading = readings.find(one => one.voice === voice) ?? chooseTenor(page, readings)
  if (!reading) return undefined
  const repetition = findRepetition(page, reading)
  return {
    voice: reading.voice,
    label: reading.label || reading.n,
    plan: planOf(repetition),
    series: [...repetition.colores, ...repetition.taleae].map(one => seriesOf(reading, one)),
  }
}

function seriesOf(reading: Reading, series: Series): SeriesTold {
  const columns = seriesColumns(series)
  const odd = new Set(series.differences.filter(one => one.kind !== "missing").map(one => one.sign))
  const gaps = new Set(
    series.differences.filter(one => one.kind === "missing").map(one => `${one.statement} ${one.place}`),
  )
  return {
    words: seriesInWords(series),
    doubt: series.doubt,
    head: columns.map(one => one.head),
    rows: series.statements.map(statement => ({
      number: statement.number,
      cells: columns.map(column => cellOf(reading, series, statement, column.sign(statement), odd, gaps, column.head)),
    })),
    differences: differencesInWords(reading, series),
  }
}

function cellOf(
  reading: Reading,
  { of }: Series,
  { number }: Statement,
  sign: SignId | null | undefined,
  odd: ReadonlySet<SignId>,
  gaps: ReadonlySet<string>,
  head: string,
): CellTold {
  if (sign === null) return { above: "–", below: "", differs: gaps.has(`${number} ${Number(head) - 1}`) }
  const entry = sign === undefined ? undefined : entryOf(reading, sign)
  if (!entry) return { above: "", below: "", differs: false }
  const level = `${entry.kind === "rest" ? "r" : ""}${entry.level ? ABBREVIATIONS[entry.level] : "?"}`
  const [above, below] = of === "color" ? [entry.pitch ?? "", level] : [level, countText(entry.duration)]
  return { sign: entry.id, above, below, differs: odd.has(entry.id) }
}
