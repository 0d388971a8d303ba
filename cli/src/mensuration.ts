/** `resolutio mensuration`: the practices and mensurations tried for each voice, with what speaks for and against them. */
import {
  applyChange,
  findMensurations,
  fitsUnder,
  mensurationJson,
  newMei,
  printShorthand,
  supplyFound,
  unreadableMensurationJson,
  withPage,
  writeMei,
  type FitUnder,
  type Found,
  type Page,
  type Problem,
  type VoiceFound,
} from "@resolutio/core"
import pc from "picocolors"
import { readInput, type Input } from "./input.js"
import { paragraph } from "./layout.js"
import { mensurationTable, practiceTable } from "./mensuration-table.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save, unknownEnding } from "./output.js"
import { readOptions, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface MensurationFlags extends ReadingFlags {
  readonly format: "text" | "json"
  readonly output?: string
  readonly force?: boolean
}

export function mensuration(file: string, flags: MensurationFlags, shell: Shell): number {
  const options = readOptions(flags)
  if (!options.ok) return refuse(options.problems, shell)
  const input = readInput(file)
  if (!input.ok) return unreadable(file, input.problems, flags, shell)
  const { page } = input.value
  const wanted = { ...options.value, alone: flags.alone ?? false, evidence: true }
  const found = findMensurations(page, wanted)
  const fits = fitsUnder(page, found, wanted)
  if (flags.format === "json")
    shell.out(JSON.stringify(mensurationJson(page, found, fits, input.value.problems), undefined, 2))
  else printText(input.value, found, fits, shell)
  const unwritten =
    flags.output === undefined ? undefined : supply(input.value, found, { ...flags, output: flags.output }, shell)
  if (unwritten !== undefined) return refuse([unwritten], shell, file)
  return input.value.problems.length > 0 || found.voices.some(one => one.problems.length > 0)
    ? READ_WITH_PROBLEMS
    : READ
}

function unreadable(file: string, problems: readonly Problem[], flags: MensurationFlags, shell: Shell): number {
  if (flags.format === "json") shell.out(JSON.stringify(unreadableMensurationJson(file, problems), undefined, 2))
  return refuse(problems, shell, file)
}

/** A new file with the found signs in it, marked as supplied; gives the problem when it could not be written. */
function supply(
  input: Input,
  found: Found,
  flags: { readonly output: string; readonly force?: boolean },
  shell: Shell,
): Problem | undefined {
  const ending = endingOf(flags.output)
  const write = WRITERS[ending]
  if (!write) return unknownEnding(flags.output, Object.keys(WRITERS))
  const changed = applyChange(input.page, supplyFound(input.page, found))
  if (!changed.ok) return changed.problems[0]
  return save(flags, write(changed.value.page, input), shell)
}

const WRITERS: Record<string, (page: Page, input: Input) => string> = {
  ".mei": (page, { document }) => (document ? writeMei(withPage(document, page)) : newMei(page)),
  ".figurae": page => printShorthand(page),
}

function printText(input: Input, found: Found, fits: readonly FitUnder[], shell: Shell): void {
  const { bold, dim } = pc.createColors(shell.colour)
  const say = (text: string, style = (line: string) => line) =>
    paragraph(text, shell.columns).forEach(line => shell.out(style(line)))
  const title = plain(input.page.title)
  say(title || plain(input.file), bold)
  if (title) say(plain(input.file), dim)
  if (found.voices.length === 0) say("The file has no voices.")
  const table = practiceTable(found, { bold, dim, ...(shell.columns === undefined ? {} : { columns: shell.columns }) })
  if (table.length > 0) shell.out("")
  for (const line of table) shell.out(line)
  for (const voice of found.voices) {
    shell.out("")
    printVoice(voice, shell)
  }
  if (fits.length > 0) shell.out("")
  for (const { what, cost, level } of fits) say(level === undefined ? what : `${what} (cost ${costText(cost)})`)
  for (const problem of input.problems) say(showProblem(problem, input.file))
}

const costText = (cost: number): string => `${cost < 0 ? "−" : "+"}${Math.abs(cost).toFixed(1)}`

function printVoice(voice: VoiceFound, shell: Shell): void {
  const { bold, dim } = pc.createColors(shell.colour)
  const options = { bold, dim, ...(shell.columns === undefined ? {} : { columns: shell.columns }) }
  for (const line of mensurationTable(voice, options)) shell.out(line)
  for (const problem of voice.problems)
    for (const line of paragraph(showProblem(problem), shell.columns)) shell.out(line)
}
