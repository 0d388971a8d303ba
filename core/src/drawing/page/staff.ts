/** One staff with its signs and syllables as a group, in staff spaces; y is 0 on its bottom line. */
import type { Box, Group, Item, Mark, Role, TextMark } from "../scene/scene.js"
import { elided } from "../text/elision.js"
import { ASCENT, DESCENT, ELISION, textWidth } from "../text/width.js"
import { around, markBox } from "../signs/index.js"
import { wordType, type Word } from "./words.js"
import { STAFF_LINE, TEXT_SIZE } from "./options.js"
import { rubrics } from "./rubrics.js"
import type { SetCell } from "./set-line.js"

export interface StaffContent {
  readonly row: readonly SetCell[]
  readonly lines: number
  readonly left: number
  readonly right: number
  readonly role: Role
  /** Further marks that belong to the staff: initial, name. */
  readonly extra?: readonly Mark[]
  /** Small, over the left end: where the source goes on. */
  readonly label?: string
  /** Stands over everything, from the left end on; its height is found here. */
  readonly name?: TextMark
}

/** The group and how far it reaches above and below its bottom line. */
export interface DrawnStaff {
  readonly group: Group
  readonly box: Box
}

const TEXT_LINE = TEXT_SIZE * 1.15

export function drawStaff({ row, lines, left, right, role, extra = [], label, name }: StaffContent): DrawnStaff {
  const content: Item[] = staffLines(lines, left, right, role)
  content.push(...extra)
  for (const { cell, x } of row) if (hasContent(cell.item)) content.push({ shape: "group", x, content: [cell.item] })
  const box = reach(row, { left, right, top: -(lines - 1) - 0.2, bottom: 0.2 }, extra)
  const marks = syllables(row, box.bottom)
  const over = rubrics(row, box.top, left, right)
  marks.push(...over, ...labelMark(label, left, aroundMarks(box, over).top))
  if (name) marks.push(overAll(name, aroundMarks(box, marks).top))
  content.push(...marks)
  const all = aroundMarks(box, marks)
  return { group: { shape: "group", part: "line", content }, box: { ...all, bottom: Math.max(all.bottom, AIR) } }
}

/** Under a staff below which nothing stands: staves are never so near that they look like one. */
const AIR = 1.6

/** The box around the marks too. */
function aroundMarks(box: Box, marks: readonly Mark[]): Box {
  let { left, right, top, bottom } = box
  for (const mark of marks) {
    const own = markBox(mark)
    left = Math.min(left, own.left)
    right = Math.max(right, own.right)
    top = Math.min(top, own.top)
    bottom = Math.max(bottom, own.bottom)
  }
  return { left, right, top, bottom }
}

const hasContent = (item: Item): boolean => item.shape !== "group" || item.content.length > 0

function staffLines(lines: number, left: number, right: number, role: Role): Mark[] {
  return Array.from({ length: lines }, (_, i) => ({
    shape: "line" as const,
    part: "staff",
    x1: left,
    x2: right,
    y1: -i,
    y2: -i,
    stroke: { role, width: STAFF_LINE },
  }))
}

function reach(row: readonly SetCell[], staff: Box, extra: readonly Mark[]): Box {
  let { left, right, top, bottom } = [staff, ...extra.filter(mark => mark.part === "initial").map(markBox)].reduce(
    around,
  )
  for (const { cell, x } of row) {
    left = Math.min(left, x + cell.box.left)
    right = Math.max(right, x + cell.box.right)
    top = Math.min(top, cell.box.top)
    bottom = Math.max(bottom, cell.box.bottom)
  }
  return { left, right, top, bottom }
}

/** All stanzas below everything on the staff, with hyphens between the syllables of a word, and where a line ends within one. */
function syllables(row: readonly SetCell[], bottom: number): Mark[] {
  const found = new Set<number>()
  for (const { cell } of row) for (const { stanza } of cell.words) found.add(stanza)
  const first = Math.max(1, bottom + 0.25) + ASCENT.words * TEXT_SIZE
  const marks: Mark[] = []
  const stanzas = [...found].sort((a, b) => a - b)
  stanzas.forEach((stanza, i) => stanzaMarks(row, stanza, first + i * TEXT_LINE, marks))
  return marks
}

function stanzaMarks(row: readonly SetCell[], stanza: number, y: number, marks: Mark[]): void {
  let before: Word | undefined
  let end = 0
  for (const { cell, x } of row)
    for (const word of cell.words) {
      if (word.stanza !== stanza) continue
      const from = x + word.x
      if (before?.join === "-") hyphenBetween(end, from, y, before, marks)
      const mark = textMark("syllable", word.text, from, y, word)
      if (word.text.includes(ELISION)) marks.push(...elided(mark))
      else marks.push(mark)
      before = word
      end = from + word.width
    }
  if (before?.join === "-") hyphenBetween(end, end + HYPHEN_ROOM, y, before, marks)
}

const HYPHEN_ROOM = 0.66
function hyphenBetween(from: number, to: number, y: number, word: Word, marks: Mark[]): void {
  if (to - from < HYPHEN_ROOM - 0.1) return
  const type = wordType(word)
  marks.push({
    shape: "text",
    part: "hyphen",
    sign: undefined,
    x: (from + to) / 2,
    y,
    text: "-",
    type,
    length: textWidth("-", type),
    fill: "second",
    anchor: "middle",
  })
}

function textMark(part: string, text: string, x: number, y: number, word: Word): TextMark {
  const type = wordType(word)
  return { shape: "text", part, sign: word.sign, x, y, text, type, length: word.width, fill: "ink" }
}

const overAll = (mark: TextMark, top: number): TextMark => ({
  ...mark,
  y: top - DESCENT[mark.type.family] * mark.type.size - 0.1,
})

function labelMark(label: string | undefined, left: number, top: number): TextMark[] {
  if (label === undefined) return []
  const type = { family: "figures", size: 1.25 } as const
  return [{ shape: "text", part: "folio", x: left, y: top - 0.35, text: label, type, fill: "second" }]
}
