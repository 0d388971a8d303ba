/** `resolutio score`: the modern score, as a picture, as MEI, MusicXML or MIDI; or the readings as a table. */
import {
  TooShort,
  alignVoices,
  csvCannotCarry,
  midiCannotCarry,
  modernMei,
  modernMeiCannotCarry,
  musicXmlCannotCarry,
  proposalsUpTo,
  proposeFicta,
  readingsCsv,
  valuesBy,
  withFicta,
  writeMidi,
  writeMusicXml,
  type AlignOptions,
  type EditionConventions,
  type Page,
  type Problem,
  type Result,
  type Score,
  type ValueOptions,
} from "@resolutio/core"
import { clefsOfNobody, conventionsIn, listStyles, type ConventionFlags } from "./conventions.js"
import { bookChoice, printBook, type BookChoice, type BookFlags } from "./edition/book.js"
import { readInput, type Input } from "./input.js"
import { endingOf, save, tellLosses, unknownEnding, type OutputFlags } from "./output.js"
import { refuse, showProblem } from "./messages.js"
import { readOptions, readWith, type PageRead, type ReadingFlags } from "./reading.js"
import { READ, READ_WITH_PROBLEMS, type Shell } from "./shell.js"
import { tooShort } from "./too-short.js"
import { TOOLS } from "./tools.js"

export interface ScoreFlags extends ReadingFlags, Omit<OutputFlags, "output">, ConventionFlags, BookFlags {
  readonly output?: string
  readonly listStyles?: boolean
  readonly prefatoryStaves?: boolean
  readonly repeats?: AlignOptions["repeats"]
}

interface Piece extends PageRead {
  readonly score: Score
  readonly conventions: EditionConventions
  readonly values: ValueOptions
  /** Prefatory staves are wanted in pictures. */
  readonly prefatory: boolean
  readonly input: Input
  readonly book: BookChoice
  readonly shell: Shell
}
type Content = string | Uint8Array
interface WithProblems {
  readonly bytes: Uint8Array
  readonly problems: readonly Problem[]
}
interface FileFormat {
  /** The content; with it, what could not be done. */
  readonly write: (piece: Piece) => Promise<Content | WithProblems> | Content | WithProblems
  /** Sentences; a picture is for the eye and has none. */
  readonly cannotCarry?: (piece: Piece) => string[]
}

const musicXml = ({ score, conventions }: Piece) => writeMusicXml(score, conventions)
const FORMATS: Record<string, FileFormat> = {
  // The engraver is large: it is loaded only when a picture is wanted.
  ".svg": { write: async piece => (await import("@resolutio/press")).scoreSvg(piece) },
  ".png": { write: async piece => (await import("@resolutio/press")).scorePng(piece, TOOLS) },
  ".pdf": { write: piece => printBook(piece, piece.input, piece.book, piece.shell) },
  ".mei": {
    write: ({ score, conventions }) => modernMei(score, conventions),
    cannotCarry: ({ score, conventions }) => modernMeiCannotCarry(score, conventions),
  },
  ".mid": {
    write: ({ score, values }) => writeMidi(score, values),
    cannotCarry: ({ score, values }) => midiCannotCarry(score, values),
  },
  ".musicxml": { write: musicXml, cannotCarry: ({ score, conventions }) => musicXmlCannotCarry(score, conventions) },
  ".mxl": {
    write: async piece => (await import("@resolutio/press")).compressed(musicXml(piece)),
    cannotCarry: ({ score, conventions }) => musicXmlCannotCarry(score, conventions),
  },
  ".csv": {
    write: ({ readings, values }) => readingsCsv(readings, values),
    cannotCarry: ({ page, readings }) => csvCannotCarry(page, readings),
  },
}

export async function score(file: string | undefined, flags: ScoreFlags, shell: Shell): Promise<number> {
  if (flags.listStyles) {
    listStyles(shell)
    return READ
  }
  const { output } = flags
  if (file === undefined || output === undefined) return refuse([missing(file)], shell)
  const format = FORMATS[endingOf(output)]
  if (!format) return refuse([unknownEnding(output, Object.keys(FORMATS))], shell, file)
  const options = readOptions(flags)
  const conventions = conventionsIn(flags)
  const book = bookChoice(flags)
  const input = readInput(file)
  if (!options.ok || !conventions.ok || !book.ok || !input.ok) {
    const wrong = [options, conventions, book, input].filter(outcome => !outcome.ok)
    return refuse(
      wrong.flatMap(outcome => outcome.problems),
      shell,
      file,
    )
  }
  const read = readWith(input.value.page, options.value, flags.alone)
  const aligned = sung(read.page, alignVoices(read.page, read.readings, { repeats: flags.repeats }), conventions.value)
  const nobody = clefsOfNobody(conventions.value, aligned.voices)
  if (nobody.length > 0) return refuse(nobody, shell, file)
  const piece: Piece = {
    ...read,
    score: aligned,
    conventions: conventions.value,
    values: valuesBy(conventions.value),
    prefatory: flags.prefatoryStaves ?? true,
    input: input.value,
    book: book.value,
    shell,
  }
  const content = await written(format, piece)
  if (!content.ok) return refuse(content.problems, shell, file)
  const problem = save({ output, force: flags.force }, content.value, shell)
  if (problem) return refuse([problem], shell, file)
  tellLosses(format.cannotCarry?.(piece) ?? [], shell)
  const reading = [...read.readings.flatMap(one => one.problems), ...aligned.problems]
  const problems = [...input.value.problems, ...reading, ...content.problems]
  for (const one of problems) shell.err(showProblem(one, file))
  return problems.length > 0 ? READ_WITH_PROBLEMS : READ
}

/** With the accidentals that are proposed, as far as the conventions want them. */
function sung(page: Page, score: Score, { ficta }: EditionConventions): Score {
  return ficta === "none" ? score : withFicta(score, proposalsUpTo(proposeFicta(page, score), ficta))
}

/** The file's content; a problem where a duration of the page comes out shorter than any note. */
async function written(format: FileFormat, piece: Piece): Promise<Result<Content>> {
  try {
    const made = await format.write(piece)
    if (typeof made === "string" || made instanceof Uint8Array) return { ok: true, value: made, problems: [] }
    return { ok: true, value: made.bytes, problems: made.problems }
  } catch (error) {
    if (!(error instanceof TooShort)) throw error
    return { ok: false, problems: [tooShort(error)] }
  }
}

function missing(file: string | undefined): Problem {
  return {
    code: file === undefined ? "no-file" : "no-output",
    what: file === undefined ? "It is not said which piece to write." : "It is not said what to write.",
    mend: "Give a file and a name: resolutio score piece.mei -o piece.svg",
    severity: "error",
  }
}
