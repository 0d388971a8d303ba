/** `resolutio tenor`: color and talea, statement under statement. */
import {
  chooseTenor,
  findRepetition,
  planOf,
  tenorJson,
  unreadableTenorJson,
  type Problem,
  type Reading,
  type Repetition,
} from "@resolutio/core"
import { readInput, type Input } from "./input.js"
import { refuse } from "./messages.js"
import { Printer, printJson } from "./printer.js"
import { chooseVoices, readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"
import { statementTable } from "./statements.js"
import { canonLines } from "./table.js"

export interface TenorFlags extends ReadingFlags {
  readonly format: "text" | "json"
  readonly voice: readonly string[]
}

export function tenor(file: string, flags: TenorFlags, shell: Shell): number {
  const options = readOptions(flags)
  if (!options.ok) return refuse(options.problems, shell)
  const input = readInput(file)
  if (!input.ok) return unreadable(file, input.problems, flags, shell)
  const whole = readWith(input.value.page, options.value, flags.alone)
  const chosen = flags.voice.length > 0 ? chooseVoices(whole, flags.voice) : tenorOf(whole)
  if (!chosen.ok) return unreadable(file, chosen.problems, flags, shell)
  const voices = chosen.value.map(reading => ({ reading, repetition: findRepetition(whole.page, reading) }))
  if (flags.format === "json") printJson(tenorJson(whole.page, voices, input.value.problems), shell)
  else printText(input.value, whole, voices, shell)
  const problems = [...input.value.problems, ...chosen.value.flatMap(one => one.problems)]
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function tenorOf({ page, readings }: PageRead): ReturnType<typeof chooseVoices> {
  const found = chooseTenor(page, readings)
  return { ok: true, value: found ? [found] : [], problems: [] }
}

function unreadable(file: string, problems: readonly Problem[], flags: TenorFlags, shell: Shell): number {
  if (flags.format === "json") printJson(unreadableTenorJson(file, problems), shell)
  return refuse(problems, shell, file)
}

function printText(
  input: Input,
  { page }: PageRead,
  voices: readonly { readonly reading: Reading; readonly repetition: Repetition }[],
  shell: Shell,
): void {
  const printer = new Printer(shell)
  printer.heading(input)
  if (voices.length === 0) printer.say("The file has no voices.")
  for (const { reading, repetition } of voices) {
    shell.out("")
    printer.say(`${plain(reading.label)}: ${planOf(repetition)}`)
    // a canon repeats what is written once
    for (const line of canonLines(reading)) printer.say(line)
    for (const series of [...repetition.colores, ...repetition.taleae]) {
      shell.out("")
      printer.lines(statementTable(page, reading, series, printer.table))
    }
  }
  printer.problems(input)
}
