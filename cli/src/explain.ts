/** `resolutio explain`: the whole story of one sign. */
import { explainLong, findSign, type Page, type Problem, type Reading } from "@resolutio/core"
import { readInput } from "./input.js"
import { wrap } from "./layout.js"
import { refuse, showProblem } from "./messages.js"
import { readOptions, readWith, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export function explain(file: string, place: string, flags: ReadingFlags, shell: Shell): number {
  const options = readOptions(flags)
  const input = options.ok ? readInput(file) : options
  if (!options.ok || !input.ok) return refuse(input.problems, shell, file)
  const { page, readings } = readWith(input.value.page, options.value, flags.alone)
  const id = findSign(page, place)?.id
  const at = readings.findIndex(reading => reading.signs.some(sign => sign.id === id))
  const reading = readings[at]
  const odd = input.value.problems
  if (id === undefined || !reading) return refuse([...odd, noSuchSign(place, page, readings)], shell, file)
  for (const line of explainLong(page, at, reading, id, options.value))
    for (const part of wrap(plain(line), shell.columns)) shell.out(part)
  for (const problem of odd) shell.err(showProblem(problem, file))
  return odd.length + reading.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function noSuchSign(place: string, page: Page, readings: readonly Reading[]): Problem {
  const voices = readings.map(one => `${one.label} ${numbersIn(one)}`)
  return {
    code: "no-such-sign",
    what: `There is no sign “${place}” in ${page.title ? `“${page.title}”` : "this piece"}.`,
    mend: `Name a voice and the number of a note or rest in it (${voices.join("; ")}), or an xml:id.`,
    severity: "error",
  }
}

/** "1 to 12": how the notes and rests of a voice are numbered. */
function numbersIn({ signs }: Reading): string {
  const last = signs.findLast(sign => sign.number > 0)
  return last ? `1 to ${last.number}` : "has none"
}
