/** Readings as a table for spreadsheets: comma-separated values by RFC 4180, a line for each sign. */
import { times, toNumber, toText, type Rational } from "../../base/index.js"
import { explainShort, type Reading, type SignReading } from "../../reading/index.js"
import { modernName, unitInWholes } from "../../score/index.js"
import { csvText, rounded } from "../csv-text.js"
import { placesOf } from "../places.js"

export const CSV_COLUMNS = [
  "place",
  "id",
  "level",
  "pitch",
  "onset",
  "duration",
  "modern value",
  "quality",
  "rule",
  "decided by",
  "doubt",
  "explanation",
  "kind",
  "unit",
  "onset as number",
  "duration as number",
  "plica share",
  "plica pitch",
] as const

export interface CsvOptions {
  /** Stands in a first column. */
  readonly file?: string
  /** False leaves the names of the columns out. */
  readonly head?: boolean
  /** Of modern values: 4 for 1:4. Without it the usual one of each practice. */
  readonly reduction?: number
}

/** Lines end in CR LF, the last one too. */
export function readingsCsv(readings: readonly Reading[], { file, head = true, reduction }: CsvOptions = {}): string {
  const rows = readings.flatMap(reading => rowsOf(reading, reduction))
  const named = head ? [[...CSV_COLUMNS], ...rows] : rows
  const filed = named.map((row, i) => (file === undefined ? row : [head && i === 0 ? "file" : file, ...row]))
  return csvText(filed)
}

function rowsOf(reading: Reading, reduction: number | undefined): string[][] {
  const inWholes = unitInWholes(reading.practice.name, reading.unit, reduction)
  const places = placesOf(reading)
  return reading.signs.map((sign, i) => rowOf(reading, sign, places[i]!, inWholes))
}

/** `inWholes`: what a unit becomes in modern values. */
function rowOf(reading: Reading, sign: SignReading, place: string, inWholes: Rational): string[] {
  const lasts = sign.kind === "note" || sign.kind === "rest"
  return [
    place,
    sign.id,
    sign.level ?? "",
    sign.pitch ?? "",
    toText(sign.onset),
    toText(sign.duration),
    lasts ? modernName(times(sign.duration, inWholes)) : "",
    sign.quality ?? "",
    sign.rule,
    sign.decidedBy,
    rounded(sign.doubt),
    explainShort(reading, sign),
    sign.kind,
    reading.unit,
    rounded(toNumber(sign.onset)),
    rounded(toNumber(sign.duration)),
    ...plicaOf(sign),
  ]
}

/** What it takes of the note's time, "open" where the reading does not say, and its own pitch. */
function plicaOf({ plica }: SignReading): [share: string, pitch: string] {
  return plica ? [plica.duration ? toText(plica.duration) : "open", plica.pitch ?? ""] : ["", ""]
}
