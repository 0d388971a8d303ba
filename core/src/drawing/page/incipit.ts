/** How a voice begins, as it is written: clef, signature, signs, rests, and the first note or ligature on a short staff. */
import type { Voice } from "../../page/index.js"
import type { Role } from "../scene/scene.js"
import { styleOf } from "../signs/index.js"
import { stretchesOf, type Cell, type Gaps } from "./cells.js"
import { setRow } from "./set-line.js"
import { drawStaff, type DrawnStaff } from "./staff.js"

export interface Incipit extends DrawnStaff {
  /** Length of the staff. */
  readonly width: number
  /** Lines of the staff. */
  readonly lines: number
  /** How many rests were left out, where a voice is silent for so long that they would not fit. */
  readonly leftOut: number
}

export interface IncipitOptions {
  /** Length of the staff; without it, as long as its signs need. */
  readonly width?: number
  /** The signs take at most so much; 24 without it. */
  readonly longest?: number
  /** Of the lines; "staff" without it. */
  readonly role?: Role
}

const LEAD = 0.5
/** Gaps of a long row of rests are made so much smaller before any is left out. */
const TIGHT = 0.35

/** In staff spaces, y 0 on the bottom line. A voice without signs gets an empty staff. */
export function drawIncipit(voice: Voice, { width, longest = 24, role = "staff" }: IncipitOptions = {}): Incipit {
  const cells = opening(voice)
  const rests = cells.filter(one => one.kind === "rest").length
  let leftOut = 0
  let set = setRow(cells, LEAD, "shape")
  if (set.end > longest) set = setRow(cells.map(tightened), LEAD, "shape")
  while (set.end > longest && leftOut < rests - 1)
    set = setRow(withoutRests(cells, ++leftOut).map(tightened), LEAD, "shape")
  const length = Math.max(width ?? 0, set.end + LEAD)
  const { lines } = styleOf(voice)
  return { ...drawStaff({ row: set.row, lines, left: 0, right: length, role }), width: length, lines, leftOut }
}

/** Everything up to the first note or ligature, and what clings to it; no words. */
function opening(voice: Voice): Cell[] {
  const cells = stretchesOf(voice)
    .flatMap(stretch => stretch.cells)
    .filter(({ kind, item }) => kind !== "custos" && !(item.shape === "group" && item.content.length === 0))
  const first = cells.findIndex(({ kind }) => kind === "note" || kind === "ligature")
  const more = first < 0 ? 0 : cells.slice(first + 1).findIndex(cell => !cell.gaps.clings)
  const end = first < 0 || more < 0 ? cells.length : first + 1 + more
  return cells.slice(0, end).map(cell => ({ ...cell, words: [], above: [] }))
}

const tightened = (cell: Cell): Cell => (cell.kind === "rest" ? { ...cell, gaps: tighter(cell.gaps) } : cell)
const tighter = ({ before, after, clings }: Gaps): Gaps => ({ before: before * TIGHT, after: after * TIGHT, clings })

/** Without so many rests, the last ones first. */
function withoutRests(cells: readonly Cell[], count: number): Cell[] {
  let left = count
  return cells
    .toReversed()
    .filter(cell => cell.kind !== "rest" || left-- <= 0)
    .toReversed()
}
