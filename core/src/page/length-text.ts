/** Durations with the unit in which a voice is counted. */
import { toText, type Rational } from "../base/index.js"

/** What the durations of a voice are counted in. */
export type LengthUnit = "minima" | "tempus"

/** "minim", "minims", "tempus", "tempora": as so many are called. */
export function unitText(unit: LengthUnit, { num, den }: Rational): string {
  const one = num <= den
  if (unit === "minima") return one ? "minim" : "minims"
  return one ? "tempus" : "tempora"
}

/** "6 minims", "3/2 tempora", "6 or 4 minims"; without a unit the numbers alone. */
export function lengthsText(durations: readonly Rational[], unit?: LengthUnit): string {
  const numbers = durations.map(toText).join(" or ")
  return unit === undefined || durations.length === 0 ? numbers : `${numbers} ${unitText(unit, durations.at(-1)!)}`
}
