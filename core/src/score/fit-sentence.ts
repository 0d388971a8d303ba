/** Whether the voices meet, in a sentence. */
import type { Fit } from "./types.js"

const UNITS = { minima: "minims", tempus: "tempora" } as const

/** "The voices meet at their finals.", or how long each lasts and where they have parted. */
export function fitSentence({ together, durations, firstParting, unit, finalsMeet }: Fit): string {
  if (together) return "The voices meet at their finals."
  if (finalsMeet)
    return `The voices meet at their finals, but not at an earlier place where they should: by ${firstParting?.onset} they have parted.`
  const parting = firstParting ? `; by ${firstParting.onset} they have parted` : ""
  return `The voices do not meet: with their finals they last ${listed(durations)} ${UNITS[unit]}${parting}.`
}

/** "67, 68 and 67" */
const listed = (texts: readonly string[]): string =>
  texts.length > 1 ? `${texts.slice(0, -1).join(", ")} and ${texts.at(-1)}` : (texts[0] ?? "")
