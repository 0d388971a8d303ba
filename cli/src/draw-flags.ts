/** What `resolutio draw` takes, and the numbers among it. */
import type { Problem, Result } from "@resolutio/core"
import type { OutputFlags } from "./output.js"
import type { ReadingFlags } from "./reading.js"

export interface DrawFlags extends ReadingFlags, OutputFlags {
  readonly view: string
  readonly theme: string
  readonly width?: string
  readonly space?: string
  readonly voices: "apart" | "under"
  readonly spacing: "shape" | "even"
  readonly lines: "source" | "fit"
  readonly staff?: "red" | "black" | "grey"
  readonly outlines?: boolean
  readonly compact?: boolean
  /** False after --no-words. */
  readonly words?: boolean
  readonly from?: string
  readonly to?: string
  readonly select?: string
  readonly height?: string
}

/** The least and the most that a measure may be. */
export interface MeasureRange {
  readonly from: number
  readonly to: number
  /** What it counts: "px in the width of the picture". */
  readonly what: string
}
export const WIDTHS = { from: 300, to: 8000, what: "px in the width of the picture" }
export const SPACES = { from: 4, to: 200, what: "px in a staff space" }

export function measure(place: string, text: string | undefined, range: MeasureRange): Result<number | undefined> {
  const value = text === undefined ? undefined : Number(text)
  const { from, to, what } = range
  if (value === undefined || (value >= from && value <= to)) return { ok: true, value, problems: [] }
  const problem: Problem = {
    code: "bad-measure",
    what: `“${text}” cannot be drawn: it is to be the number of ${what}.`,
    where: { place },
    mend: `Write a number from ${from} to ${to}.`,
    severity: "error",
  }
  return { ok: false, problems: [problem] }
}
