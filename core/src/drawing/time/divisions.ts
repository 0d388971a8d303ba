/** In how many each level divides, and what it lasts whole. */
import { times, type Rational } from "../../base/index.js"
import type { MensurationSpan, SignReading, Unit } from "../../reading/index.js"

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

export interface Division {
  readonly level: "semibrevis" | "brevis" | "longa" | "maxima"
  readonly parts: 2 | 3
}
/** From the smallest level that holds more than one of the unit. */
export function divisionsOf({ prolatio, tempus, modusMinor, modusMaior }: MensurationSpan, unit: Unit): Division[] {
  const minims: Division[] =
    unit === "tempus"
      ? []
      : [
          { level: "semibrevis", parts: prolatio ?? 2 },
          { level: "brevis", parts: tempus ?? 2 },
        ]
  return [
    ...minims,
    { level: "longa", parts: modusMinor ?? (unit === "tempus" ? 3 : 2) },
    { level: "maxima", parts: modusMaior ?? 2 },
  ]
}
