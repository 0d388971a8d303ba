/** A file's text as a page, in either of the two forms in which a page is written. */
import type { Problem, Result } from "../base/index.js"
import { parseShorthand, type Page } from "../page/index.js"
import { readMei, type MeiDocument } from "./mei/index.js"

/** A page as it was opened. */
export interface Opened {
  readonly page: Page
  /** The MEI document behind the page, when the text is MEI: what is kept in it is written back with it. */
  readonly document?: MeiDocument
  /** What was odd in the text, though it could be read. */
  readonly problems: readonly Problem[]
}

/** Reads MEI or shorthand, told apart by the text, then by the name; every problem names the file. Never throws. */
export function openText(file: string, text: string): Result<Opened> {
  const outcome = isMei(file, text) ? fromMei(file, text) : fromShorthand(file, text)
  const problems = outcome.problems.map(problem => ({ ...problem, where: { file, ...problem.where } }))
  if (!outcome.ok) return { ok: false, problems }
  return { ok: true, value: { ...outcome.value, problems }, problems }
}

/** XML begins with "<", shorthand never does; for a file with neither, its name decides whose message fits. */
function isMei(file: string, text: string): boolean {
  return text.trimStart().startsWith("<") || /\.(mei|xml)$/i.test(file)
}

function fromMei(file: string, text: string): Result<Omit<Opened, "problems">> {
  const read = readMei(text, file)
  if (!read.ok) return read
  const { value: document, problems } = read
  return { ok: true, value: { page: document.page, document }, problems }
}

function fromShorthand(file: string, text: string): Result<Omit<Opened, "problems">> {
  const read = parseShorthand(text, file)
  return read.ok ? { ok: true, value: { page: read.value }, problems: read.problems } : read
}
