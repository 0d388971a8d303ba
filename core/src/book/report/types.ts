/** A line of a critical report as data. */
import type { SignId } from "../../base/index.js"
import type { Level } from "../../page/index.js"

/** What lines there are, in the order of a report. */
export const REPORT_KINDS = [
  "emendation",
  "supplied",
  "found",
  "unclear",
  "reading",
  "decision",
  "open",
  "parting",
] as const
/**
 * "emendation": the source has something else. "supplied": it has nothing there. "found": it has no sign of mensuration, and the
 * voice is read by what was found. "unclear": it is hard to read. "reading": another
 * source or hand has something else. "decision": an editor chose how it is read. "open": it could be read otherwise. "parting":
 * the voices do not meet, or the reading met something it could not explain.
 */
export type ReportKind = (typeof REPORT_KINDS)[number]

export interface ReportEntry {
  readonly kind: ReportKind
  /** Of the score: "12", "12–14"; "" where there is none. */
  readonly bar: string
  /** Label of the voice; "" where it speaks of all. */
  readonly voice: string
  /** Among the notes and rests of the voice: "12", "12–15", "after 12". */
  readonly number: string
  /** On the page: "f. 3v, staff 2, sign 7". */
  readonly place: string
  /** Of the first sign that it speaks of. */
  readonly sign: SignId | null
  /** What the source has there. */
  readonly source: string
  /** What stands in this edition, or what it was read as. */
  readonly edition: string
  /** One or several sentences, or as the file has it; "" where nothing is said. */
  readonly why: string
  /** A name as the file gives it; "" where nobody is named. */
  readonly who: string
  /** Of an open reading: twice the estimated chance that it is wrong. */
  readonly doubt?: number
}

/** What the reading takes the notes of a drawn ligature for. */
export type LevelOf = (id: SignId) => Level | null | undefined
