/** `resolutio mensuration`: the practices and mensurations tried for each voice, with what speaks for and against them. */
import {
  applyChange,
  findMensurations,
  fitsUnder,
  mensurationJson,
  shownCandidates,
  supplyFound,
  unreadableMensurationJson,
  withSignsChecked,
  type FitUnder,
  type Found,
  type Problem,
} from "@resolutio/core"
import { refusedName, saveEdited } from "./edited.js"
import { readInput, type Input } from "./input.js"
import { mensurationTable, practiceTable } from "./mensuration-table.js"
import { refuse, showProblem } from "./messages.js"
import { Printer, printJson } from "./printer.js"
import { readOptions, type ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface MensurationFlags extends ReadingFlags {
  readonly format: "text" | "json"
  readonly output?: string
  readonly force?: boolean
}

export function mensuration(file: string, flags: MensurationFlags, shell: Shell): number {
  const options = readOptions(flags)
  const name = refusedName(flags.output)
  if (!options.ok || name) return refuse(name ? [name] : options.problems, shell, file)
  const input = readInput(file)
  if (!input.ok) return unreadable(file, input.problems, flags, shell)
  const { page } = input.value
  const wanted = { ...options.value, alone: flags.alone ?? false, evidence: true }
  const found = withSignsChecked(page, findMensurations(page, wanted), wanted)
  const fits = fitsUnder(page, found, wanted)
  if (flags.format === "json") printJson(mensurationJson(page, found, fits, input.value.problems), shell)
  else printText(input.value, found, fits, shell)
  const unwritten = supply(input.value, found, flags, shell)
  if (unwritten !== undefined) return refuse([unwritten], shell, file)
  return input.value.problems.length > 0 || found.voices.some(one => one.problems.length > 0)
    ? READ_WITH_PROBLEMS
    : READ
}

function unreadable(file: string, problems: readonly Problem[], flags: MensurationFlags, shell: Shell): number {
  if (flags.format === "json") printJson(unreadableMensurationJson(file, problems), shell)
  return refuse(problems, shell, file)
}

/** A new file with the found signs in it, marked as supplied; gives the problem when it could not be written. */
function supply(input: Input, found: Found, { output, force }: MensurationFlags, shell: Shell): Problem | undefined {
  if (output === undefined) return undefined
  const changed = applyChange(input.page, supplyFound(input.page, found))
  return changed.ok ? saveEdited(input, changed.value.page, { output, force }, shell) : changed.problems[0]
}

function printText(input: Input, found: Found, fits: readonly FitUnder[], shell: Shell): void {
  const printer = new Printer(shell)
  printer.heading(input)
  if (found.voices.length === 0) printer.say("The file has no voices.")
  const table = practiceTable(found, printer.table)
  if (table.length > 0) printer.lines(["", ...table])
  for (const voice of found.voices) {
    printer.lines(["", ...mensurationTable(voice, printer.table)])
    for (const problem of voice.problems) printer.say(showProblem(problem))
  }
  if (fits.length > 0) printer.say("")
  for (const { what, cost, level } of fits) printer.say(level === undefined ? what : `${what} (cost ${costText(cost)})`)
  if (fits.length > 0 || found.voices.some(one => shownCandidates(one).length > 1)) printer.say(`\n${LEGEND}`)
  printer.problems(input)
}

const LEGEND =
  "Numbers with + and − are natural logarithms of odds: 3 is 20 to 1. A cost tells how much less likely all voices together become."

const costText = (cost: number): string => `${cost < 0 ? "−" : "+"}${Math.abs(cost).toFixed(1)}`
