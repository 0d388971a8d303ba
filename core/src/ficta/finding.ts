/** What a rule has found, before it is told. */
import type { FictaNote } from "./notes.js"
import type { Change } from "./plan.js"
import { FICTA_GRADES, type FictaGrade, type FictaRule } from "./types.js"

export interface Finding {
  readonly rule: FictaRule
  readonly interval: string
  /** The note that gives way first. */
  readonly of: FictaNote
  readonly against: FictaNote | undefined
  /** Empty where nothing can be proposed. */
  readonly changes: readonly Change[]
  readonly grade: FictaGrade
  /** Why nothing is proposed, where it is not that no remedy was found. */
  readonly why?: string
}

/** What grades depend on. */
export interface Grading {
  /** Voices whose melody was there before the piece: they are the last to be altered. */
  readonly plainsong: ReadonlySet<number>
  /** A false fifth that resolves by step is sung as it stands. */
  readonly resolvesFreely: boolean
  /** Both upper voices are raised at a cadence. */
  readonly doubleLeading: boolean
  /** Leading notes are told of at all. */
  readonly leading: FictaGrade
}

/** One grade less; the least stays. */
export function lower(grade: FictaGrade): FictaGrade {
  return FICTA_GRADES[Math.min(FICTA_GRADES.length - 1, FICTA_GRADES.indexOf(grade) + 1)]!
}
