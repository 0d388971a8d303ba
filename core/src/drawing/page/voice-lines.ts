/** The lines of a voice: where the source breaks them, or as many as fill the width; clef and signature again at each. */
import type { Sign, Voice } from "../../page/index.js"
import type { Mark, Role, TextMark } from "../scene/scene.js"
import { drawSign, styleOf, type DrawnSign, type SignStyle } from "../signs/index.js"
import { GAPS_AGAIN, stretchesOf, type Cell, type ClefState, type Stretch } from "./cells.js"
import type { Memory } from "./memory.js"
import { INITIAL_ROOM, INITIAL_SIZE, NAME_SIZE, type PageOptions } from "./options.js"
import { breakAgain } from "./break-again.js"
import { breakEvenly, justified, setRow, type SetCell } from "./set-line.js"
import { textWidth } from "../text/width.js"
import { drawStaff, type DrawnStaff } from "./staff.js"
import { narrowed, wordOf } from "./words.js"

/** A line before it is filled: its cells, its clef where the source has none there, and how wide it is by nature. */
export interface Line {
  readonly cells: readonly Cell[]
  /** Those of them that are its own, not what is said again at its head. */
  readonly own: Cell[]
  readonly start: number
  readonly end: number
  readonly row: readonly SetCell[]
  readonly label?: string
  readonly last: boolean
  readonly first: boolean
}

/** Free between the left end of a staff and its first sign. */
const LEAD = 0.5
/** For what stands at the head of a line, beside a syllable that fills it. */
export const HEAD_ROOM = 7

/** How a voice is laid: how wide, from where in the first line, and whether its initial takes the first letter. */
export interface LineSetting {
  readonly width: number
  readonly indent: number
  readonly initial: boolean
  readonly options: PageOptions
  readonly memory: Memory
}

export function linesOf(voice: Voice, setting: LineSetting): Line[] {
  const { options, initial, memory } = setting
  const written = memory.stretches(voice, () => stretchesOf(voice, memory))
  const all = initial ? withoutInitial(written, memory) : written
  const narrow = withinRoom(all, setting.width - setting.indent - HEAD_ROOM, memory)
  const stretches = options.lines === "fit" ? joinStretches(narrow) : narrow
  const lines = stretches.flatMap((stretch, at) => {
    const indent = at === 0 ? setting.indent : 0
    const look = [indent, setting.width, options.spacing, voice.notation, voice.lines].join(" ")
    return memory.lines(stretch, look, before =>
      linesOfStretch(stretch, { indent, style: styleOf(voice), before }, setting),
    )
  })
  return lines.map((line, i) => ({ ...line, first: i === 0, last: i === lines.length - 1 }))
}

/** No syllable is wider than a line. */
export function withinRoom(stretches: readonly Stretch[], room: number, memory: Memory): readonly Stretch[] {
  if (room === Infinity) return stretches
  const isWide = ({ words }: Cell) => words.some(word => word.width > room)
  const narrow = (cell: Cell) => ({ ...cell, words: cell.words.map(word => narrowed(word, room)) })
  return stretches.map(stretch =>
    memory.widest(stretch) > room
      ? {
          ...stretch,
          cells: stretch.cells.map(cell => (isWide(cell) ? memory.narrowed(cell, room, () => narrow(cell)) : cell)),
        }
      : stretch,
  )
}

function joinStretches(stretches: readonly Stretch[]): readonly Stretch[] {
  const [first] = stretches
  // custodes were written for line ends that are no more; they still stand where they stand
  return first === undefined ? [] : [{ ...first, cells: stretches.flatMap(stretch => stretch.cells) }]
}

/** The first letter of the text is the initial's and does not stand under the note as well. */
function withoutInitial(stretches: readonly Stretch[], memory: Memory): readonly Stretch[] {
  let done = false
  const shortened = (cell: Cell): Cell => {
    if (done || cell.words.length === 0) return cell
    done = true
    return memory.shortened(cell, () => withoutFirstLetter(cell))
  }
  return stretches.map(stretch => {
    if (done || memory.widest(stretch) === -Infinity) return stretch
    return memory.stretch({ ...stretch, cells: stretch.cells.map(shortened) })
  })
}

function withoutFirstLetter(cell: Cell): Cell {
  const [first, ...more] = cell.words
  const text = first!.text.replace(/^[^\p{L}]*\p{L}\p{M}*/u, "")
  return { ...cell, words: text === "" ? more : [wordOf({ ...first!, text }, first!.sign, first!.x), ...more] }
}

interface StretchSetting {
  readonly indent: number
  readonly style: SignStyle
  /** As it was set before a change in it. */
  readonly before: readonly Line[] | undefined
}

function linesOfStretch(stretch: Stretch, { indent, style, before }: StretchSetting, setting: LineSetting): Line[] {
  const { width, memory, options } = setting
  const spacing = options.spacing ?? "shape"
  const startOf = (row: number) => (row === 0 ? indent : 0) + LEAD
  const headOf = (row: number, last: Cell | undefined, own: readonly Cell[]) => ({
    start: startOf(row),
    cells: headed(last?.clefState ?? stretch.clef, own, style, memory),
  })
  const look = { width, headOf, spacing }
  const old = options.settled ? before : undefined
  const rows = old
    ? breakAgain(
        stretch.cells,
        old.map(line => line.own),
        look,
      )
    : breakEvenly(stretch.cells, width, headOf, spacing)
  const known = new Map(old?.map(line => [line.own, line]))
  return rows.map((own, i) => {
    const { start, cells } = headOf(i, rows[i - 1]?.at(-1), own)
    const label = i === 0 && stretch.label !== undefined ? { label: stretch.label } : {}
    const line = known.get(own)
    if (line && line.start === start && line.label === label.label && sameCells(line.cells, cells)) return line
    return { cells, own, start, ...setRow(cells, start, spacing), ...label, first: false, last: false }
  })
}

const sameCells = (a: readonly Cell[], b: readonly Cell[]): boolean =>
  a.length === b.length && a.every((cell, i) => cell === b[i])

/**
 * Cells of a line with the clef and the signature in force at its head, as far as it does not begin with its own; behind a new
 * clef a signature that goes on stands at its new heights.
 */
export function headed(before: ClefState, own: readonly Cell[], style: SignStyle, memory: Memory): readonly Cell[] {
  const [first] = own
  const isNewClef = first?.kind === "clef"
  const music = own.findIndex(({ kind }) => !OPENING.has(kind))
  const hasOwn = own.slice(0, music < 0 ? own.length : music).some(({ kind }) => kind === "signature")
  const again = repeated(isNewClef ? first.clefState : before, !isNewClef, !hasOwn, style, memory)
  return isNewClef ? [first, ...again, ...own.slice(1)] : [...again, ...own]
}
const OPENING: ReadonlySet<Cell["kind"]> = new Set([
  "clef",
  "signature",
  "mensuration",
  "proportion",
  "accidental",
  "mark",
] as const)

function repeated(
  state: ClefState,
  withClef: boolean,
  withSignature: boolean,
  style: SignStyle,
  memory: Memory,
): readonly Cell[] {
  const { clef, clefSign, signature } = state
  if (clefSign === undefined) return []
  const signs = [...(withClef ? [clefSign] : []), ...(withSignature && signature ? [signature] : [])]
  return signs.flatMap(sign =>
    memory.head(sign, state, style, () => again(drawSign(sign, { clef }, style), sign, state)),
  )
}

function again({ item, box, body }: DrawnSign, sign: Sign, clefState: ClefState): Cell[] {
  if (box.right <= box.left) return []
  return [{ kind: sign.kind, of: sign, item, box, body, words: [], above: [], gaps: GAPS_AGAIN, clefState }]
}

export interface LineLook {
  readonly voice: Voice
  readonly width: number
  readonly role: Role
  /** Ruled from here; the initial stands before it. */
  readonly indent: number
  readonly initial: boolean
  /** Over the first staff. */
  readonly name?: TextMark
}

/** A last line that is not half full is left as it is; any other is filled. */
const FULL_ENOUGH = 0.7

export function drawLine(line: Line, look: LineLook): DrawnStaff {
  const { width, role, voice } = look
  const full = !line.last || line.end > width * FULL_ENOUGH
  const indent = line.first ? look.indent : 0
  const { lines } = styleOf(voice)
  return drawStaff({
    row: justified(line.row, line.end, width - LEAD, full),
    lines,
    left: indent,
    right: width,
    role,
    extra: line.first && look.initial ? initialOf(voice, lines) : [],
    ...(line.label === undefined ? {} : { label: line.label }),
    ...(look.name ? { name: look.name } : {}),
  })
}

/** The first letter of the text; of the voice's name where it has no text. */
export const initialLetter = (voice: Voice): string | undefined =>
  /\p{L}/u.exec(firstText(voice) ?? voice.label)?.[0]?.toUpperCase()

/** As high as the staff. */
function initialOf(voice: Voice, lines: number): Mark[] {
  const letter = initialLetter(voice)
  if (letter === undefined) return []
  const size = INITIAL_SIZE * Math.min(1, (lines - 1) / 4)
  const type = { family: "words", size, weight: 700 } as const
  const x = (INITIAL_ROOM - 0.8) / 2
  const length = Math.min(textWidth(letter, type), INITIAL_ROOM - 0.8)
  return [{ shape: "text", part: "initial", x, y: 0, text: letter, type, anchor: "middle", length, fill: "red" }]
}

function firstText({ signs }: Voice): string | undefined {
  for (const sign of signs) {
    const notes = sign.kind === "ligature" ? sign.members : [sign]
    for (const note of notes) if (note.kind === "note" && note.syllables[0]) return note.syllables[0].text
  }
  return undefined
}

/** The voice's name over its first staff, or beside it; pressed together where it would be wider than the room. */
export function nameMark({ label }: Voice, x: number, y: number, room = Infinity): TextMark {
  const type = { family: "words", size: NAME_SIZE, weight: 700 } as const
  const length = Math.min(room, textWidth(label, type))
  return { shape: "text", part: "name", x, y, text: label, type, length, fill: "red" }
}
