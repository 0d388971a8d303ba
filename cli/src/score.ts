/** `resolutio score`: the modern score, as a picture, as MEI, MusicXML or MIDI; or the readings as a table. */
import {
  TooShort,
  alignVoices,
  csvCannotCarry,
  midiCannotCarry,
  modernMei,
  modernMeiCannotCarry,
  musicXmlCannotCarry,
  readingsCsv,
  writeMidi,
  writeMusicXml,
  type Problem,
  type Result,
  type Score,
  type ValueOptions,
} from "@resolutio/core"
import { readInput } from "./input.js"
import { endingOf, save, tellLosses, unknownEnding, type OutputFlags } from "./output.js"
import { either, refuse, showProblem } from "./messages.js"
import { readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"

export interface ScoreFlags extends ReadingFlags, OutputFlags {
  readonly reduction?: string
  readonly prefatoryStaves?: boolean
}
const REDUCTIONS = [1, 2, 4, 8, 16, 32]

interface Piece extends PageRead {
  readonly score: Score
  readonly options: ValueOptions
  /** Prefatory staves are wanted in pictures. */
  readonly prefatory: boolean
}
interface FileFormat {
  readonly write: (piece: Piece) => Promise<string | Uint8Array> | string | Uint8Array
  /** Sentences; a picture is for the eye and has none. */
  readonly cannotCarry?: (piece: Piece) => string[]
}

const pictured = ({ page, score, options, prefatory }: Piece) => ({ page, score, conventions: options, prefatory })
const musicXml = ({ score, options }: Piece) => writeMusicXml(score, options)
const FORMATS: Record<string, FileFormat> = {
  // The engraver is large: it is loaded only when a picture is wanted.
  ".svg": { write: async piece => (await import("./edition/score-picture.js")).scoreSvg(pictured(piece)) },
  ".png": { write: async piece => (await import("./edition/score-picture.js")).scorePng(pictured(piece)) },
  ".mei": {
    write: ({ score, options }) => modernMei(score, options),
    cannotCarry: ({ score, options }) => modernMeiCannotCarry(score, options),
  },
  ".mid": {
    write: ({ score, options }) => writeMidi(score, options),
    cannotCarry: ({ score, options }) => midiCannotCarry(score, options),
  },
  ".musicxml": { write: musicXml, cannotCarry: ({ score, options }) => musicXmlCannotCarry(score, options) },
  ".mxl": {
    write: async piece => (await import("./mxl.js")).compressed(musicXml(piece)),
    cannotCarry: ({ score, options }) => musicXmlCannotCarry(score, options),
  },
  ".csv": {
    write: ({ readings, options }) => readingsCsv(readings, options),
    cannotCarry: ({ page, readings }) => csvCannotCarry(page, readings),
  },
}

export async function score(file: string, flags: ScoreFlags, shell: Shell): Promise<number> {
  const format = FORMATS[endingOf(flags.output)]
  if (!format) return refuse([unknownEnding(flags.output, Object.keys(FORMATS))], shell, file)
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
  const read = readWith(input.value.page, options.value, flags.alone)
  const aligned = alignVoices(read.page, read.readings)
  const values = reduction.value ? { reduction: reduction.value } : {}
  const piece = { ...read, score: aligned, options: values, prefatory: flags.prefatoryStaves ?? true }
  const content = await written(format, piece)
  if (!content.ok) return refuse(content.problems, shell, file)
  const problem = save(flags, content.value, shell)
  if (problem) return refuse([problem], shell, file)
  tellLosses(format.cannotCarry?.(piece) ?? [], shell)
  const problems = [...input.value.problems, ...read.readings.flatMap(one => one.problems), ...aligned.problems]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** The file's content; a problem where a duration of the page comes out shorter than any note. */
async function written(format: FileFormat, piece: Piece): Promise<Result<string | Uint8Array>> {
  try {
    return { ok: true, value: await format.write(piece), problems: [] }
  } catch (error) {
    if (!(error instanceof TooShort)) throw error
    const problem: Problem = {
      code: "too-short",
      what: `There is no score of it: ${error.message}.`,
      mend: "Ask for a smaller --reduction, or look for durations given in the file, or proportions, that make a sign so short.",
      severity: "error",
    }
    return { ok: false, problems: [problem] }
  }
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
