/** Division trees side by side, all by one measure of time. */
import { signId, toNumber, toText } from "../../../base/index.js"
import { drawNote, textWidth, wrapped, type Item, type Mark } from "../../../drawing/index.js"
import { type Level, type Note } from "../../../page/index.js"
import type { Body, Plate, Room } from "../frame.js"
import { countText, LEVEL_NAMES } from "../../../reading/index.js"
import { figures, letters, SUM, words } from "../letters.js"
import { drawOwn, isWhite, signsIn, type PracticeWish } from "../own-signs.js"
import { captionFor } from "../sources.js"
import { type DivisionTree, type TreeLevel } from "./trees.js"

export function divisionPlate(trees: readonly DivisionTree[], practice: PracticeWish): Plate {
  const many = trees.length > 1
  return {
    headline: many ? "How the breve divides" : "How time divides",
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

const minimsOf = ({ levels }: DivisionTree): number => toNumber(levels[0]!.value)
const BELOW = 56
const FAR_BELOW = 112
/** Two rows of trees do not fill it by themselves. */
const isTall = ({ width, height }: Room): boolean => Number.isFinite(height) && height > width * 1.2
const besideIn = ({ width }: Room): number => (width > 1300 ? 64 : 44)

/** Signs as large as there is room for; then in as many columns as let a minim be widest. */
function drawTrees(trees: readonly DivisionTree[], practice: PracticeWish, room: Room): Body {
  const grids = Array.from({ length: trees.length }, (_, i) => gridOf(trees, i + 1, room))
  let last: Body = { items: [], height: 0, fits: false }
  for (const largest of [...(isTall(room) ? [38, 34, 30] : []), 27, 24, 21, 18, 15, 12, 9]) {
    const looks = (isTall(room) ? [FAR_BELOW, BELOW] : [BELOW]).map(below => ({ practice, largest, below }))
    const drawn = grids.flatMap(grid => looks.map(look => drawGrid(trees, grid, look, room))).filter(one => one.named)
    const fitting = drawn.filter(one => one.fits)
    if (fitting.length > 0) return fitting.reduce((best, one) => (one.scale > best.scale ? one : best))
    last = drawn.reduce(
      (best, one) => (one.height < best.height ? one : best),
      drawn[0] ?? { ...last, scale: 0, named: true },
    )
  }
  return { ...last, fits: false }
}

interface Look {
  readonly practice: PracticeWish
  /** Of a staff space. */
  readonly largest: number
  /** Between one row of trees and the next. */
  readonly below: number
}

interface Grid {
  readonly columns: number
  /** Units in a minim. */
  readonly scale: number
}

function gridOf(trees: readonly DivisionTree[], columns: number, room: Room): Grid {
  const rows = Array.from({ length: Math.ceil(trees.length / columns) }, (_, row) =>
    trees.slice(row * columns, (row + 1) * columns),
  )
  const beside = besideIn(room)
  const scale = Math.min(
    ...rows.map(row => (room.width - beside * (row.length - 1)) / row.reduce((sum, one) => sum + minimsOf(one), 0)),
  )
  return { columns, scale: Math.min(scale, 110) }
}

function drawGrid(trees: readonly DivisionTree[], { columns, scale }: Grid, look: Look, room: Room) {
  const items: Item[] = []
  const beside = besideIn(room)
  let [y, named] = [room.top, true]
  for (let from = 0; from < trees.length; from += columns) {
    let x = room.left
    let height = 0
    const row = trees.slice(from, from + columns)
    const heads = drawHeads(row, scale, beside, look.practice)
    const headRoom = Math.max(...heads.map(one => one.height))
    for (const [i, tree] of row.entries()) {
      const drawn = drawTree(tree, heads[i]!, headRoom, scale, look)
      items.push({ shape: "group", part: "tree", x, y, content: drawn.items })
      named = named && drawn.named
      x += minimsOf(tree) * scale + beside
      height = Math.max(height, drawn.height)
    }
    y += height + (from + columns < trees.length ? look.below : 0)
  }
  return { items, height: y - room.top, fits: y - room.top <= room.height, scale, named }
}

const [BAND, STEP] = [42, 30]

/** With its left edge and top at 0. */
function drawTree(tree: DivisionTree, head: Head, top: number, scale: number, { practice, largest }: Look) {
  const space = Math.max(6, Math.min(largest, (scale - 9) / 1.2))
  const items: Item[] = [...head.items]
  let y = top
  tree.levels.forEach((level, i) => {
    const row = drawRow(level, tree, { scale, space, top: y, first: i === 0 }, practice)
    items.push(...row.items)
    y = row.bottom
  })
  return { items, height: y, named: head.named }
}

interface Head {
  readonly items: readonly Item[]
  readonly height: number
  readonly named: boolean
}

/** Names stand beside all signs of a row, or under all of them, smaller where a tree is very narrow. */
function drawHeads(row: readonly DivisionTree[], scale: number, beside: number, practice: PracticeWish): Head[] {
  const forms = [
    { size: 27, under: false },
    { size: 27, under: true },
    { size: 24, under: true },
  ]
  const rooms = row.map((tree, i) => minimsOf(tree) * scale + (i < row.length - 1 ? beside * 0.6 : 2))
  const all = forms.map(form => row.map((tree, i) => drawHead(tree, rooms[i]!, form, practice)))
  return all.find(heads => heads.every(one => one.named)) ?? all.at(-1)!
}

/** The sign, its names, and what is multiplied. */
function drawHead(
  { sign, names, levels }: DivisionTree,
  room: number,
  { size, under }: { size: number; under: boolean },
  practice: PracticeWish,
): Head {
  const written = signsIn(`${sign} B o`, isWhite(practice)).filter(one => one.kind === "mensuration")
  const drawn = drawOwn(written, { lines: 1 })
  const space = 27
  const wide = (drawn.box.right - drawn.box.left) * space
  const at = { x: -drawn.box.left * space, y: 38 }
  const item: Item[] = wide > 0 ? [{ shape: "group", part: "sign", ...at, scale: space, content: [drawn.item] }] : []
  const named = words(size, { weight: 700 })
  const left = under || wide === 0 ? 0 : wide + 22
  const top = 28 + (under && wide > 0 ? 76 : 0)
  const lines = names.flatMap(name => wrapped(name, named, room - left))
  const sum = levels.slice(1).map((one, i) => one.count / levels[i]!.count)
  const marks = [
    ...lines.map((line, n) => letters(line, left, top + n * 32, named, { part: "name", fill: "red" })),
    letters(`${sum.join(" × ")} = ${levels.at(-1)!.count}`, left, top + lines.length * 32 + 2, SUM, {
      part: "sum",
      fill: "ink",
    }),
  ]
  const fits = marks.every(one => one.x + one.length! <= room) && (under || lines.length === names.length)
  return { items: [...item, ...marks], height: top + lines.length * 32 + 22, named: fits }
}

interface RowPlace {
  readonly scale: number
  readonly space: number
  readonly top: number
  readonly first: boolean
}

/** Signs over bands, each from its moment on; lines come down from the row above to where its parts begin. */
function drawRow({ level, value, count }: TreeLevel, tree: DivisionTree, place: RowPlace, practice: PracticeWish) {
  const { scale, space, top, first } = place
  const drawn = drawNote(noteOf(level), 0, { white: isWhite(practice), lines: 5 })
  const long = level === "longa" || level === "maxima"
  const over = (long ? 0.6 : -drawn.box.top) * space
  const under = drawn.box.bottom * space
  const signY = top + (first ? 0 : STEP) + over
  const bandTop = signY + under + 9
  const each = toNumber(value) * scale
  const items: Item[] = []
  const text = countText(value)
  const width = textWidth(text, COUNT)
  for (let i = 0; i < count; i++) {
    const x = i * each
    items.push(
      ...(first ? [] : [branch(x, top, bandTop, isPartOf(i, count, tree))]),
      band(x, bandTop, each),
      {
        shape: "group",
        part: "value",
        x: x + Math.min(9, (each - (drawn.body.right - drawn.body.left) * space) / 2) - drawn.body.left * space,
        y: signY,
        scale: space,
        content: drawn.content,
      },
      ...(width <= each
        ? [
            letters(text, x + Math.min(9, (each - width) / 2), bandTop + BAND / 2 + 10, COUNT, {
              part: "count",
              fill: "ink",
            }),
          ]
        : []),
    )
  }
  return { items, bottom: bandTop + BAND }
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

function band(x: number, y: number, width: number): Mark {
  return {
    shape: "rect",
    part: "band",
    x,
    y,
    width,
    height: BAND,
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
