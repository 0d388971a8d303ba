/** Files that can be made of a piece, by the same code as the command line's. */
import {
  alignVoices,
  csvCannotCarry,
  drawPage,
  fitOf,
  drawTime,
  midiCannotCarry,
  modernMei,
  modernMeiCannotCarry,
  musicXmlCannotCarry,
  newMei,
  printShorthand,
  readMei,
  readingJson,
  readingsCsv,
  readTogether,
  toSvg,
  USUAL_CONVENTIONS,
  withPage,
  writeMei,
  writeMidi,
  writeMusicXml,
  type Page,
  type Reading,
  type Score,
} from "@resolutio/core"
import type { FormatName } from "./formats-offered.js"

export interface Piece {
  readonly page: Page
  /** Text of the MEI file that it came from. */
  readonly mei?: string
}
interface Known extends Piece {
  readonly readings: readonly Reading[]
  readonly score: Score
}
export interface Made {
  readonly content: string | Uint8Array
  /** What the file cannot carry, in sentences. */
  readonly losses: readonly string[]
}
interface Format {
  readonly make: (piece: Known) => string | Uint8Array
  readonly losses?: (piece: Known) => string[]
}

const mei = ({ page, mei: text }: Piece): string => {
  const read = text === undefined ? undefined : readMei(text)
  return read?.ok ? writeMei(withPage(read.value, page)) : newMei(page)
}

const MAKERS = {
  mei: { make: mei },
  figurae: { make: ({ page }) => printShorthand(page) },
  musicxml: {
    make: ({ score }) => writeMusicXml(score, USUAL_CONVENTIONS),
    losses: ({ score }) => musicXmlCannotCarry(score, USUAL_CONVENTIONS),
  },
  modern: {
    make: ({ score }) => modernMei(score, USUAL_CONVENTIONS),
    losses: ({ score }) => modernMeiCannotCarry(score, USUAL_CONVENTIONS),
  },
  midi: { make: ({ score }) => writeMidi(score), losses: ({ score }) => midiCannotCarry(score) },
  csv: {
    make: ({ readings }) => readingsCsv(readings),
    losses: ({ page, readings }) => csvCannotCarry(page, readings),
  },
  json: { make: ({ page, readings }) => `${JSON.stringify(readingJson(page, readings, fitOf(readings)), null, 2)}\n` },
  pageSvg: { make: ({ page }) => toSvg(drawPage(page)) },
  timeSvg: {
    make: ({ page, readings, score }) => toSvg(drawTime({ page, readings, score })),
  },
} as const satisfies Record<FormatName, Format>

/** Makes the file. Throws where the piece has none, with a sentence. */
export function makeFile(name: FormatName, piece: Piece): Made {
  const { readings } = readTogether(piece.page)
  const known: Known = { ...piece, readings, score: alignVoices(piece.page, readings) }
  const format: Format = MAKERS[name]
  return { content: format.make(known), losses: format.losses?.(known) ?? [] }
}
