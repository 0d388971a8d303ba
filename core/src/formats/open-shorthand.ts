import type { Result } from "../base/index.js"
import { parseShorthand } from "../page/index.js"
import { openedAs, type Opened } from "./opened.js"

/** A text as shorthand, for whoever knows that it is; see `openText`. */
export const openShorthand = (file: string, text: string): Result<Opened> =>
  openedAs(file, parseShorthand(text, file), page => ({ page }))
