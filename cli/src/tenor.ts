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
import pc from "picocolors"
import { readInput, type Input } from "./input.js"
import { paragraph } from "./layout.js"
import { refuse, showProblem } from "./messages.js"
import { chooseVoices, readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"
import { statementTable } from "./statements.js"

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
  if (flags.format === "json")
    shell.out(JSON.stringify(tenorJson(whole.page, voices, input.value.problems), undefined, 2))
  else printText(input.value, whole, voices, shell)
  const problems = [...input.value.problems, ...chosen.value.flatMap(one => one.problems)]
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function tenorOf({ page, readings }: PageRead): ReturnType<typeof chooseVoices> {
  const found = chooseTenor(page, readings)
  return { ok: true, value: found ? [found] : [], problems: [] }
}

function unreadable(file: string, problems: readonly Problem[], flags: TenorFlags, shell: Shell): number {
  if (flags.format === "json") shell.out(JSON.stringify(unreadableTenorJson(file, problems), undefined, 2))
  return refuse(problems, shell, file)
}

function printText(
  input: Input,
  { page }: PageRead,
  voices: readonly { readonly reading: Reading; readonly repetition: Repetition }[],
  shell: Shell,
): void {
  const { bold, dim } = pc.createColors(shell.colour)
  const say = (text: string, style = (line: string) => line) =>
    paragraph(text, shell.columns).forEach(line => shell.out(style(line)))
  const title = plain(page.title)
  say(title || plain(input.file), bold)
  if (title) say(plain(input.file), dim)
  if (voices.length === 0) say("The file has no voices.")
  for (const { reading, repetition } of voices) {
    shell.out("")
    say(`${plain(reading.label)}: ${planOf(repetition)}`)
    for (const series of [...repetition.colores, ...repetition.taleae]) {
      shell.out("")
      const options = { bold, dim, ...(shell.columns === undefined ? {} : { columns: shell.columns }) }
      for (const line of statementTable(page, reading, series, options)) shell.out(line)
    }
  }
  for (const problem of input.problems) say(showProblem(problem, input.file))
}
