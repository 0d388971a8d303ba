/** In how many each level divides. */
import type { MensurationSpan, Unit } from "./types.js"

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
