/** Whether the voices meet, in a sentence. */
import type { Fit, MissedPlace } from "./types.js"

const UNITS = { minima: "minims", tempus: "tempora" } as const
const ONE = { minima: "minim", tempus: "tempus" } as const

/** "The voices meet at their finals.", or how long each lasts and where they have parted. */
export function fitSentence({ together, durations, firstParting, unit, finals, finalsMeet, missed }: Fit): string {
  if (together)
    return durations.every(text => text === "0") ? "Nothing is sung yet." : "The voices meet at their finals."
  if (finalsMeet && missed) return `The voices meet at their finals, but not ${missedText(missed, unit)}.`
  const parting = firstParting ? `; by ${firstParting.onset} they have parted` : ""
  return `The voices do not meet: up to their finals they last ${listed(finals ?? durations)} ${UNITS[unit]}${parting}.`
}

/** "at signum congruentiae 2: cantus has it at minim 12, altus and tenor at minim 8" */
function missedText({ kind, number, voices }: MissedPlace, unit: Fit["unit"]): string {
  const times = [...new Set(voices.map(({ onset }) => onset))]
  const labels = times.map(time => voices.filter(({ onset }) => onset === time).map(({ label }) => label))
  const verb = labels[0]!.length > 1 ? "have" : "has"
  const where = kind === "signum" ? "at signum congruentiae" : "before the end of section"
  const what = kind === "signum" ? `${verb} it` : `${verb} its last note`
  const told = times.map((time, i) => `${listed(labels[i]!)} ${i === 0 ? `${what} ` : ""}at ${ONE[unit]} ${time}`)
  return `${where} ${number}: ${told.join(", ")}`
}

/** "67, 68 and 67" */
const listed = (texts: readonly string[]): string =>
  texts.length > 1 ? `${texts.slice(0, -1).join(", ")} and ${texts.at(-1)}` : (texts[0] ?? "")
