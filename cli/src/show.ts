/** `resolutio show`: one HTML file that shows, explains and plays a piece by itself. */
import { alignVoices, perform, type Performance, type Problem, type Result, type Score } from "@resolutio/core"
import { showPiece } from "@resolutio/press"
import type { HearFlags } from "./hear-flags.js"
import { fine, performanceOptions } from "./hear-options.js"
import { unheard } from "./hear-part.js"
import { resting, Stopped, watch } from "./patience.js"
import { refusedFile } from "./files.js"
import { readInput } from "./input.js"
import { refuse, showProblem } from "./messages.js"
import { endingOf, save, unknownEnding } from "./output.js"
import { readOptions, readWith, type PageRead } from "./reading.js"
import { plain, READ, READ_WITH_PROBLEMS, STOPPED, type Shell } from "./shell.js"
import { TOOLS } from "./tools.js"
import { VERSION } from "./version.js"

export interface ShowFlags extends HearFlags {
  readonly view: "both" | "page" | "time"
  readonly silent?: boolean
}

export async function show(file: string, flags: ShowFlags, shell: Shell): Promise<number> {
  const ending = endingOf(flags.output)
  if (ending !== ".html") return refuse([unknownEnding(flags.output, [".html"])], shell, file)
  const refused = refusedFile(flags.output, flags.force ?? false)
  if (refused) return refuse([refused], shell, file)
  const options = readOptions(flags)
  const input = readInput(file)
  if (!options.ok || !input.ok)
    return refuse(
      [options, input].flatMap(one => (one.ok ? [] : one.problems)),
      shell,
      file,
    )
  const read = readWith(input.value.page, options.value, flags.alone)
  const score = alignVoices(read.page, read.readings)
  const performance = flags.silent ? fine(undefined) : heard(read, flags)
  if (!performance.ok) return refuse(performance.problems, shell, file)
  const html = await written(read, score, performance.value, flags, shell)
  if (html === undefined) return STOPPED
  const problem = save(flags, html, shell)
  if (problem) return refuse([problem], shell, file)
  for (const sentence of performance.value?.sentences ?? []) shell.err(plain(sentence))
  const problems = [
    ...input.value.problems,
    ...read.readings.flatMap(one => one.problems),
    ...score.problems,
    ...(performance.value?.problems ?? []),
  ]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

function heard(read: PageRead, flags: ShowFlags): Result<Performance> {
  const score = alignVoices(read.page, read.readings, { repeats: flags.repeats })
  const options = performanceOptions(flags, score)
  if (!options.ok) return options
  const performed = perform(score, options.value)
  if (!performed.ok) return performed
  const problems = [...unheard(performed.value), ...tooLong(performed.value)]
  return problems.length > 0 ? { ok: false, problems } : performed
}

/** A minute of sound takes a megabyte of the file. */
const LONGEST = 30 * 60

function tooLong({ duration }: Performance): Problem[] {
  if (duration <= LONGEST) return []
  return [
    {
      code: "too-long-to-show",
      what: `It would sound for ${Math.round(duration / 60)} minutes, and the file would be larger than browsers like.`,
      mend: "Leave the sound out with --silent, or write it beside the page: resolutio hear piece.mei -o piece.wav",
      severity: "error",
    },
  ]
}

async function written(
  read: PageRead,
  score: Score,
  performance: Performance | undefined,
  { view }: ShowFlags,
  shell: Shell,
): Promise<string | undefined> {
  const waiting = watch(shell)
  const rest = resting(part => waiting.say("Sounding", part))
  const views = view === "both" ? (["page", "time"] as const) : [view]
  const maker = `Resolutio ${VERSION}`
  try {
    return await showPiece({ ...read, score, ...(performance ? { performance } : {}), views, maker }, TOOLS, rest)
  } catch (error) {
    if (!(error instanceof Stopped)) throw error
    shell.err("Stopped; nothing was written.")
    return undefined
  } finally {
    waiting.done()
  }
}
