/** `resolutio convert`: from one written form of the page to the other, or to the present version of MEI. */
import { newMei, printShorthand, writeMei } from "@resolutio/core"
import { refusedName } from "./edited.js"
import { readInput, type Input } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save, type OutputFlags } from "./output.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

/** The version that is written; a file that has it already is copied with all that is in it. */
const PRESENT = "5.1"

const isPresent = ({ document }: Input) => document?.version === PRESENT

export function convert(file: string, flags: OutputFlags, shell: Shell): number {
  const name = refusedName(flags.output)
  if (name) return refuse([name], shell, file)
  const input = readInput(file)
  if (!input.ok) return refuse(input.problems, shell, file)
  const isMei = endingOf(flags.output) === ".mei"
  const problem = save(flags, isMei ? mei(input.value) : printShorthand(input.value.page), shell)
  if (problem) return refuse([problem], shell, file)
  if (input.value.document && !(isMei && isPresent(input.value)))
    shell.err(
      "Only the page goes over: what else the MEI file holds (details of its header, other content) stays there.",
    )
  for (const one of input.problems) shell.err(showProblem(one, file))
  return input.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

const mei = (input: Input): string => (isPresent(input) ? writeMei(input.document!) : newMei(input.page))
