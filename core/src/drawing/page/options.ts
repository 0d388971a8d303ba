/** What can be asked of the page view. */
import type { SignId } from "../../base/index.js"

export interface PageOptions {
  /** Width of the picture in px; 1200 without it. */
  readonly width?: number
  /** Px in a staff space; 12 without it. Smaller where a line of the source would not fit the width else. */
  readonly unit?: number
  /** Voices one after another, as scribes wrote them, or one under another, line by line. "apart" without it. */
  readonly voices?: "apart" | "under"
  /** As close as the shapes allow, as scribes did, or each sign as wide as any other. "shape" without it. */
  readonly spacing?: "shape" | "even"
  /** Lines end where the source's do, or only where they are full. "source" without it; a voice without breaks is set to fit. */
  readonly lines?: "source" | "fit"
  /** Colour of the staves; without it what the source has, or grey. */
  readonly staff?: "red" | "black" | "grey"
  /** When each note and rest sounds, in any unit: voices under another are then set so that what sounds together stands together. */
  readonly moments?: ReadonlyMap<SignId, number>
  /**
   * For a page that is being written: what was set stays as it was as far as it can. A line that still fits is filled or pressed by
   * itself, and lines near a change are broken anew only where one of them would be too full or too empty; what has to be smaller
   * is made so in steps. How it looks then depends on what it was before.
   */
  readonly settled?: boolean
  /** Height of one sheet in px: the drawing is then cut into sheets between staves. */
  readonly sheetHeight?: number
}

/** Margins and sizes in staff spaces. */
export const MARGIN = 3
export const TEXT_SIZE = 1.85
export const NAME_SIZE = 1.9
export const TITLE_SIZE = 2.8
/** An initial is as high as the staff. */
export const INITIAL_SIZE = 6.2
export const INITIAL_ROOM = 5.4
/** Free between the lowest and the highest of two staves. */
export const BETWEEN_STAVES = 1.1
export const BETWEEN_VOICES = 2.2
export const STAFF_LINE = 0.08
