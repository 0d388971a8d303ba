/** The table of rests: all on one staff, or one under another. */
import {
  drawSign,
  textWidth,
  USUAL_CLEF,
  wrapped,
  type Item,
  type Mark,
  type PathStep,
} from "../../../drawing/index.js"
import type { Rest, Sign } from "../../../page/index.js"
import type { Body, Plate, Room } from "../frame.js"
import { COUNT, figures, letters, words } from "../letters.js"
import { drawOwn, isWhite, signsIn, withoutIds, type PracticeWish } from "../own-signs.js"
import { captionFor } from "../sources.js"
import { type RestColumn, type RestTable } from "./rests.js"

export function restsPlate(table: RestTable): Plate {
  const earlier = table.practice.name === "ars-antiqua"
  return {
    headline: "Silence is measured too",
    says: earlier
      ? "A rest lasts as many tempora as it fills spaces; the stroke through all lines ends the piece and is not counted."
      : "A long rest lasts as many breves as it fills spaces. A rest is never shortened or doubled by its neighbours.",
    caption: [captionFor([[table.practice.name, "pausa-manet"]])],
    alt: `Rests by length, worth in ${earlier ? "tempora" : "minims"}. ${table.columns.map(one => columnInWords(one, table.rows)).join(" ")}`,
    draw: room => (room.width > 1300 ? drawAcross(table, room) : drawDown(table, room)),
  }
}

const columnInWords = ({ name, spaces, worth }: RestColumn, rows: readonly string[]): string =>
  `${name}, ${spaces}: ${worth.map((one, i) => (one === "" ? "not counted" : rows.length > 1 ? `${one} under ${rows[i]}` : one)).join(", ")}.`

const NAME = words(28, { weight: 700 })
const SPACES = figures(26)
const ROW = 66
/** Room for a sign of mensuration, or for two figures. */
const LAST_COUNT = 46

function restOf(written: string): Sign {
  const sign = signsIn(written)[0]!
  // in the middle of the staff, where one expects it
  return sign.kind === "rest" ? ({ ...sign, ...(written === "rM" ? { loc: 4 } : {}) } satisfies Rest) : sign
}

function staff(width: number, space: number, y: number): Mark {
  const path = Array.from({ length: 5 }, (_, i) => y - i * space).flatMap((at): PathStep[] => [
    ["M", 0, at],
    ["L", width, at],
  ])
  return { shape: "path", part: "staff", path, stroke: { role: "staff", width: Math.max(1.8, space / 14) } }
}

/** All on one staff, with a table under it. */
function drawAcross({ columns, rows, practice }: RestTable, room: Room): Body {
  const label = rows.length > 1 ? 116 : 160
  const step = (room.width - label) / columns.length
  const fixed = 96 + rows.length * ROW + 20
  const space = Math.max(18, Math.min(44, (Math.min(room.height, 900) - fixed) / 5.2))
  const items: Item[] = [staff(room.width, space, 4 * space + 10)]
  const foot = 4 * space + 10
  columns.forEach(({ written, name, spaces, worth }, i) => {
    const x = label + i * step
    const drawn = drawSign(restOf(written), { clef: USUAL_CLEF }, { white: isWhite(practice), lines: 5 })
    const at = { x: x - drawn.box.left * space, y: foot, scale: space }
    items.push({ shape: "group", part: "rest-column", ...at, content: [withoutIds(drawn.item)] })
    const lines = wrapped(name, NAME, step - 14)
    lines.forEach((line, n) => items.push(letters(line, x, foot + 52 + n * 32, NAME, { part: "name", fill: "red" })))
    items.push(letters(spaces, x, foot + 52 + lines.length * 32 + 2, SPACES, { part: "spaces", fill: "second" }))
    worth.forEach((one, row) => items.push(worthMark(one, x, foot + 170 + row * ROW)))
  })
  items.push(...rowLines(rows.length, 0, foot + 170, room.width), ...rowLabels(rows, practice, foot + 170))
  const height = foot + 170 + (rows.length - 1) * ROW + 20
  const placed: Item = { shape: "group", x: room.left, y: room.top, content: items }
  return { items: [placed], height, fits: height <= room.height }
}

const worthMark = (worth: string, x: number, y: number): Item =>
  worth === ""
    ? letters("not counted", x, y, words(26, { italic: true }), { part: "worth", fill: "second" })
    : letters(worth, x, y, COUNT, { part: "worth", fill: "ink" })

/** Thin rules between rows of the table. */
const rowLines = (rows: number, x: number, top: number, width: number): Mark[] =>
  Array.from({ length: rows }, (_, i) => ({
    shape: "line",
    part: "table-line",
    x1: x,
    x2: width,
    y1: top + i * ROW - 45,
    y2: top + i * ROW - 45,
    stroke: { role: "clayEdge", width: i === 0 ? 2.5 : 1.5 },
  }))

function rowLabels(rows: readonly string[], practice: PracticeWish, top: number): Item[] {
  return rows.map((row, i): Item => {
    const y = top + i * ROW
    if (rows.length === 1) return letters(row, 0, y, words(28, { italic: true }), { part: "rubric", fill: "red" })
    return signLabel(row, practice, 0, y - 11)
  })
}

/** A sign of mensuration, its middle on y. */
function signLabel(sign: string, practice: PracticeWish, x: number, y: number): Item {
  const written = signsIn(`${sign} B o`, isWhite(practice)).filter(one => one.kind === "mensuration")
  const { item, box } = drawOwn(written, { lines: 1 })
  return { shape: "group", part: "sign", x: x - box.left * 19, y, scale: 19, content: [item] }
}

/** Columns of counts fill the room from the names to the right margin, but are never so far apart that the eye loses its row. */
function countColumns(rows: number, from: number, width: number): { counts: number; pitch: number } {
  if (rows === 1) return { counts: Math.min(from, width - 144), pitch: 0 }
  const pitch = Math.max(84, Math.min(180, (width - LAST_COUNT - from) / (rows - 1)))
  return { counts: Math.min(from, width - LAST_COUNT - (rows - 1) * pitch), pitch }
}

/** One under another, each on a little staff of its own. */
function drawDown({ columns, rows, practice }: RestTable, room: Room): Body {
  const head = rows.length > 1 ? 62 : 44
  const step = Math.max(78, Math.min(190, (Math.min(room.height, 1400) - head) / columns.length))
  const space = Math.min(26, (step - 22) / 4)
  const wide = space * 4.5
  const nameX = wide + 26
  const namesEnd =
    nameX + Math.max(...columns.map(one => Math.max(textWidth(one.name, NAME), textWidth(one.spaces, SPACES))))
  const { counts, pitch } = countColumns(rows.length, namesEnd + 56, room.width)
  const items: Item[] = rows.map((row, i) =>
    rows.length === 1
      ? letters(row, counts, 30, words(28, { italic: true }), { part: "rubric", fill: "red" })
      : signLabel(row, practice, counts + i * pitch, 26),
  )
  columns.forEach(({ written, name, spaces, worth }, i) => {
    const foot = head + i * step + 4 * space + 4
    const drawn = drawSign(restOf(written), { clef: USUAL_CLEF }, { white: isWhite(practice), lines: 5 })
    const middle = wide / 2 - ((drawn.box.left + drawn.box.right) / 2) * space
    items.push({ shape: "group", part: "little-staff", y: foot, content: [staff(wide, space, 0)] })
    items.push({
      shape: "group",
      part: "rest-column",
      x: middle,
      y: foot,
      scale: space,
      content: [withoutIds(drawn.item)],
    })
    const centre = foot - 2 * space
    items.push(letters(name, nameX, centre - 4, NAME, { part: "name", fill: "red" }))
    items.push(letters(spaces, nameX, centre + 28, SPACES, { part: "spaces", fill: "second" }))
    worth.forEach((one, row) => items.push(worthMark(one, counts + row * pitch, centre + 11)))
  })
  const height = head + (columns.length - 1) * step + 4 * space + 12
  const placed: Item = { shape: "group", x: room.left, y: room.top, content: items }
  return { items: [placed], height, fits: height <= room.height }
}
