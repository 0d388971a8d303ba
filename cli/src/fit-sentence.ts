/** Whether the voices meet, in a sentence. */
import type { Fit } from "@resolutio/core"
import { UNITS } from "./table.js"

export function fitSentence({ together, durations, firstParting, unit }: Fit): string {
  if (together) return "The voices meet at their finals."
  const parting = firstParting ? `; they have parted by ${firstParting.onset}` : ""
  return `The voices do not meet: with their finals they last ${durations.join(", ")} ${UNITS[unit]}${parting}.`
}
