import type { Result } from "../base/index.js"
import { readMei } from "./mei/index.js"
import { openedAs, type Opened } from "./opened.js"

/** A text as MEI, for whoever knows that it is; see `openText`. */
export const openMei = (file: string, text: string): Result<Opened> =>
  openedAs(file, readMei(text, file), document => ({ page: document.page, document }))
