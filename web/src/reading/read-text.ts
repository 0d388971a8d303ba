/** A file's text as a page. What it takes for MEI is large, and loaded when the first file is opened. */
import { openText } from "@resolutio/core"
import type { TextRead } from "./messages.js"

export function readText(file: string, text: string): TextRead {
  const opened = openText(file, text)
  if (!opened.ok) return { ok: false, problems: opened.problems }
  const { page, document, problems } = opened.value
  return { ok: true, page, problems, ...(document ? { mei: document.source } : {}) }
}
