/** `resolutio read`: how long every sign lasts, and why. */
import {
  csvCannotCarry,
  fitOf,
  fitSentence,
  readingJson,
  readingsCsv,
  unreadableJson,
  type CsvOptions,
  type Fit,
  type Problem,
  type ReadOptions,
  type Reading,
} from "@resolutio/core"
import { listed } from "./decide-text.js"
import { readInput, type Input } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { tellLosses } from "./output.js"
import { Printer } from "./printer.js"
import { chooseVoices, readOptions, readWith, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"
import { voiceTable } from "./table.js"

export interface ReadFlags extends ReadingFlags {
  readonly format: "text" | "json" | "csv"
  readonly voice: readonly string[]
  readonly all?: boolean
}

/** Reads the files one after the other; the status is the worst that any of them had. */
export function read(files: readonly string[], flags: ReadFlags, shell: Shell): number {
  const options = readOptions(flags)
  if (!options.ok) return refuse(options.problems, shell)
  return Math.max(...files.map((file, at) => readOne(file, at, files.length, options.value, flags, shell)))
}

function readOne(
  file: string,
  at: number,
  count: number,
  options: ReadOptions,
  flags: ReadFlags,
  shell: Shell,
): number {
  const input = readInput(file)
  if (flags.format === "csv" && at === 0 && count > 1) csv([], { file }, shell)
  if (!input.ok) return unreadable(file, input.problems, count, flags, shell)
  const whole = readWith(input.value.page, options, flags.alone)
  const chosen = chooseVoices(whole, flags.voice)
  if (!chosen.ok) return unreadable(file, chosen.problems, count, flags, shell)
  const fit = fitOf(whole.readings)
  const problems = [...input.value.problems, ...chosen.value.flatMap(one => one.problems)]
  if (flags.format === "json") {
    const about = { problems: input.value.problems, ...(count > 1 ? { file } : {}) }
    shell.out(json(readingJson(whole.page, chosen.value, fit, about), count))
  } else if (flags.format === "csv") {
    csv(chosen.value, count > 1 ? { file, head: false } : {}, shell)
    tellLosses(csvCannotCarry(whole.page, chosen.value), shell)
    for (const one of problems) shell.err(showProblem(one, file))
  } else {
    if (at > 0) shell.out("")
    printText(input.value, chosen.value, fit, flags, shell)
  }
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** One file: an object that people can look at too; several: one object a line. */
const json = (object: unknown, count: number) => JSON.stringify(object, null, count > 1 ? 0 : 2)

/** The shell ends each text with a line feed; the carriage return before it is the table's. */
function csv(readings: readonly Reading[], options: CsvOptions, shell: Shell): void {
  const text = readingsCsv(readings, options)
  if (text !== "") shell.out(text.slice(0, -1))
}

function unreadable(file: string, problems: readonly Problem[], count: number, flags: ReadFlags, shell: Shell): number {
  if (flags.format === "json") shell.out(json(unreadableJson(file, problems), count))
  return refuse(problems, shell, file)
}

function printText(input: Input, readings: readonly Reading[], fit: Fit, flags: ReadFlags, shell: Shell): void {
  const printer = new Printer(shell)
  printer.heading(input)
  for (const reading of readings) {
    shell.out("")
    printer.lines(voiceTable(input.page, reading, { ...printer.table, all: flags.all ?? false }))
  }
  if (fit.durations.length > 1) printer.say(`\n${fitSentence(fit)}`)
  if (input.page.decisions) {
    printer.say("\nDecisions of the editor:")
    for (const line of listed({ page: input.page, readings })) printer.say(`  ${plain(line)}`)
  }
  printer.problems(input)
}
