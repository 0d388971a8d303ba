/** The critical report: everything that stands in an edition otherwise than in its source, or could stand otherwise. */
import type { Problem, SignId } from "../../base/index.js"
import type { Level, Page } from "../../page/index.js"
import type { Reading } from "../../reading/index.js"
import { notate, type NotatedScore, type Score, type ValueOptions } from "../../score/index.js"
import { decisionLines, foundLines, openLines, readOf } from "./decided.js"
import { fileLines, type Drafted } from "./emendations.js"
import { REPORT_KINDS, type ReportEntry } from "./types.js"
import { whereIn } from "./where.js"

export interface ReportInput {
  readonly page: Page
  readonly readings: readonly Reading[]
  readonly score: Score
}
export interface ReportOptions extends ValueOptions {
  /** Doubt from which on a reading counts as open: 0.2 without it, which is one chance in ten that it is wrong. */
  readonly doubtFrom?: number
}
export const DOUBT_FROM = 0.2

/** Kind by kind, and within a kind by bar, voice and place. */
export function criticalReport(input: ReportInput, options: ReportOptions = {}): ReportEntry[] {
  return reportOn(input, notate(input.score, options), options.doubtFrom ?? DOUBT_FROM)
}

/** The same where the notated score is at hand already. */
export function reportOn(
  { page, readings, score }: ReportInput,
  notated: NotatedScore,
  doubtFrom: number,
): ReportEntry[] {
  const read = readOf(readings)
  const levelOf = (id: SignId): Level | null | undefined => read.get(id)?.sign.level
  const where = whereIn(page, notated)
  const drafted = [
    ...fileLines(page, levelOf),
    ...foundLines(page, readings),
    ...decisionLines(page, read, levelOf),
    ...openLines(page, readings, doubtFrom, levelOf),
    ...partings([...readings.flatMap(one => one.problems), ...score.problems]),
  ]
  const placed = drafted.map(({ signs, entry, voice }) => {
    const { order, ...at } = where(signs)
    const named = at.voice === "" && voice !== undefined ? { ...at, voice } : at
    return {
      order: [REPORT_KINDS.indexOf(entry.kind), ...order],
      entry: { ...entry, ...named, sign: signs[0] ?? null },
    }
  })
  return placed.sort((a, b) => inOrder(a.order, b.order)).map(({ entry }) => entry)
}

function inOrder(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i]! < b[i]! ? -1 : 1
  return 0
}

function partings(problems: readonly Problem[]): Drafted[] {
  return problems.map(({ what, where }) => ({
    signs: where?.sign === undefined ? [] : [where.sign as SignId],
    entry: { kind: "parting", source: "", edition: "", why: what, who: "" },
  }))
}
