/** `resolutio decide`: an editor's decisions on single signs made, listed and taken back. */
import { applyChange, findSign, type Page, type PageChange, type Result } from "@resolutio/core"
import { changeFor, hasAction, type Action } from "./decide-changes.js"
import { choices, effect, listed } from "./decide-text.js"
import { refusedName, saveEdited } from "./edited.js"
import { readInput, type Input } from "./input.js"
import { paragraph } from "./layout.js"
import { refuse, showProblem } from "./messages.js"
import { noSuchSign, readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface DecideFlags extends ReadingFlags, Action {
  readonly list?: boolean
  readonly undo?: string
  readonly output?: string
  readonly force?: boolean
}

/** Without an action it lists what can be chosen at the place, or with no place all decisions of the file. */
export function decide(file: string, place: string | undefined, flags: DecideFlags, shell: Shell): number {
  const options = readOptions(flags)
  const name = refusedName(flags.output)
  if (!options.ok || name) return refuse(name ? [name] : options.problems, shell, file)
  const input = readInput(file)
  if (!input.ok) return refuse(input.problems, shell, file)
  const read = (page: Page): PageRead => readWith(page, options.value, flags.alone)
  const before = read(input.value.page)
  const wanted = wish(before, place, flags)
  if (!wanted.ok) return refuse([...input.value.problems, ...wanted.problems], shell, file)
  const say = (lines: readonly string[]): void =>
    lines.flatMap(line => paragraph(line, shell.columns)).forEach(line => shell.out(line))
  if (wanted.value === undefined) {
    say((flags.list || place === undefined ? listed(before) : choices(before, place)).map(safe))
    return finish(input.value, before, flags, shell)
  }
  const changed = applyChange(input.value.page, wanted.value)
  if (!changed.ok) return refuse(changed.problems, shell, file)
  const after = read(changed.value.page)
  say(effect(before, after).map(safe))
  return finish(input.value, after, flags, shell)
}

/** Blanks at the beginning are ours and stay. */
const safe = (line: string): string => (/^ */.exec(line)?.[0] ?? "") + plain(line)

/** The change that is asked for; undefined where only something is to be shown. */
function wish(before: PageRead, place: string | undefined, flags: DecideFlags): Result<PageChange | undefined> {
  const asked = [flags.list === true, flags.undo !== undefined, hasAction(flags)].filter(Boolean).length
  if (asked > 1) return refused("too-much-at-once", "More than one thing is asked for.", ONE_THING)
  if (flags.undo === undefined && !hasAction(flags)) {
    const lost = place !== undefined && !flags.list && !findSign(before.page, place)
    if (lost) return { ok: false, problems: [noSuchSign(place, before)] }
    if (flags.output !== undefined) return refused("nothing-decided", "There is nothing to write.", ONE_THING)
    return { ok: true, value: undefined, problems: [] }
  }
  if (flags.undo === undefined && place === undefined)
    return refused(
      "no-place",
      "It is not said which sign is decided on.",
      'Name it: resolutio decide FILE "tenor 12" …',
    )
  if (flags.undo === undefined && !findSign(before.page, place!))
    return { ok: false, problems: [noSuchSign(place!, before)] }
  return changeFor(before, place, flags)
}

const ONE_THING = "Give one of --duration, --not, --dot, --rival, --voice-rival, --canon, --form, --undo and --list."

function refused(code: string, what: string, mend: string): Result<never> {
  return { ok: false, problems: [{ code, what, mend, severity: "error" }] }
}

/** Writes what was decided, if a name is given, and tells of problems. */
function finish(input: Input, { page, readings }: PageRead, flags: DecideFlags, shell: Shell): number {
  const changed = page !== input.page
  if (flags.output !== undefined) {
    const problem = saveEdited(input, page, { output: flags.output, force: flags.force }, shell)
    if (problem) return refuse([problem], shell, input.file)
  } else if (changed) shell.err("Nothing is written: -o NAME writes the page with it.")
  const decided = readings.flatMap(one => one.problems.filter(({ code }) => code.startsWith("decision-")))
  for (const problem of [...input.problems, ...decided]) shell.err(showProblem(problem, input.file))
  const others = readings.reduce((total, one) => total + one.problems.length, 0)
  return input.problems.length + others > 0 ? READ_WITH_PROBLEMS : READ
}
