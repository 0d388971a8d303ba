/** `resolutio score`: the modern score, as a picture, as MEI or as MIDI. */
import { alignVoices, modernMei, writeMidi, type Problem, type Result, type Score } from "@resolutio/core"
import { readInput } from "./input.js"
import { endingOf, save, unknownEnding, type OutputFlags } from "./output.js"
import { either, refuse, showProblem } from "./messages.js"
import { readOptions, readWith, type ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface ScoreFlags extends ReadingFlags, OutputFlags {
  readonly reduction?: string
}
const REDUCTIONS = [1, 2, 4, 8, 16, 32]
type Writer = (score: Score, reduction?: number) => Promise<string | Uint8Array> | string | Uint8Array

const WRITERS: Record<string, Writer> = {
  // The engraver is large: it is loaded only when a picture is wanted.
  ".svg": async (score, reduction) => (await import("./engrave.js")).engrave(mei(score, reduction)),
  ".mei": (score, reduction) => mei(score, reduction),
  ".mid": score => writeMidi(score),
}
const mei = (score: Score, reduction?: number) => modernMei(score, reduction ? { reduction } : {})

export async function score(file: string, flags: ScoreFlags, shell: Shell): Promise<number> {
  const write = WRITERS[endingOf(flags.output)]
  if (!write) return refuse([unknownEnding(flags.output, Object.keys(WRITERS))], shell, file)
  const options = readOptions(flags)
  const reduction = parseReduction(flags.reduction)
  const input = readInput(file)
  if (!options.ok || !reduction.ok || !input.ok) {
    const wrong = [options, reduction, input].filter(outcome => !outcome.ok)
    return refuse(
      wrong.flatMap(outcome => outcome.problems),
      shell,
      file,
    )
  }
  const { page, readings } = readWith(input.value.page, options.value, flags.alone)
  const aligned = alignVoices(page, readings)
  const problem = save(flags, await write(aligned, reduction.value), shell)
  if (problem) return refuse([problem], shell, file)
  const problems = [...input.value.problems, ...readings.flatMap(one => one.problems), ...aligned.problems]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** "4" or "1:4": values a quarter as long as written. */
function parseReduction(text: string | undefined): Result<number | undefined> {
  const value = text === undefined ? undefined : Number(text.replace(/^1[:/]/, ""))
  if (value === undefined || REDUCTIONS.includes(value)) return { ok: true, value, problems: [] }
  const problem: Problem = {
    code: "bad-reduction",
    what: `“${text}” is no reduction.`,
    where: { place: "--reduction" },
    mend: `Write how many times shorter than written the values are to be: ${either(REDUCTIONS.map(String))}.`,
    severity: "error",
  }
  return { ok: false, problems: [problem] }
}
