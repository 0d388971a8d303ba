/** `resolutio fit`: where the voices first part, what would mend it, and on request one of these emendations made. */
import {
  applyChange,
  emend,
  fitJson,
  fitOf,
  fitSentence,
  personNamed,
  propose,
  readTogether,
  type ReadOptions,
  showReportLine,
  unreadableFitJson,
  type Emendation,
  type Page,
  type Problem,
  type Proposal,
  type Result,
} from "@resolutio/core"
import { refusedName, saveEdited } from "./edited.js"
import { readInput, type Input } from "./input.js"
import { paragraph } from "./layout.js"
import { refuse, showProblem } from "./messages.js"
import { Printer, printJson } from "./printer.js"
import { readOptions, type ReadingFlags } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"
import { UNITS } from "./table.js"

export interface FitFlags extends ReadingFlags {
  readonly format: "text" | "json"
  readonly apply: readonly string[]
  readonly output?: string
  readonly who?: string
  readonly why?: string
  readonly force?: boolean
}

/** Work that takes longer than this says that it is going on. */
const PATIENCE = 1000

export function fit(file: string, flags: FitFlags, shell: Shell): number {
  const options = readOptions(flags)
  const wrong = options.ok ? wrongFlags(flags) : options.problems
  if (!options.ok || wrong.length > 0) return refuse(wrong, shell, file)
  const input = readInput(file)
  if (!input.ok) {
    if (flags.format === "json") printJson(unreadableFitJson(file, input.problems), shell)
    return refuse(input.problems, shell, file)
  }
  const { page, problems } = input.value
  const proposal = propose(page, { ...options.value, onProgress: patience(shell) })!
  if (flags.format === "json") printJson(fitJson(page, proposal, problems), shell)
  else if (flags.apply.length === 0) printText(input.value, proposal, options.value, shell)
  const problem = flags.apply.length > 0 ? make(input.value, proposal, flags, shell) : undefined
  if (problem) return refuse([problem], shell, file)
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 || !proposal.together ? READ_WITH_PROBLEMS : READ
}

function wrongFlags({ apply, output, who, why, alone }: FitFlags): Problem[] {
  const wrong = (what: string, mend: string, place: string): Problem => ({
    code: "cannot-apply",
    what,
    where: { place },
    mend,
    severity: "error",
  })
  const name = refusedName(output)
  if (name) return [name]
  if (alone) return [wrong("Voices read alone cannot be held against each other.", "Leave out --alone.", "--alone")]
  if (apply.length > 0 && output === undefined)
    return [
      wrong("An emendation is written to a new file only.", "Name it with -o; the old file stays as it is.", "--apply"),
    ]
  if (apply.length === 0 && (output !== undefined || who !== undefined || why !== undefined))
    return [wrong("No emendation is chosen.", "Choose one of those listed with --apply N.", "--apply")]
  return []
}

/** Says once, to a person who watches, that the work is going on. */
function patience(shell: Shell): () => void {
  const start = Date.now()
  let said = false
  return () => {
    if (said || shell.columns === undefined || Date.now() - start < PATIENCE) return
    said = true
    shell.err("Looking for slips …")
  }
}

/** Makes the chosen emendations one after the other and writes the new file; gives the problem when it could not. */
function make(input: Input, proposal: Proposal, flags: FitFlags, shell: Shell): Problem | undefined {
  const chosen = chosenOf(proposal, flags.apply)
  if (!chosen.ok) return chosen.problems[0]
  const named = personNamed(input.page, flags.who)
  const why = flags.why?.trim().replace(/\s+/g, " ")
  let page = input.page
  if (named?.change) {
    const known = applyChange(page, named.change)
    if (!known.ok) return known.problems[0]
    page = known.value.page
  }
  const lines: string[] = []
  for (const one of chosen.value) {
    const made = emend(page, one, { ...(named && { who: named.id }), why: why || one.why })
    if (!made.ok) return made.problems[0]
    page = made.value.page
    lines.push(showReportLine(made.value.line))
  }
  const problem = saveEdited(input, page, { output: flags.output!, force: flags.force }, shell)
  if (problem) return problem
  shell.err("For the critical report:")
  for (const line of lines) for (const part of paragraph(plain(line), shell.columns)) shell.err(part)
  const left = fitOf(readTogether(page).readings)
  if (flags.format === "text") new Printer(shell).say(`Emended: ${fitSentence(left)}`)
  return undefined
}

function chosenOf({ emendations }: Proposal, apply: readonly string[]): Result<Emendation[]> {
  const chosen: Emendation[] = []
  for (const text of new Set(apply)) {
    const found = /^\d+$/.test(text) ? emendations[Number(text) - 1] : undefined
    if (found) chosen.push(found)
    else return { ok: false, problems: [noSuch(text, emendations.length)] }
  }
  return { ok: true, value: chosen.sort((a, b) => a.rank - b.rank), problems: [] }
}

const noSuch = (text: string, count: number): Problem => ({
  code: "no-such-emendation",
  what: `There is no emendation “${text}”.`,
  where: { place: "--apply" },
  mend: count === 0 ? "Nothing is proposed for this file." : `Choose one of 1 to ${count} by its number.`,
  severity: "error",
})

/** Where the notes contradict what their signs say, that is the first thing to look at. */
const MEASURES: ReadonlySet<string> = new Set(["declared-mensuration-contradicted", "mensuration-left", "modus-left"])
const measuredOtherwise = (page: Page, options: ReadOptions): Problem[] =>
  readTogether(page, options)
    .readings.flatMap(one => one.problems)
    .filter(({ code }) => MEASURES.has(code))

function printText(input: Input, proposal: Proposal, options: ReadOptions, shell: Shell): void {
  const printer = new Printer(shell)
  const say = (text: string): void => printer.say(text)
  printer.heading(input)
  say("")
  const fits = fitOf(readTogether(input.page, { ...options, modusKept: true }).readings)
  say(fitSentence(fits))
  // where the signa alone disagree, the sentence has told their places, and nothing tells of another
  const isTold = fits.finalsMeet === true && proposal.firstParting?.certainty === 0
  const parting = isTold ? undefined : partingSentence(input.page, proposal)
  if (parting) say(plain(parting))
  if (!proposal.together) for (const one of measuredOtherwise(input.page, options)) printer.say(showProblem(one))
  if (proposal.emendations.length === 0) {
    say(proposal.together && !parting ? "Nothing speaks for a slip." : "No single change that would mend it was found.")
    if (isTold && fits.missed?.kind === "signum") say("Perhaps the signum itself stands in the wrong place.")
    return
  }
  let step = 0
  for (const one of proposal.emendations) {
    if (one.step !== step) {
      say("")
      say(one.step === 1 ? mends(proposal) : `With number ${bestOf(proposal, one.step - 1)} made, then also:`)
    }
    step = one.step
    for (const line of emendationLines(one)) say(line)
  }
}

/** The best of each place stands before what else would mend the first: where that is not the order of chances, it is said. */
function mends({ emendations }: Proposal): string {
  const first = emendations.filter(one => one.step === 1)
  const byChance = first.every((one, i) => i === 0 || one.score <= first[i - 1]!.score)
  return byChance ? "What would mend it:" : "What would mend it, the best of each place first:"
}

const bestOf = ({ emendations }: Proposal, step: number): number => emendations.find(one => one.step === step)!.rank

function partingSentence(page: Page, { firstParting }: Proposal): string | undefined {
  if (!firstParting) return undefined
  const readings = readTogether(page).readings
  const unit = readings.some(one => one.unit === "minima") ? UNITS.minima : UNITS.tempus
  const places = firstParting.signs.flatMap(id => {
    const reading = readings.find(one => one.signs.some(sign => sign.id === id))
    const sign = reading?.signs.find(one => one.id === id)
    return reading && sign ? [`${reading.label} ${sign.number}`] : []
  })
  const sure = firstParting.certainty > 0 ? `, ${percent(firstParting.certainty)} sure within three signs` : ""
  return `They first part about ${firstParting.onset} ${unit} from the beginning (${places.join(", ")}${sure}).`
}

function emendationLines({ rank, kind, place, before, after, why, score }: Emendation): string[] {
  return [
    `${String(rank).padStart(3)}  ${plain(place)}: ${plain(before)} → ${plain(after)}  (${kind}, ${percent(score)})`,
    `     ${plain(why)}`,
  ]
}

const percent = (share: number): string => (share < 0.005 ? "under 1 %" : `${Math.round(100 * share)} %`)
