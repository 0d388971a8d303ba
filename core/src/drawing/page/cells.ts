/** The signs of a voice as cells: a sign with what hangs on it, that is set as one thing. */
import type { Sign, Voice } from "../../page/index.js"
import type { Box, Item, Mark, TextMark } from "../scene/scene.js"
import {
  around,
  clefFor,
  drawSign,
  editorial,
  markBox,
  notePosition,
  noteOver,
  styleOf,
  dotKey,
  noteKey,
  restKey,
  type ClefPlace,
  type LookKey,
  type SignStyle,
} from "../signs/index.js"
import { editorsAccidentals, ledgers } from "./extras.js"
import { Memory } from "./memory.js"
import { NO_WORDS, wordsOf, wordsUnder, type Word } from "./words.js"

export interface Cell {
  readonly kind: Sign["kind"]
  readonly of: Sign
  readonly item: Item
  /** Room of all marks; x from the cell's own zero. */
  readonly box: Box
  readonly body: Box
  readonly words: readonly Word[]
  /** Words over the staff: they take no room on it. */
  readonly above: readonly TextMark[]
  readonly gaps: Gaps
  /** Clef and signature in force behind it. */
  readonly clefState: ClefState
}

/** How it stands beside others: one object for all signs of a kind. */
export interface Gaps {
  /** Free before it and after it. */
  readonly before: number
  readonly after: number
  /** Stands so close to the one before that a line never ends between them. */
  readonly clings: boolean
}

/** A stretch of a voice between two breaks of the source. */
export interface Stretch {
  readonly cells: readonly Cell[]
  /** Clef and signature in force where it begins, for repeating; undefined at the beginning of the voice. */
  readonly clef: ClefState
  /** "f. 3v" or the like, when the break before it is named. */
  readonly label?: string
}

export interface ClefState {
  readonly clef: ClefPlace
  readonly clefSign?: Extract<Sign, { kind: "clef" }>
  readonly signature?: Extract<Sign, { kind: "signature" }>
}

/** A voice cut at the breaks of its source. A break before the first sign only names the first stretch. */
export function stretchesOf(voice: Voice, memory = new Memory()): readonly Stretch[] {
  const style = styleOf(voice, memory.shapes)
  const stretches: Stretch[] = []
  let state: ClefState = { clef: clefFor(voice, style) }
  let start = state
  let cells: Cell[] = []
  let label: string | undefined
  let position: number | undefined
  const known = memory.cells(voice, style)
  const end = () => {
    if (cells.length > 0)
      stretches.push(memory.stretch({ cells, clef: start, ...(label === undefined ? {} : { label }) }))
    if (cells.length > 0) label = undefined
    cells = []
    start = state
  }
  for (const sign of voice.signs) {
    if (sign.kind === "break") {
      if (!cells.every(opensVoice)) end()
      label = breakLabel(sign, label)
      continue
    }
    if (sign.kind === "clef") state = { ...state, clef: sign, clefSign: sign }
    if (sign.kind === "signature") state = { ...state, signature: sign }
    let cell = known.find(sign, state, position)
    if (cell === undefined) known.made(sign, state, position, (cell = cellOf(sign, state, position, style) ?? null))
    position = lastPosition(sign, state.clef, style) ?? position
    if (cell) cells.push(cell)
  }
  end()
  known.end()
  return stretches
}

/** Clef, signature and sign of a voice stand in its first line, even where a file has them before the first break. */
const opensVoice = ({ kind }: Cell): boolean => kind === "clef" || kind === "signature" || kind === "mensuration"

function breakLabel({ of, n }: Extract<Sign, { kind: "break" }>, before: string | undefined): string | undefined {
  if (n === undefined || of === "line") return before
  const own = of === "folio" ? `f. ${n}` : `col. ${n}`
  return before === undefined ? own : `${before}, ${own}`
}

function lastPosition(sign: Sign, clef: ClefPlace, style: SignStyle): number | undefined {
  const note = sign.kind === "ligature" ? sign.members.findLast(member => member.kind === "note") : sign
  return note?.kind === "note" ? notePosition(note, clef, style) : undefined
}

/** Undefined where there is nothing to be seen. */
function cellOf(sign: Sign, state: ClefState, before: number | undefined, style: SignStyle): Cell | undefined {
  const { clef } = state
  const key = sign.editorial === undefined ? keyOf(sign, clef, before, style) : undefined
  if (key === undefined) return ownCell(sign, state, before, style)
  let form = forms.get(key)
  if (form === undefined) {
    form = formOf(sign, clef, before, style)
    if (forms.size >= MOST_FORMS) forms.clear()
    forms.set(key, form)
  }
  const { content, box, body } = form
  const item: Item = { shape: "group", part: sign.kind, sign: sign.id, content }
  const words = sign.kind === "note" ? wordsUnder(sign, body.left) : NO_WORDS
  return cell(sign, item, box, body, words, NOTHING_ABOVE, state)
}

/** What signs that look alike have between them. */
interface CellForm {
  readonly content: readonly Item[]
  readonly box: Box
  readonly body: Box
}
const forms = new Map<LookKey, CellForm>()
const MOST_FORMS = 4000

/** Of the signs that a page is full of. */
function keyOf(sign: Sign, clef: ClefPlace, before: number | undefined, style: SignStyle): LookKey | undefined {
  if (sign.kind === "note") return noteKey(sign, notePosition(sign, clef, style), style)
  if (sign.kind === "rest") return restKey(sign, style)
  return sign.kind === "dot" ? dotKey(sign, before ?? style.lines - 1) : undefined
}

function formOf(sign: Sign, clef: ClefPlace, before: number | undefined, style: SignStyle): CellForm {
  const { item, box, body } = drawSign(sign, { clef, before }, style)
  const marks = marksIn(item)
  const extras = extrasOf(sign, clef, style, marks)
  return { content: extras.length > 0 ? [...extras, ...marks] : marks, box: withMarks(box, extras), body }
}

const extrasOf = (sign: Sign, clef: ClefPlace, style: SignStyle, marks: readonly Mark[]): readonly Mark[] => [
  ...ledgers(sign, clef, style, marks),
  ...editorsAccidentals(sign, style, marks),
]
const withMarks = (box: Box, marks: readonly Mark[]): Box =>
  marks.length === 0 ? box : marks.map(markBox).reduce(around, box)

function ownCell(sign: Sign, state: ClefState, before: number | undefined, style: SignStyle): Cell | undefined {
  const { clef } = state
  const drawn = drawSign(sign, { clef, before }, style)
  const all = marksIn(drawn.item)
  if (all.length === 0) return undefined
  const above = [...all.filter(isAbove), ...(sign.kind === "other" ? [noteOver("other-name", sign.name, style)] : [])]
  const marks = above.length > 0 ? all.filter(mark => !isAbove(mark)) : all
  const over = above.map(mark => ({ ...mark, sign: sign.id }))
  if (marks.length === 0) return textCell(sign, over, state)
  const extras = extrasOf(sign, clef, style, marks)
  const { item, box } = editorial(sign, withExtras(drawn.item, extras), withMarks(drawn.box, extras))
  return cell(sign, item, box, drawn.body, wordsOf(sign, drawn), over, state)
}

function cell(
  sign: Sign,
  item: Item,
  box: Box,
  body: Box,
  words: readonly Word[],
  above: readonly TextMark[],
  clefState: ClefState,
): Cell {
  return { kind: sign.kind, of: sign, item, box, body, words, above, gaps: gapsOf(sign), clefState }
}
const NOTHING_ABOVE: readonly TextMark[] = []

export function marksIn(item: Item): Mark[] {
  return item.shape === "group" ? item.content.flatMap(marksIn) : [item]
}
/** Words that stand over the staff. */
const isAbove = (mark: Mark): mark is TextMark => mark.shape === "text" && ABOVE.has(mark.part)
const ABOVE: ReadonlySet<string> = new Set(["rubric", "text", "remark", "levels"])

function textCell(sign: Sign, above: readonly TextMark[], clefState: ClefState): Cell {
  const nothing: Box = { left: 0, right: 0, top: 0, bottom: 0 }
  const item: Item = { shape: "group", sign: sign.id, content: [] }
  return { kind: sign.kind, of: sign, item, box: nothing, body: nothing, words: [], above, gaps: NO_GAPS, clefState }
}

function withExtras(item: Item, extras: readonly Mark[]): Item {
  return extras.length > 0 && item.shape === "group" ? { ...item, content: [...extras, ...item.content] } : item
}

const gaps = (before: number, after: number, clings = false): Gaps => ({ before, after, clings })

export const NO_GAPS = gaps(0, 0)
/** Of clef and signature where they stand again at the head of a line. */
export const GAPS_AGAIN = gaps(0, 0.8)
const GAPS: Readonly<Record<string, Gaps>> = {
  ligature: gaps(0, 0.95),
  dot: gaps(-0.35, 0.55, true),
  accidental: gaps(0, 0.3),
  clef: gaps(0.2, 0.8),
  signature: gaps(0.2, 0.8),
  mensuration: gaps(0.4, 1.1),
  proportion: gaps(0.4, 1.1),
}
const GAPS_OF_NOTES: Readonly<Record<string, Gaps>> = {
  maxima: gaps(0, 1),
  longa: gaps(0, 0.95),
  brevis: gaps(0, 0.8),
  semibrevis: gaps(0, 0.62),
  minima: gaps(0, 0.6),
}
const GAPS_OF_SMALLER = gaps(0, 0.55)
const OTHER_GAPS = gaps(0.3, 0.8)

/** How much ground a scribe leaves around a sign, by its shape. */
function gapsOf(sign: Sign): Gaps {
  switch (sign.kind) {
    case "note":
      return GAPS_OF_NOTES[sign.level ?? "brevis"] ?? GAPS_OF_SMALLER
    case "rest":
    case "stroke":
      return gaps(sign.near === "previous" ? 0 : 0.25, sign.near === "next" ? 0.35 : 0.75)
    default:
      return GAPS[sign.kind] ?? OTHER_GAPS
  }
}
