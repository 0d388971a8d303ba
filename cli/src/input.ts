/** From a file to its page: MEI or shorthand, told apart by what is in the file. */
import { parseShorthand, readMei, type MeiDocument, type Page, type Problem, type Result } from "@resolutio/core"
import { readText } from "./files.js"

export interface Input {
  readonly file: string
  readonly page: Page
  /** The MEI document behind the page, when the file is MEI: what is kept in it is written back with it. */
  readonly document?: MeiDocument
  /** What was odd in the file, though it could be read. */
  readonly problems: readonly Problem[]
}

/** The page of a file; every problem names the file. */
export function readInput(file: string): Result<Input> {
  const text = readText(file)
  if (!text.ok) return text
  const outcome = isMei(file, text.value) ? fromMei(file, text.value) : fromShorthand(file, text.value)
  const problems = outcome.problems.map(problem => ({ ...problem, where: { file, ...problem.where } }))
  if (!outcome.ok) return { ok: false, problems }
  return { ok: true, value: { ...outcome.value, problems }, problems }
}

/** XML begins with "<", shorthand never does; for a file with neither, its name decides whose message fits. */
function isMei(file: string, text: string): boolean {
  return text.trimStart().startsWith("<") || /\.(mei|xml)$/i.test(file)
}

function fromMei(file: string, text: string): Result<Input> {
  const read = readMei(text, file)
  if (!read.ok) return read
  const { value: document, problems } = read
  return { ok: true, value: { file, page: document.page, document, problems }, problems }
}

function fromShorthand(file: string, text: string): Result<Input> {
  const read = parseShorthand(text, file)
  if (!read.ok) return read
  return { ok: true, value: { file, page: read.value, problems: read.problems }, problems: read.problems }
}
