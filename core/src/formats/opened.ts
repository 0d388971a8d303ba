/** What opening a text gives, whatever its form. */
import type { Problem, Result } from "../base/index.js"
import type { Page } from "../page/index.js"
import type { MeiDocument } from "./mei/index.js"

/** A page as it was opened. */
export interface Opened {
  readonly page: Page
  /** The MEI document behind the page, when the text is MEI: what is kept in it is written back with it. */
  readonly document?: MeiDocument
  /** What was odd in the text, though it could be read. */
  readonly problems: readonly Problem[]
}

/** XML begins with "<", shorthand never does; for a file with neither, its name decides whose message fits. */
export function isMei(file: string, text: string): boolean {
  return text.trimStart().startsWith("<") || /\.(mei|xml)$/i.test(file)
}

/** The outcome, its problems naming the file. */
export function openedAs<T>(
  file: string,
  read: Result<T>,
  opened: (value: T) => Omit<Opened, "problems">,
): Result<Opened> {
  const problems = read.problems.map(problem => ({ ...problem, where: { file, ...problem.where } }))
  return read.ok ? { ok: true, value: { ...opened(read.value), problems }, problems } : { ok: false, problems }
}
