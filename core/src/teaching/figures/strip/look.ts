/** Sizes of a strip: old signs over bands over modern signs, on one axis of exact time. In units. */
import { pensOf, typesOf, type Look } from "../../../drawing/index.js"
import { words } from "../letters.js"

export interface Rows {
  /** Why each note lasts so long, in a few words under its band. */
  readonly words?: boolean
  /** Syllables under the old staff, rubrics over it. */
  readonly sung?: boolean
  /** Perfections with what they hold, added up. */
  readonly sums?: boolean
  /** On a staff, or only the values. */
  readonly modern?: "staff" | "values"
  /** As close as they can be read: for many voices. */
  readonly tight?: boolean
  /** Names of the rows ("as written") at their left, or over them. */
  readonly rubrics?: "left" | "above"
  /** A voice that stands alone has its name there too: others stand in pictures of their own. */
  readonly named?: boolean
  /** Dots stand by themselves, with room for a frame round each. */
  readonly framedDots?: boolean
}

export interface StripLook {
  /** A staff space of the old signs. */
  readonly space: number
  readonly modernSpace: number
  readonly rows: Rows
  readonly band: number
  /** Between the bands and what is over and under them. */
  readonly sleeve: number
  /** Void heads are the norm. */
  readonly white: boolean
  /** For forms and places. */
  readonly signs: Look
  /** For bands: their letters and lines are larger than those of the time view. */
  readonly bands: Look
  /** For lines of the staff: heavier in a figure seen alone. */
  readonly lines: Look
}

/** How far heads stand behind their moment. */
export const AFTER = 11
/** Of a dot in a frame from its head, in spaces; the frame goes so far beyond the dot on each side. */
export const FRAMED_DOT_GAP = 0.5
export const DOT_FRAME = 0.2

/** Of the sleeve over and under a band. */
export const SLEEVE = 13

const SYLLABLE = words(28)
const RUBRIC_OVER = words(28, { italic: true })

const looks = new Map<string, StripLook>()

/** What looks alike is the same object: forms are made once for each. */
export function stripLook(space: number, rows: Rows, white = false): StripLook {
  const { sung, words, sums, modern, tight, rubrics, named, framedDots } = rows
  const key = [space, white, sung, words, sums, modern, tight, rubrics, named, framedDots].join(" ")
  const look = looks.get(key) ?? lookOf(space, rows, white)
  looks.set(key, look)
  return look
}

function lookOf(space: number, rows: Rows, white: boolean): StripLook {
  const base: Look = {
    size: 1,
    compact: false,
    width: 0,
    margin: 0,
    right: 0,
    staffSpace: space,
    headSpace: space,
    over: 0,
    under: 0,
    band: 0,
    modern: 0,
    between: 0,
    storey: 0,
    storeys: 2,
    after: AFTER,
    words: rows.sung ? 1 : 0,
    values: true,
    names: 0,
    ...(rows.framedDots ? { dotGap: FRAMED_DOT_GAP } : {}),
    pens: pensOf(1),
    types: { ...typesOf(1), words: SYLLABLE, italicWords: { ...SYLLABLE, italic: true }, rubric: RUBRIC_OVER },
  }
  const sized = (size: number): Look => ({ ...base, size, pens: pensOf(size), types: typesOf(size) })
  const band = rows.tight ? 30 : Math.max(rows.modern === "values" ? 34 : 40, Math.min(54, space * 1.7))
  return {
    space,
    modernSpace: space * 0.92,
    rows,
    band,
    sleeve: rows.tight ? 9 : SLEEVE,
    white,
    signs: base,
    bands: { ...sized(band / 42), band },
    lines: sized(Math.max(1.25, space / 18)),
  }
}
