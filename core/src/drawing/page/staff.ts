/** One staff with its signs and syllables as a group, in staff spaces; y is 0 on its bottom line. */
import type { Box, Group, Item, Mark, Role, TextMark } from "../scene/scene.js"
import { elided } from "../text/elision.js"
import { ASCENT, DESCENT, textWidth } from "../text/width.js"
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
  const ruled = staffLines(lines, left, right, role)
  const signs = row.map(({ cell, x }): Item => ({ shape: "group", x, content: [cell.item] }))
  const box = reach(row, { left, right, top: -(lines - 1) - 0.2, bottom: 0.2 }, extra)
  const texts = syllables(row, box.bottom)
  const over = rubrics(row, box.top, left, right)
  const under = [...texts, ...over, ...labelMark(label, left, [box, ...over.map(markBox)].reduce(around).top)]
  const marks = name ? [...under, overAll(name, [box, ...under.map(markBox)].reduce(around).top)] : under
  const content = [...ruled, ...extra, ...signs.filter(hasContent), ...marks]
  return { group: { shape: "group", part: "line", content }, box: [box, ...marks.map(markBox)].reduce(around) }
}

const hasContent = (item: Item): boolean =>
  item.shape !== "group" || item.content.some(inner => inner.shape !== "group" || inner.content.length > 0)

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
  const stanzas = [...new Set(row.flatMap(({ cell }) => cell.words.map(word => word.stanza)))].sort((a, b) => a - b)
  const first = Math.max(1, bottom + 0.25) + ASCENT.words * TEXT_SIZE
  return stanzas.flatMap((stanza, i) => stanzaMarks(row, stanza, first + i * TEXT_LINE))
}

function stanzaMarks(row: readonly SetCell[], stanza: number, y: number): Mark[] {
  const words = row.flatMap(({ cell, x }) =>
    cell.words.filter(word => word.stanza === stanza).map(word => ({ word, x: x + word.x })),
  )
  return words.flatMap(({ word, x }, i) => {
    const mark = textMark("syllable", word.text, x, y, word)
    const next = words[i + 1]
    const end = x + word.width
    const hyphen = word.join === "-" ? hyphenBetween(end, next?.x ?? end + HYPHEN_ROOM, y, word) : []
    return [...elided(mark), ...hyphen]
  })
}

const HYPHEN_ROOM = 0.66
function hyphenBetween(from: number, to: number, y: number, word: Word): TextMark[] {
  if (to - from < HYPHEN_ROOM - 0.1) return []
  const { sign: _sign, ...plain } = textMark("hyphen", "-", (from + to) / 2, y, word)
  return [{ ...plain, anchor: "middle", fill: "second" }]
}

function textMark(part: string, text: string, x: number, y: number, word: Word): TextMark {
  const type = wordType(word)
  const length = part === "syllable" ? word.width : textWidth(text, type)
  return { shape: "text", part, sign: word.sign, x, y, text, type, length, fill: "ink" }
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
