/** In how many each level divides, and what it lasts whole. */
import { times, type Rational } from "../../base/index.js"
import { divisionsOf, type MensurationSpan, type SignReading, type Unit } from "../../reading/index.js"

export interface TimedSpan {
  readonly span: MensurationSpan
  readonly at: number
  readonly unit: Unit
  /** One unit of the voice in the score's, under the proportion in force. */
  readonly scale: Rational
}

/** What a level lasts where nothing acts on it, and in how many it divides; in the thirteenth century up to the long. */
export function wholeOf(
  { level }: SignReading,
  unit: Unit,
  timed: TimedSpan | undefined,
): { whole?: Rational; parts?: 2 | 3 } {
  if (!timed || level === null) return {}
  const divisions = divisionsOf(timed.span, unit)
  const at = divisions.findIndex(one => one.level === level)
  if (at < 0) return {}
  const whole = divisions.slice(0, at + 1).reduce((size, { parts }) => size * parts, 1)
  return { whole: times({ num: whole, den: 1 }, timed.scale), parts: divisions[at]!.parts }
}
