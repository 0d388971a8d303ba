/** `resolutio explain`: the whole story of one sign. */
import { explainLong, findSign } from "@resolutio/core"
import { readInput } from "./input.js"
import { wrap } from "./layout.js"
import { refuse, showProblem } from "./messages.js"
import { noSuchSign, readOptions, readWith, type ReadingFlags } from "./reading.js"
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
  if (id === undefined || !reading) return refuse([...odd, noSuchSign(place, { page, readings })], shell, file)
  for (const line of explainLong(page, at, reading, id, options.value))
    for (const part of wrap(plain(line), shell.columns)) shell.out(part)
  for (const problem of odd) shell.err(showProblem(problem, file))
  return odd.length + reading.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}
