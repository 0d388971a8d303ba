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

interface Whole {
  readonly whole: Rational | undefined
  readonly parts: 2 | 3 | undefined
}
const NO_WHOLE: Whole = { whole: undefined, parts: undefined }
const wholes = new WeakMap<TimedSpan, Map<string, Whole>>()

/** What a level lasts where nothing acts on it, and in how many it divides; in the thirteenth century up to the long. */
export function wholeOf({ level }: SignReading, unit: Unit, timed: TimedSpan | undefined): Whole {
  if (!timed || level === null) return NO_WHOLE
  let known = wholes.get(timed)
  if (known === undefined) wholes.set(timed, (known = new Map()))
  let whole = known.get(level)
  if (whole === undefined) known.set(level, (whole = reckoned(level, unit, timed)))
  return whole
}

function reckoned(level: string, unit: Unit, timed: TimedSpan): Whole {
  const divisions = divisionsOf(timed.span, unit)
  const at = divisions.findIndex(one => one.level === level)
  if (at < 0) return NO_WHOLE
  const whole = divisions.slice(0, at + 1).reduce((size, { parts }) => size * parts, 1)
  return { whole: times({ num: whole, den: 1 }, timed.scale), parts: divisions[at]!.parts }
}
