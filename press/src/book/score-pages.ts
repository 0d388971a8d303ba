/** The pages of a score or a part: systems of one size, as large as they may be, on as few pages as hold them. */
import {
  paginate,
  prefatoryStaves,
  spread,
  type EditionConventions,
  type EngravedScore,
  type EngravedSystem,
  type Page,
  type Score,
} from "@resolutio/core"
import type { Engraver } from "../pictures/engrave.js"
import type { Letters } from "./letters.js"
import { Painter } from "./paint.js"
import type { Sheets } from "./sheets.js"

export interface ScoreToPrint {
  readonly page: Page
  readonly score: Score
  readonly conventions: Partial<EditionConventions>
  readonly prefatory: "full" | "names" | "incipits"
  /** A part: several bars of silence stand as one rest with their number. */
  readonly part?: boolean
  /** Of a staff space, in points; it is smaller where a system would be higher than a page. */
  readonly space: number
}

/** A staff space in the engraver's units, and in those that its width is asked for in. */
const UNITS = 180
const ASKED = 18
/** Under it nobody can read; a system that is still too high is made smaller still, for it is never cut. */
const SMALLEST = 2.2

interface Engraved {
  readonly score: EngravedScore
  /** Points in one of the engraver's units. */
  readonly scale: number
}

/**
 * Engraved so that the highest system fits a page of this room, in points, and no few bars are left over for a last system where a
 * slightly smaller size can help it.
 */
export function engraveToFit(engraver: Engraver, print: ScoreToPrint, width: number, height: number): Engraved {
  const { page, score, conventions, prefatory, space, part = false } = print
  const clefs = conventions.clefs
  const staves = prefatoryStaves(page, score, { show: prefatory, ...(clefs ? { clefs } : {}) })
  const engrave = (space: number): Engraved => {
    const options = { width: Math.round((width / space) * ASKED), margin: 0, title: false, prefatory: staves }
    const engraved = engraver.engrave({ score, conventions, countedRests: part }, options)
    return { score: engraved.score, scale: width / engraved.score.width }
  }
  const usual = engrave(space)
  return lowered(withoutRest(usual, engrave), engrave, height)
}

/** A last system less full than this looks like something left over. */
const LEFT_OVER = 0.3
/** For its sake everything is made smaller by at most so much. */
const LESS = 1.1

function withoutRest(first: Engraved, engrave: (space: number) => Engraved): Engraved {
  const { systems, width } = first.score
  const part = (systems.at(-1)?.extent.right ?? width) / width
  const needed = ((systems.length - 1 + part) / (systems.length - 1)) * 1.01
  if (systems.length < 2 || part > LEFT_OVER || needed > LESS) return first
  const tighter = engrave((first.scale * UNITS) / needed)
  return tighter.score.systems.length < systems.length ? tighter : first
}

/** As small as it has to be for its highest system; reduced as a picture where the engraver has to be asked too often. */
function lowered(first: Engraved, engrave: (space: number) => Engraved, height: number): Engraved {
  let engraved = first
  for (let turn = 0; turn < 3; turn++) {
    const high = highest(engraved)
    if (high <= height) return engraved
    engraved = engrave(Math.max(SMALLEST, (engraved.scale * UNITS * height * 0.97) / high))
  }
  return { ...engraved, scale: engraved.scale * Math.min(1, height / highest(engraved)) }
}

const highest = ({ score, scale }: Engraved): number => Math.max(0, ...score.systems.map(heightOf)) * scale
const heightOf = ({ extent }: EngravedSystem): number => Math.max(0, extent.bottom - extent.top)

/** Between two systems in staff spaces at least, and so much more at most where a page is to be filled. */
const LEAST_GAP = 3
const STRETCH = 9
/** Two staves of a system, so much further apart at most. */
const SPREAD = 3

/** From the height that is free on the page that is open; gives what was said of each page. */
export function writeScore(
  sheets: Sheets,
  letters: Letters,
  { score, scale }: Engraved,
  describe: (from: number, to: number) => string,
): void {
  const painter = new Painter(sheets.pdf, letters, score.glyphs)
  const space = UNITS * scale
  const blocks = score.systems.map(system => ({
    height: heightOf(system) * scale,
    gap: Math.max(LEAST_GAP * space, (system.gap ?? 0) * scale),
    inner: Math.max(0, system.staves.length - 1),
  }))
  const room = {
    height: sheets.bottom - sheets.top,
    first: sheets.room,
    stretch: STRETCH * space,
    spread: SPREAD * space,
  }
  paginate(blocks, room).forEach(({ blocks: own, tops, spread: more }, p) => {
    if (p > 0) sheets.addPage()
    const start = sheets.y
    sheets.tagged(
      "Figure",
      () =>
        own.forEach((number, i) => {
          const { content, extent } = spread(score.systems[number]!, more / scale)
          painter.paint(content, { x: sheets.left, y: start + tops[i]! - extent.top * scale, scale })
        }),
      describe(own[0]!, own.at(-1)!),
    )
    const last = own.at(-1)!
    sheets.y = start + tops.at(-1)! + blocks[last]!.height + more * blocks[last]!.inner
  })
}
