/** `resolutio report`: the critical report alone, printed or as a file. */
import {
  DOUBT_FROM,
  TooShort,
  alignVoices,
  criticalReport,
  reportCsv,
  reportMarkdown,
  reportText,
  type Problem,
  type ReportEntry,
  type ReportForm,
  type Result,
} from "@resolutio/core"
import { readInput } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save, unknownEnding } from "./output.js"
import { readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, plain, type Shell } from "./shell.js"
import { tooShort } from "./too-short.js"

export interface ReportFlags extends ReadingFlags {
  readonly output?: string
  readonly force?: boolean
  readonly doubt?: string
}

const FORMS: Readonly<Record<string, (entries: readonly ReportEntry[], form: ReportForm) => string>> = {
  ".txt": reportText,
  ".md": reportMarkdown,
  ".csv": entries => reportCsv(entries),
}

export function report(file: string, flags: ReportFlags, shell: Shell): number {
  const form = FORMS[flags.output === undefined ? ".txt" : endingOf(flags.output)]
  if (!form) return refuse([unknownEnding(flags.output!, Object.keys(FORMS))], shell, file)
  const options = readOptions(flags)
  const doubtFrom = parseDoubt(flags.doubt)
  const input = readInput(file)
  if (!options.ok || !doubtFrom.ok || !input.ok) {
    const wrong = [options, doubtFrom, input].filter(outcome => !outcome.ok)
    return refuse(
      wrong.flatMap(outcome => outcome.problems),
      shell,
      file,
    )
  }
  const read = readWith(input.value.page, options.value, flags.alone)
  const entries = entriesOf(read, doubtFrom.value)
  if (!entries.ok) return refuse(entries.problems, shell, file)
  const text = form(entries.value, { title: read.page.title, doubtFrom: doubtFrom.value })
  if (flags.output === undefined) for (const line of text.trimEnd().split("\n")) shell.out(indented(line))
  else {
    const problem = save({ ...flags, output: flags.output }, text, shell)
    if (problem) return refuse([problem], shell, file)
  }
  // what the reading met is in the report; what was odd in the file is not
  for (const one of input.value.problems) shell.err(showProblem(one, file))
  const met = input.value.problems.length > 0 || entries.value.some(one => one.kind === "parting")
  return met ? READ_WITH_PROBLEMS : READ
}

/** Safe to print, its indent kept. */
const indented = (line: string): string => line.slice(0, line.length - line.trimStart().length) + plain(line)

function entriesOf({ page, readings }: PageRead, doubtFrom: number): Result<ReportEntry[]> {
  try {
    const value = criticalReport({ page, readings, score: alignVoices(page, readings) }, { doubtFrom })
    return { ok: true, value, problems: [] }
  } catch (error) {
    if (!(error instanceof TooShort)) throw error
    return { ok: false, problems: [tooShort(error)] }
  }
}

/** A number from 0 to 1. */
export function parseDoubt(text: string | undefined): Result<number> {
  const value = text === undefined ? DOUBT_FROM : Number(text)
  if (text?.trim() !== "" && value >= 0 && value <= 1) return { ok: true, value, problems: [] }
  const problem: Problem = {
    code: "bad-doubt",
    what: `“${text}” is no doubt.`,
    where: { place: "--doubt" },
    mend: "Write a number from 0 (all readings that have a rival) to 1 (none but coin tosses), such as 0.2.",
    severity: "error",
  }
  return { ok: false, problems: [problem] }
}
