/** Whether the voices meet, in a sentence. */
import type { Fit } from "./types.js"

const UNITS = { minima: "minims", tempus: "tempora" } as const

/** "The voices meet at their finals.", or how long each lasts and where they have parted. */
export function fitSentence({ together, durations, firstParting, unit, finalsMeet }: Fit): string {
  if (together) return "The voices meet at their finals."
  if (finalsMeet)
    return `The voices meet at their finals, but not at a sign before where they should; they have parted by ${firstParting?.onset}.`
  const parting = firstParting ? `; they have parted by ${firstParting.onset}` : ""
  return `The voices do not meet: with their finals they last ${durations.join(", ")} ${UNITS[unit]}${parting}.`
}
