/** The table of ligatures: each form as it is written, and its notes apart. */
import {
  drawNote,
  drawSign,
  notePosition,
  USUAL_CLEF,
  wrapped,
  type Box,
  type Item,
  type Mark,
  type PathStep,
} from "../../../drawing/index.js"
import type { Level, Ligature, Note } from "../../../page/index.js"
import type { Body, Plate, Room } from "../frame.js"
import { LEVEL_NAMES } from "../../../reading/index.js"
import { letters, words } from "../letters.js"
import { isWhite, signsIn, withoutIds, type PracticeWish } from "../own-signs.js"
import { captionFor } from "../sources.js"
import { type LigatureCell, type LigatureRow, type LigatureTable } from "./ligatures.js"

export function ligaturePlate(table: LigatureTable): Plate {
  return {
    headline: "Ligatures: how they begin and how they end",
    says: "",
    caption: [captionFor([[table.practice.name, "ligatura"]], 3)],
    alt: `Ligatures, each with the notes it holds. ${table.rows
      .map(
        ({ name, cells }) =>
          `${name}: ${cells.map((cell, i) => `${placeInWords(table, i)}, ${cellInWords(cell)}`).join("; ")}.`,
      )
      .join(" ")}`,
    black: !isWhite(table.practice),
    draw: room => drawTable(table, room),
  }
}

const placeInWords = ({ ends }: LigatureTable, i: number): string =>
  `${ends[i]!.direction}, ${ends[i]!.ending}${ends[i]!.ending === "without" ? " perfection" : ""}`
const cellInWords = ({ notes }: LigatureCell): string => notes.map(one => LEVEL_NAMES[one.level]).join(" ")

const NAME = words(30, { weight: 700 })
const SAYS = words(26)
const SMALL = words(24, { weight: 700 })

/** Columns that stand side by side, and rows of them. */
interface Block {
  readonly ends: readonly number[]
  readonly rows: readonly LigatureRow[]
}

/** Signs at least this large in one picture; else the table is parted into several. */
const WANTED = 16

/** All in one picture if it can be; else falling and rising forms apart, or fewer rows in each. */
function drawTable(table: LigatureTable, room: Room): Body[] {
  const wide = room.width > 1300
  const columns = table.ends.map((_, i) => i)
  const sides = wide ? [columns] : [columns.slice(0, 2), columns.slice(2)]
  const blocks = sides.map((ends): Block => ({ ends, rows: table.rows }))
  const parted = (from: number, to?: number) => sides.map((ends): Block => ({ ends, rows: table.rows.slice(from, to) }))
  const pagings = [[blocks], blocks.map(one => [one]), [...parted(0, 3), ...parted(3)].map(one => [one])]
  for (const least of [WANTED, 11])
    for (const pages of pagings)
      for (const space of [26, 24, 22, 20, 18, 16, 14, 12, 11].filter(one => one >= least)) {
        const bodies = pages.map(page => drawPage(table, page, room, space))
        if (bodies.every(one => one.fits)) return bodies
      }
  return [drawPage(table, blocks, room, 11)]
}

function drawPage(table: LigatureTable, blocks: readonly Block[], room: Room, space: number): Body {
  const drawn = blocks.map(block => drawBlock(table, block, room, space))
  const items: Item[] = []
  let y = 0
  drawn.forEach((one, i) => {
    if (i > 0) y += 40
    items.push({ shape: "group", x: room.left, y: room.top + y, content: one.items })
    y += one.height
  })
  return { items, height: y, fits: drawn.every(one => one.fits) && y <= room.height }
}

function drawBlock(table: LigatureTable, { ends, rows }: Block, room: Room, space: number): Body {
  // names of the rows stand over them where there is no room beside
  const beside = room.width > 800
  const label = beside ? Math.min(330, room.width * 0.27) : 0
  const gap = room.width > 1300 ? 44 : 26
  const step = (room.width - label + gap) / ends.length
  const width = step - gap
  const items: Item[] = [
    ...heads(
      ends.map(i => table.ends[i]!),
      label,
      step,
      width,
    ),
  ]
  let y = HEAD + ROW_GAP
  let fits = true
  for (const row of rows) {
    const names = rowName(row, beside ? label - 16 : room.width, beside)
    const cells = ends.map(i => drawCell(row.cells[i]!, table.practice, space, width))
    const over = Math.max(...cells.map(one => one.over))
    const under = Math.max(...cells.map(one => one.under))
    fits = fits && cells.every(one => one.wide <= width)
    // beside the staves the names stand at the middle of their height
    const middle = 1.5 * space
    const top = y + (beside ? Math.max(over, names.height / 2 - middle) : names.height + over)
    const namesTop = beside ? top + middle - names.height / 2 : y
    items.push({ shape: "group", y: namesTop, content: names.items })
    cells.forEach((one, i) =>
      items.push({ shape: "group", part: "ligature-cell", x: label + i * step, y: top, content: one.items }),
    )
    y = Math.max(top + under, namesTop + names.height) + ROW_GAP
  }
  return { items, height: y - ROW_GAP, fits }
}

const HEAD = 112
/** Between rows, and between the rule and the first of them, whose staff is not to look like more of it. */
const ROW_GAP = 18

/** Over the columns, with a rule under them. */
function heads(ends: LigatureTable["ends"], left: number, step: number, width: number): Item[] {
  const small = width < 190
  const items = ends.flatMap(({ direction, ending, says }, i): Item[] => {
    const x = left + i * step
    const first = i === 0 || ends[i - 1]!.direction !== direction
    const name = wrapped(ending, small ? SMALL : NAME, width)
    return [
      ...(first ? [letters(direction, x, 26, words(30, { italic: true }), { part: "rubric", fill: "red" })] : []),
      letters(name.length > 1 && small ? ending.replace(" perfection", "") : ending, x, 62, small ? SMALL : NAME, {
        part: "name",
        fill: "red",
      }),
      ...(width >= 230 ? [letters(says, x, 94, SAYS, { part: "says", fill: "second" })] : []),
    ]
  })
  const right = left + ends.length * step - (step - width)
  const rule: Mark = {
    shape: "line",
    part: "table-line",
    x1: left,
    x2: right,
    y1: HEAD - 6,
    y2: HEAD - 6,
    stroke: { role: "clayEdge", width: 2.5 },
  }
  return [...items, rule]
}

/** Its own top is y 0. */
function rowName({ name, says }: LigatureRow, room: number, beside: boolean): Pick<Body, "items" | "height"> {
  if (!beside) {
    const mark = letters(name, 0, 30, NAME, { part: "name", fill: "red" })
    return {
      items: [mark, letters(says, mark.length! + 16, 30, SAYS, { part: "says", fill: "second" })],
      height: 40,
    }
  }
  const type = room < 230 ? words(26, { weight: 700 }) : NAME
  const lines = wrapped(name, type, room).map((line, i) =>
    letters(line, 0, 23 + i * 32, type, { part: "name", fill: "red" }),
  )
  const more = wrapped(says, SAYS, room).map((line, i) =>
    letters(line, 0, 26 + (lines.length + i) * 31, SAYS, { part: "says", fill: "second" }),
  )
  return { items: [...lines, ...more], height: 3 + (lines.length + more.length) * 31 }
}

/** The form as it is written, and its notes apart at the same heights; y is 0 on the top line of its staff. */
function drawCell({ written, notes }: LigatureCell, practice: PracticeWish, space: number, width: number) {
  const white = isWhite(practice)
  const style = { white, lines: 4 }
  const [sign] = signsIn(written, white) as [Ligature]
  const drawn = drawSign(sign, { clef: CLEF }, style)
  const apart = notesOf(sign, notes)
  const pieces: { item: Item; box: Box }[] = [{ item: withoutIds(drawn.item), box: drawn.box }]
  let x = Math.max(drawn.box.right - drawn.box.left + 2.7, 5.4)
  for (const note of apart) {
    const own = drawNote(note, notePosition(note, CLEF, style), style)
    pieces.push({
      item: inSecond({ shape: "group", x: x - own.body.left, content: own.content }),
      box: { ...own.box, left: x, right: x + own.box.right - own.body.left },
    })
    x += own.body.right - own.body.left + 0.75
  }
  const top = Math.min(-3, ...pieces.map(one => one.box.top))
  const bottom = Math.max(0, ...pieces.map(one => one.box.bottom))
  const arrowX = Math.max(drawn.box.right - drawn.box.left + 0.9, 3.4)
  const left = 0.5 - drawn.box.left
  const content: Item[] = [
    { shape: "group", x: left, content: [pieces[0]!.item] },
    ...pieces.slice(1).map(one => ({ shape: "group", x: 0.5, content: [one.item] }) as const),
    arrow(arrowX, -1.5),
  ]
  return {
    items: [staff(width, space, 3 * space), { shape: "group", y: 3 * space, scale: space, content } satisfies Item],
    over: (-top - 3) * space + 4,
    under: (3 + bottom) * space + 4,
    wide: (x + 0.5) * space,
  }
}

/** c on the third of four lines. */
const CLEF = { ...USUAL_CLEF, line: 3 }

function notesOf({ members }: Ligature, levels: readonly { level: Level }[]): Note[] {
  return members
    .filter((one): one is Note => one.kind === "note")
    .map(({ id, pitch }, i) => ({
      kind: "note",
      id,
      ...(pitch ? { pitch } : {}),
      level: levels[i]?.level ?? "brevis",
      coloration: "none",
      stems: [],
      syllables: [],
    }))
}

function inSecond(item: Item): Item {
  if (item.shape === "group") return { ...item, content: item.content.map(inSecond) }
  return item.fill === "ink" ? { ...item, fill: "second" } : item
}

function arrow(x: number, y: number): Item {
  const path: PathStep[] = [
    ["M", x, y],
    ["L", x + 1.3, y],
    ["M", x + 0.9, y - 0.35],
    ["L", x + 1.3, y],
    ["L", x + 0.9, y + 0.35],
  ]
  return { shape: "path", part: "arrow", path, stroke: { role: "clayEdge", width: 0.16, join: "round", cap: "round" } }
}

function staff(width: number, space: number, y: number): Mark {
  const path = Array.from({ length: 4 }, (_, i) => y - i * space).flatMap((at): PathStep[] => [
    ["M", 0, at],
    ["L", width, at],
  ])
  return { shape: "path", part: "staff", path, stroke: { role: "staff", width: 1.8 } }
}
