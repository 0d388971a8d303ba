/** `resolutio convert`: from one written form of the page to the other, or to the present version of MEI. */
import { newMei, printShorthand, writeMei } from "@resolutio/core"
import { readInput, type Input } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save, unknownEnding, type OutputFlags } from "./output.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

/** The version that is written; a file that has it already is copied with all that is in it. */
const PRESENT = "5.1"

const WRITERS: Record<string, (input: Input) => string> = {
  ".mei": input => (isPresent(input) ? writeMei(input.document!) : newMei(input.page)),
  ".figurae": input => printShorthand(input.page),
}
const isPresent = ({ document }: Input) => document?.version === PRESENT

export function convert(file: string, flags: OutputFlags, shell: Shell): number {
  const ending = endingOf(flags.output)
  const write = WRITERS[ending]
  if (!write) return refuse([unknownEnding(flags.output, Object.keys(WRITERS))], shell, file)
  const input = readInput(file)
  if (!input.ok) return refuse(input.problems, shell, file)
  const problem = save(flags, write(input.value), shell)
  if (problem) return refuse([problem], shell, file)
  if (input.value.document && !(ending === ".mei" && isPresent(input.value)))
    shell.err(
      "Only the page goes over: what else the MEI file holds (details of its header, other content) stays there.",
    )
  for (const one of input.problems) shell.err(showProblem(one, file))
  return input.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}
