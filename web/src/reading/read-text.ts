/** A file's text as a page. What it takes for MEI is large, and loaded when the first such file is opened. */
import { isMei } from "@resolutio/core"
import type { TextRead } from "./messages.js"

export async function readText(file: string, text: string): Promise<TextRead> {
  const opened = isMei(file, text)
    ? (await import("./read-mei.js")).openMei(file, text)
    : (await import("./read-shorthand.js")).openShorthand(file, text)
  if (!opened.ok) return { ok: false, problems: opened.problems }
  const { page, document, problems } = opened.value
  return { ok: true, page, problems, ...(document ? { mei: document.source } : {}) }
}
