/** Division trees side by side, all by one measure of time. */
import { signId, toNumber, toText } from "../../../base/index.js"
import { drawNote, textWidth, type Drawn, type Item, type Mark } from "../../../drawing/index.js"
import { type Level, type Note } from "../../../page/index.js"
import type { Body, Plate, Room } from "../frame.js"
import { countText, LEVEL_NAMES } from "../../../reading/index.js"
import { figures, letters } from "../letters.js"
import { isWhite, type PracticeWish } from "../own-signs.js"
import { captionFor } from "../sources.js"
import { gridsFor, type Grid, type GridRow } from "./tree-grids.js"
import { type DivisionTree, type TreeLevel } from "./trees.js"

export function divisionPlate(trees: readonly DivisionTree[], practice: PracticeWish): Plate {
  const many = trees.length > 1
  const ofBreves = trees.every(({ levels }) => levels[0]!.level === "brevis")
  return {
    headline: many && ofBreves ? "How the breve divides" : "How time divides",
    says: many ? saysOf(trees) : "",
    caption: [captionFor([[practice.name, "as-written"]])],
    alt: trees.map(inWords).join(" "),
    black: !isWhite(practice),
    draw: room => drawTrees(trees, practice, room),
  }
}

/** A stroke or a proportion makes the minim itself shorter. */
function saysOf(trees: readonly DivisionTree[]): string {
  const minims = new Set(trees.map(({ levels }) => toText(levels.at(-1)!.value)))
  return minims.size === 1
    ? "A minim lasts as long everywhere; what holds more minims lasts longer."
    : "All stand over one measure of time; a minim does not last as long under every sign."
}

const inWords = ({ names, levels }: DivisionTree): string =>
  `${names.join(", ")}: ${levels.map(({ level, count, value }) => `${count === 1 ? "one" : count} ${LEVEL_NAMES[level]}${count === 1 ? "" : "s"} of ${toText(value)}`).join(", ")} minims.`

interface Gaps {
  /** Between one row of trees and the next. */
  readonly below: number
  /** Between a band and the signs under it. */
  readonly step: number
  /** Height of a band. */
  readonly band: number
}
const USUAL: Gaps = { below: 56, step: 30, band: 42 }
/** Five levels one under another, with long names over them. */
const CLOSE: Gaps = { below: 40, step: 12, band: 36 }
const FAR_BELOW = 112
/** Two rows of trees do not fill it by themselves. */
const isTall = ({ width, height }: Room): boolean => Number.isFinite(height) && height > width * 1.2
const gapsIn = (room: Room): Gaps[] => (isTall(room) ? [{ ...USUAL, below: FAR_BELOW }, USUAL, CLOSE] : [USUAL, CLOSE])

/** Signs as large as there is room for; then in as many columns as let a minim be widest. */
function drawTrees(trees: readonly DivisionTree[], practice: PracticeWish, room: Room): Body {
  const grids = gridsFor(trees, practice, room).filter(one => one.named)
  const ways = SIZES.filter(size => size <= 27 || isTall(room)).map(largest =>
    grids.flatMap(grid =>
      gapsIn(room).map(gaps => {
        const look = { practice, largest, ...gaps }
        return { grid, look, height: heightOf(grid, look) }
      }),
    ),
  )
  const fitting = ways.map(same => same.filter(one => one.height <= room.height)).find(same => same.length > 0)
  if (fitting) {
    const { grid, look, height } = fitting.reduce((best, one) => (one.grid.scale > best.grid.scale ? one : best))
    return { items: drawGrid(grid, look, room), height, fits: true }
  }
  return { items: [], height: Math.min(...ways.flat().map(one => one.height), Infinity), fits: false }
}
/** Of a staff space, largest first. */
const SIZES = [38, 34, 30, 27, 24, 21, 18, 15, 12, 9]

interface Look extends Gaps {
  readonly practice: PracticeWish
  /** Of a staff space. */
  readonly largest: number
}

function heightOf(grid: Grid, look: Look): number {
  const rows = grid.rows.map(row => rowHeight(row, grid.scale, look))
  return rows.reduce((sum, one) => sum + one, 0) + (rows.length - 1) * look.below
}
const rowHeight = ({ trees, headRoom }: GridRow, scale: number, look: Look): number =>
  Math.max(...trees.map(({ tree }) => levelsOf(tree, headRoom, scale, look).at(-1)!.bottom))

function drawGrid(grid: Grid, look: Look, room: Room): Item[] {
  let y = room.top
  return grid.rows.flatMap(row => {
    const top = y
    y += rowHeight(row, grid.scale, look) + look.below
    return row.trees.map(({ tree, x, head }): Item => {
      const levels = levelsOf(tree, row.headRoom, grid.scale, look)
      const content = [...head.items, ...levels.flatMap(level => drawLevel(level, tree, grid.scale, look))]
      return { shape: "group", part: "tree", x, y: top, content }
    })
  })
}

/** A level of a tree with its place: heights under the top of the tree. */
interface Placed {
  readonly level: TreeLevel
  readonly first: boolean
  readonly drawn: Drawn
  readonly space: number
  readonly top: number
  readonly signY: number
  readonly bandTop: number
  readonly bottom: number
}

/** With its top at 0. */
function levelsOf(tree: DivisionTree, headRoom: number, scale: number, look: Look): Placed[] {
  let top = headRoom
  return tree.levels.map((level, i) => {
    const drawn = drawNote(noteOf(level.level), 0, { white: isWhite(look.practice), lines: 5 })
    const space = spaceFor(tree, i, scale, look)
    const long = level.level === "longa" || level.level === "maxima"
    const signY = top + (i === 0 ? 0 : look.step) + (long ? 0.6 : -drawn.box.top) * space
    const bandTop = signY + drawn.box.bottom * space + 9
    const placed = { level, first: i === 0, drawn, space, top, signY, bandTop, bottom: bandTop + look.band }
    top = placed.bottom
    return placed
  })
}

/** Signs of a tree have one size, except where its shortest would make all of them too small. */
function spaceFor({ levels }: DivisionTree, level: number, scale: number, { largest }: Look): number {
  const [own, shortest] = [levels[level]!, levels.at(-1)!].map(({ value }) => {
    const each = toNumber(value) * scale
    return (each - Math.min(9, each * 0.2)) / HEAD_WIDTH
  })
  return Math.max(SMALLEST, Math.min(largest, own!, Math.max(shortest!, LEGIBLE)))
}
const [SMALLEST, LEGIBLE] = [5, 14]
/** Of a lozenge, in staff spaces. */
const HEAD_WIDTH = 1.2

/** Signs over bands, each from its moment on; lines come down from the row above to where its parts begin. */
function drawLevel(placed: Placed, tree: DivisionTree, scale: number, { band: high }: Look): Item[] {
  const { first, drawn, space, top, signY, bandTop } = placed
  const { value, count } = placed.level
  const each = toNumber(value) * scale
  const text = countText(value)
  const width = textWidth(text, COUNT)
  const wide = (drawn.body.right - drawn.body.left) * space
  const sign = (x: number): Item => {
    const left = x + Math.min(9, Math.max(0, each - wide) / 2) - drawn.body.left * space
    return { shape: "group", part: "value", x: left, y: signY, scale: space, content: drawn.content }
  }
  const counted = (x: number): Item => {
    const left = x + Math.min(9, (each - width) / 2)
    return letters(text, left, bandTop + high / 2 + 10, COUNT, { part: "count", fill: "ink" })
  }
  return Array.from({ length: count }, (_, i) => {
    const x = i * each
    const begins = isPartOf(i, count, tree)
    return [
      ...(first ? [] : [branch(x, top, bandTop, begins)]),
      band(x, bandTop, each, high),
      // where signs would stand in one another only the first of each larger value is drawn
      ...(wide <= each || begins ? [sign(x)] : []),
      ...(width <= each - 4 ? [counted(x)] : []),
    ]
  }).flat()
}
const COUNT = figures(28, { weight: 600 })

const noteOf = (level: Level): Note => ({
  kind: "note",
  id: signId("value"),
  level,
  coloration: "none",
  stems: [],
  syllables: [],
})

function band(x: number, y: number, width: number, height: number): Mark {
  return {
    shape: "rect",
    part: "band",
    x,
    y,
    width,
    height,
    fill: "clayFill",
    stroke: { role: "clayEdge", width: 2 },
  }
}

/** Whether a value of a larger level begins with this one. */
const isPartOf = (i: number, count: number, { levels }: DivisionTree): boolean => {
  const larger = levels[levels.findIndex(one => one.count === count) - 1]
  return larger !== undefined && i % (count / larger.count) === 0
}

function branch(x: number, from: number, to: number, begins: boolean): Mark {
  const width = begins ? 2.5 : 2
  return {
    shape: "line",
    part: "branch",
    x1: x,
    x2: x,
    y1: from,
    y2: to,
    stroke: { role: "clayEdge", width, ...(begins ? {} : { dash: [4, 5] }) },
  }
}
