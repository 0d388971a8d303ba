/** `resolutio explain`: the whole story of one sign. */
import { explainLong, findSign, type Page, type Problem, type Reading } from "@resolutio/core"
import { readInput } from "./input.js"
import { wrap } from "./layout.js"
import { refuse } from "./messages.js"
import { readOptions, readWith, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export function explain(file: string, place: string, flags: ReadingFlags, shell: Shell): number {
  const options = readOptions(flags)
  const input = options.ok ? readInput(file) : options
  if (!options.ok || !input.ok) return refuse(input.problems, shell, file)
  const { page, readings } = readWith(input.value.page, options.value)
  const id = findSign(page, place)?.id
  const at = readings.findIndex(reading => reading.signs.some(sign => sign.id === id))
  const reading = readings[at]
  if (id === undefined || !reading) return refuse([noSuchSign(place, page, readings)], shell, file)
  for (const line of explainLong(page, at, reading, id, options.value))
    for (const part of wrap(plain(line), shell.columns)) shell.out(part)
  return reading.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function noSuchSign(place: string, page: Page, readings: readonly Reading[]): Problem {
  const voices = readings.map(one => `${one.label} 1 to ${Math.max(0, ...one.signs.map(sign => sign.number))}`)
  return {
    code: "no-such-sign",
    what: `There is no sign “${place}” in ${page.title ? `“${page.title}”` : "this piece"}.`,
    mend: `Name a voice and the number of a note or rest in it (${voices.join("; ")}), or an xml:id.`,
    severity: "error",
  }
}
