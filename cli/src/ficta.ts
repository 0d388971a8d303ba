/** `resolutio ficta`: accidentals that the intervals ask for, listed with reasons, accepted and refused. */
import {
  FICTA_GRADES,
  acceptFicta,
  alikeFicta,
  alignVoices,
  applyChange,
  fictaJson,
  fictaSummary,
  findSign,
  personNamed,
  proposalsUpTo,
  proposeFicta,
  refuseFicta,
  shortPlace,
  tellFicta,
  tellOpenFicta,
  unreadableFictaJson,
  type AccidentalChoice,
  type Ficta,
  type FictaProposal,
  type Page,
  type PageChange,
  type Problem,
  type Result,
  type Score,
} from "@resolutio/core"
import { refusedName, saveEdited } from "./edited.js"
import { readInput, type Input } from "./input.js"
import { columns } from "./layout.js"
import { either, refuse, showProblem } from "./messages.js"
import { Printer, printJson } from "./printer.js"
import { readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface FictaFlags extends ReadingFlags {
  readonly format: "text" | "json"
  /** Numbers in the list, places, or grades. */
  readonly accept: readonly string[]
  readonly refuse: readonly string[]
  readonly all?: boolean
  readonly output?: string
  readonly who?: string
  readonly why?: string
  readonly force?: boolean
}

interface Found extends PageRead {
  readonly score: Score
  readonly ficta: Ficta
}

export function ficta(file: string, flags: FictaFlags, shell: Shell): number {
  const options = readOptions(flags)
  const name = refusedName(flags.output)
  if (!options.ok || name) return refuse(name ? [name] : options.problems, shell, file)
  const input = readInput(file)
  if (!input.ok) {
    if (flags.format === "json") printJson(unreadableFictaJson(file, input.problems), shell)
    return refuse(input.problems, shell, file)
  }
  const find = (page: Page): Found => {
    const read = readWith(page, options.value, flags.alone)
    const score = alignVoices(read.page, read.readings)
    return { ...read, score, ficta: proposeFicta(read.page, score) }
  }
  const before = find(input.value.page)
  const deciding = flags.accept.length + flags.refuse.length > 0
  const problems = deciding
    ? decided(input.value, before, flags, find, shell)
    : listed(input.value, before, flags, shell)
  if (problems.length > 0) return refuse(problems, shell, file)
  for (const one of input.value.problems) shell.err(showProblem(one, file))
  return input.value.problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function listed(input: Input, found: Found, flags: FictaFlags, shell: Shell): Problem[] {
  if (flags.output !== undefined)
    return [wrong("-o", "There is nothing to write.", "Choose proposals with --accept or --refuse.")]
  if (flags.format === "json") printJson(fictaJson(found.page, found.score, found.ficta, input.problems), shell)
  else printText(input, found, flags.all === true, shell)
  return []
}

/** Changes the page, writes it if a name is given, and says what is proposed now. */
function decided(input: Input, before: Found, flags: FictaFlags, find: (page: Page) => Found, shell: Shell): Problem[] {
  const changes = changesFor(before, flags)
  if (!changes.ok) return [...changes.problems]
  const changed = applyChange(before.page, changes.value)
  if (!changed.ok) return [...changed.problems]
  const after = find(changed.value.page)
  if (flags.format === "json") printJson(fictaJson(after.page, after.score, after.ficta, input.problems), shell)
  else printChosen(before, after, flags, shell)
  if (flags.output !== undefined) {
    const problem = saveEdited(input, after.page, { output: flags.output, force: flags.force }, shell)
    if (problem) return [problem]
  } else shell.err("Nothing is written: -o NAME writes the page with it.")
  return []
}

function changesFor(found: Found, flags: FictaFlags): Result<PageChange> {
  const accepted = chosen(found, flags.accept, "--accept")
  const refused = chosen(found, flags.refuse, "--refuse")
  if (!accepted.ok || !refused.ok)
    return { ok: false, problems: [accepted, refused].flatMap(one => (one.ok ? [] : one.problems)) }
  const twice = accepted.value.find(one => refused.value.includes(one))
  if (twice)
    return failed(wrong("--refuse", `${placeOf(found.page, twice)} is accepted and refused at once.`, "Choose one."))
  const named = personNamed(found.page, flags.who)
  const why = flags.why?.trim().replace(/\s+/g, " ")
  const as = { ...(named && { who: named.id }) }
  const choices = (all: readonly FictaProposal[]): AccidentalChoice[] =>
    all.map(({ sign, accidental, reason }) => ({ sign, accidental, why: why || reason }))
  const first: PageChange[] = named?.change ? [named.change] : []
  const accepting = acceptFicta(found.page, choices(accepted.value), as)
  const middle = applyChange(found.page, { kind: "several", changes: [...first, accepting] })
  if (!middle.ok) return middle
  const refusing = refuseFicta(middle.value.page, choices(refused.value), as)
  return { ok: true, value: { kind: "several", changes: [...first, accepting, refusing] }, problems: [] }
}

/** Each by its number, its place, or all of a grade; each sign once. */
function chosen(found: Found, texts: readonly string[], flag: string): Result<FictaProposal[]> {
  const all = new Map<string, FictaProposal>()
  for (const text of texts) {
    const own = meant(found, text)
    if (own.length === 0) return failed(noSuch(found, text, flag))
    for (const one of own) all.set(one.sign, one)
  }
  return { ok: true, value: [...all.values()], problems: [] }
}

/** "like 3": with all that are proposed in the same voice for the same reason. */
const LIKE = /^like\s+/

function meant(found: Found, text: string): readonly FictaProposal[] {
  const { page, ficta } = found
  const { proposals } = ficta
  if (LIKE.test(text)) return meant(found, text.replace(LIKE, "")).flatMap(one => alikeFicta(ficta, one))
  const grade = FICTA_GRADES.find(one => one === text)
  if (grade) return proposals.filter(one => one.grade === grade)
  const numbered = /^\d+$/.test(text) ? proposals[Number(text) - 1] : undefined
  if (numbered) return [numbered]
  const sign = findSign(page, text)
  return proposals.filter(one => one.sign === sign?.id)
}

function noSuch({ ficta: { proposals } }: Found, text: string, flag: string): Problem {
  const numbers = proposals.length === 0 ? [] : [`a number from 1 to ${proposals.length}`]
  const mend = `Give ${either([...numbers, "a place such as “tenor 12”", ...FICTA_GRADES])}, or “like” before it for all of that voice for that reason; without it they are listed.`
  return wrong(flag, `Nothing is proposed for “${text}”.`, mend)
}

const wrong = (place: string, what: string, mend: string): Problem => ({
  code: "cannot-decide",
  what,
  where: { place },
  mend,
  severity: "error",
})
const failed = (problem: Problem): Result<never> => ({ ok: false, problems: [problem] })

const placeOf = (page: Page, { sign }: { readonly sign: FictaProposal["sign"] }): string =>
  shortPlace(page, sign) ?? sign

function printText(input: Input, { page, ficta, score }: Found, all: boolean, shell: Shell): void {
  const printer = new Printer(shell)
  printer.heading(input)
  shell.out("")
  const told = tellFicta(page, score, ficta)
  printer.say(fictaSummary(ficta))
  const rows = told.map(({ proposal, place, sung, reason }, at) => [
    String(at + 1).padStart(String(told.length).length),
    plain(place),
    sung,
    proposal.grade,
    plain(`${reason} [${proposal.source.treatise}]`),
  ])
  printer.lines(columns(rows, shell.columns))
  const open = tellOpenFicta(page, ficta, all)
  if (open.length === 0) return
  shell.out("")
  printer.say("Left as they stand:")
  printer.lines(
    columns(
      open.map(({ place, reason }) => [`  ${plain(place)}`, plain(reason)]),
      shell.columns,
    ),
  )
}

function printChosen(before: Found, after: Found, flags: FictaFlags, shell: Shell): void {
  const printer = new Printer(shell)
  const say = (texts: readonly string[], word: string) => {
    const proposals = [...new Set(texts.flatMap(text => meant(before, text)))]
    for (const { place, sung } of tellFicta(before.page, before.score, { proposals }))
      printer.say(plain(`${word}: ${place}, ${sung}.`))
  }
  say(flags.accept, "Accepted")
  say(flags.refuse, "Refused")
  const left = proposalsUpTo(after.ficta, "required").length
  printer.say(`Now proposed: ${after.ficta.proposals.length}, of which ${left} required.`)
}
