/** A file's text as a page, in either of the two forms in which a page is written. */
import type { Result } from "../base/index.js"
import { openMei } from "./open-mei.js"
import { openShorthand } from "./open-shorthand.js"
import { isMei, type Opened } from "./opened.js"

/** Reads MEI or shorthand, told apart by the text, then by the name; every problem names the file. Never throws. */
export function openText(file: string, text: string): Result<Opened> {
  return isMei(file, text) ? openMei(file, text) : openShorthand(file, text)
}
