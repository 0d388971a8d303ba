/** A page from a file. */
import { openText, type Opened, type Result } from "@resolutio/core"
import { readText } from "./files.js"

export interface Input extends Opened {
  readonly file: string
}

/** The page of a file; every problem names the file. */
export function readInput(file: string): Result<Input> {
  const text = readText(file)
  if (!text.ok) return text
  const opened = openText(file, text.value)
  return opened.ok ? { ...opened, value: { file, ...opened.value } } : opened
}
