/** The signs of a voice as cells: a sign with what hangs on it, that is set as one thing. */
import type { SignId } from "../../base/index.js"
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
  type ClefPlace,
  type Drawn,
  type SignPlace,
  type SignStyle,
} from "../signs/index.js"
import { editorsAccidentals, ledgers } from "./extras.js"
import { Memory } from "./memory.js"
import { wordsOf, type Word } from "./words.js"

export interface Cell {
  readonly kind: Sign["kind"]
  readonly sign: SignId
  readonly item: Item
  /** Room of all marks; x from the cell's own zero. */
  readonly box: Box
  readonly body: Box
  readonly words: readonly Word[]
  /** Words over the staff: they take no room on it. */
  readonly above: readonly TextMark[]
  /** Free before it and after it. */
  readonly before: number
  readonly after: number
  /** Stands so close to the one before that a line never ends between them. */
  readonly clings: boolean
  /** Notes and rests in it, whose moments are its own. */
  readonly sounding: readonly SignId[]
  /** Clef and signature in force behind it. */
  readonly clefState: ClefState
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
  const memo = new Map<string, Drawn>()
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
    const [now, before] = [state, position]
    const cell = memory.cell(sign, now, before, style, () => cellOf(sign, now, { before, memo }, style))
    position = lastPosition(sign, state.clef, style) ?? position
    if (cell) cells.push(cell)
  }
  end()
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

function cellOf(sign: Sign, state: ClefState, place: Omit<SignPlace, "clef">, style: SignStyle): Cell | undefined {
  const { clef } = state
  const drawn = drawSign(sign, { clef, ...place }, style)
  const all = marksIn(drawn.item)
  if (all.length === 0) return undefined
  const above = [...all.filter(isAbove), ...(sign.kind === "other" ? [noteOver("other-name", sign.name, style)] : [])]
  const marks = above.length > 0 ? all.filter(mark => !isAbove(mark)) : all
  if (marks.length === 0) return textCell(sign, above, state)
  const extras = [...ledgers(sign, clef, style, marks), ...editorsAccidentals(sign, style, marks)]
  const { item, box } = editorial(
    sign,
    withExtras(drawn.item, extras),
    [drawn.box, ...extras.map(markBox)].reduce(around),
  )
  const { gaps, clings } = spacing(sign)
  const words = wordsOf(sign, drawn)
  return {
    kind: sign.kind,
    sign: sign.id,
    item,
    box,
    body: drawn.body,
    words,
    above: above.map(mark => ({ ...mark, sign: sign.id })),
    ...gaps,
    clings,
    sounding: soundingIn(sign),
    clefState: state,
  }
}

export function marksIn(item: Item): Mark[] {
  return item.shape === "group" ? item.content.flatMap(marksIn) : [item]
}
/** Words that stand over the staff. */
const isAbove = (mark: Mark): mark is TextMark => mark.shape === "text" && ABOVE.has(mark.part)
const ABOVE: ReadonlySet<string> = new Set(["rubric", "text", "remark", "levels"])

function textCell(sign: Sign, marks: readonly TextMark[], clefState: ClefState): Cell {
  const nothing: Box = { left: 0, right: 0, top: 0, bottom: 0 }
  const item: Item = { shape: "group", sign: sign.id, content: [] }
  const above = marks.map(mark => ({ ...mark, sign: sign.id }))
  const room = { box: nothing, body: nothing, before: 0, after: 0, clings: false }
  return { kind: sign.kind, sign: sign.id, item, words: [], above, ...room, sounding: [], clefState }
}

function withExtras(item: Item, extras: readonly Mark[]): Item {
  return extras.length > 0 && item.shape === "group" ? { ...item, content: [...extras, ...item.content] } : item
}

function soundingIn(sign: Sign): readonly SignId[] {
  if (sign.kind === "note" || sign.kind === "rest") return [sign.id]
  return sign.kind === "ligature" ? sign.members.flatMap(soundingIn) : []
}

const AFTER: Readonly<Record<string, number>> = {
  maxima: 1,
  longa: 0.95,
  brevis: 0.8,
  semibrevis: 0.62,
  minima: 0.6,
}

/** How much ground a scribe leaves around a sign, by its shape. */
function spacing(sign: Sign): { gaps: { before: number; after: number }; clings: boolean } {
  const gaps = (before: number, after: number, clings = false) => ({ gaps: { before, after }, clings })
  switch (sign.kind) {
    case "note":
      return gaps(0, AFTER[sign.level ?? "brevis"] ?? 0.55)
    case "ligature":
      return gaps(0, 0.95)
    case "rest":
    case "stroke":
      return gaps(sign.near === "previous" ? 0 : 0.25, sign.near === "next" ? 0.35 : 0.75)
    case "dot":
      return gaps(-0.35, 0.55, true)
    case "accidental":
      return gaps(0, 0.3)
    case "clef":
    case "signature":
      return gaps(0.2, 0.8)
    case "mensuration":
    case "proportion":
      return gaps(0.4, 1.1)
    default:
      return gaps(0.3, 0.8)
  }
}
