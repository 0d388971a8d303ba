/** What can be asked of a drawing written as SVG. */
import type { Path, TextMark } from "./scene.js"
import type { Theme } from "./themes.js"

export interface SvgOptions {
  readonly theme?: Theme
  /** Put before every id, so that several drawings can stand in one page. */
  readonly idPrefix?: string
  /** Width at which it is to be shown; the drawing's own without it. The numbers inside stay. */
  readonly shownWidth?: number
  /** The outline of a text in its own units, starting at 0, 0, when letters are to be drawn without their font. */
  readonly outline?: (text: TextMark) => Path | undefined
}

/** Where the items' own 0, 0 stands, and how many px their unit is. */
export interface Placing {
  readonly x?: number
  readonly y?: number
  readonly scale?: number
}
