/**
 * Voices one under another: signs that sound together stand together, and all voices go to the next system at one moment.
 * What a voice has at no moment of its own (clefs, dots, signs) stands before the next of its notes that has one.
 */
import type { SignId } from "../../base/index.js"
import type { Sign } from "../../page/index.js"
import { isFigure, isHead, Row, type SetCell, type Spacing } from "./set-line.js"
import type { Cell } from "./cells.js"
import { narrowed, type Word } from "./words.js"

/** Cells of one voice up to a moment: those without one, then the one that sounds. */
interface Step {
  readonly moment: number
  readonly cells: readonly Cell[]
}

/** What follows the last moment of a voice stands there. */
const END = Infinity

/** The moment at which a cell sounds: that of its first sign that has one. */
export function momentOf(cell: Cell, moments: ReadonlyMap<SignId, number>): number | undefined {
  return momentOfSign(cell.of, moments)
}

function momentOfSign(sign: Sign, moments: ReadonlyMap<SignId, number>): number | undefined {
  if (sign.kind === "note" || sign.kind === "rest") return moments.get(sign.id)
  if (sign.kind !== "ligature") return undefined
  for (const member of sign.members) {
    const moment = momentOfSign(member, moments)
    if (moment !== undefined) return moment
  }
  return undefined
}

export function stepsOf(cells: readonly Cell[], moments: ReadonlyMap<SignId, number>): Step[] {
  const steps: Step[] = []
  let waiting: Cell[] = []
  let latest = -Infinity
  for (const [at, cell] of cells.entries()) {
    const moment = momentOf(cell, moments)
    const before = steps.at(-1)
    const closes = cell.kind === "stroke" && at === cells.length - 1
    if (moment === undefined && before && clingsBehind(cell) && !closes && waiting.length === 0) {
      steps[steps.length - 1] = { ...before, cells: [...before.cells, cell] }
      continue
    }
    waiting.push(cell)
    if (moment === undefined) continue
    latest = Math.max(latest, moment)
    steps.push({ moment: latest, cells: waiting })
    waiting = []
  }
  return waiting.length > 0 ? [...steps, { moment: END, cells: waiting }] : steps
}
const clingsBehind = (cell: Cell): boolean => cell.gaps.clings || cell.kind === "stroke"

export interface System {
  /** In the order of the voices. */
  readonly rows: readonly (readonly SetCell[])[]
  readonly cells: readonly (readonly Cell[])[]
  readonly end: number
}

/** One voice while its system is set: its row, and the step that comes next. */
class SettingVoice {
  readonly set: SetCell[] = []
  readonly row: Row
  readonly #steps: readonly Step[]
  #at = 0

  constructor(steps: readonly Step[], head: readonly Cell[], start: number, spacing: Spacing) {
    this.#steps = steps
    this.row = new Row(start, spacing)
    for (const cell of head) this.put(cell)
  }

  put(cell: Cell, x = this.row.place(cell)): void {
    this.row.take(cell, x)
    this.set.push({ cell, x })
  }

  /** Sets what leads up to a moment; gives what sounds then, with what clings behind it. */
  leadUpTo(moment: number): Sounding[] {
    const sounding: Sounding[] = []
    for (let step = this.#steps[this.#at]; step && step.moment <= moment; step = this.#steps[++this.#at]) {
      const main = step.moment === END && !isClosing(step) ? step.cells.length : mainOf(step)
      for (const cell of step.cells.slice(0, main)) this.put(cell)
      const cell = step.cells[main]
      if (cell) sounding.push({ voice: this, cell, behind: step.cells.slice(main + 1) })
    }
    return sounding
  }
}
interface Sounding {
  readonly voice: SettingVoice
  readonly cell: Cell
  readonly behind: readonly Cell[]
}

/** Sets the steps of all voices from `start` on; `heads` are what each voice begins the system with before them. */
export function setSystem(
  voices: readonly (readonly Step[])[],
  heads: readonly (readonly Cell[])[],
  start: number,
  spacing: Spacing,
): { system: System; ends: readonly { moment: number; end: number }[] } {
  const setting = voices.map((steps, v) => new SettingVoice(steps, heads[v] ?? [], start, spacing))
  const end = () => Math.max(start, ...setting.map(voice => voice.row.end))
  let together = start
  const ends = momentsIn(voices).map(moment => {
    together = setTogether(
      setting.flatMap(voice => voice.leadUpTo(moment)),
      together,
    )
    return { moment, end: end() }
  })
  const rows = setting.map(voice => voice.set)
  return { system: { rows, cells: rows.map(row => row.map(({ cell }) => cell)), end: end() }, ends }
}

/** All that sounds now stands where the last of it can stand; gives that place. */
function setTogether(sounding: readonly Sounding[], from: number): number {
  const place = Math.max(from, ...sounding.map(({ voice, cell }) => voice.row.place(cell) + cell.body.left))
  for (const { voice, cell, behind } of sounding) {
    voice.put(cell, Math.max(voice.row.place(cell), place - cell.body.left))
    for (const one of behind) voice.put(one)
  }
  return place
}

/** The stroke at the end of a voice: those of all voices stand together, however long their last notes are. */
const isClosing = ({ moment, cells }: Step): boolean => moment === END && cells.every(cell => cell.kind === "stroke")

/** Which cell of a step sounds: the last, or the one before what clings behind it. */
function mainOf({ cells }: Step): number {
  let at = cells.length - 1
  while (at > 0 && clingsBehind(cells[at]!)) at--
  return at
}

function momentsIn(voices: readonly (readonly Step[])[]): number[] {
  return [...new Set(voices.flatMap(steps => steps.map(step => step.moment)))].sort((a, b) => a - b)
}

/** Where a system that would end beyond `width` is to be cut: the last moment that fits, or one a little earlier that is better to end at. */
export function cutMoment(
  voices: readonly (readonly Step[])[],
  ends: readonly { moment: number; end: number }[],
  width: number,
): number | undefined {
  const over = ends.findIndex(({ end }) => end > width)
  if (over < 0) return undefined
  // strokes at the end are not left alone
  const closing =
    ends[over]!.moment === END && voices.every(steps => steps.every(one => one.moment !== END || isClosing(one)))
  let best = Math.max(1, closing ? over - 1 : over)
  for (let at = best - 1; at > 0 && ends[at - 1]!.end > width * EARLY; at--)
    if (fitness(voices, ends[at]!.moment) > fitness(voices, ends[best]!.moment)) best = at
  return ends[best]?.moment
}
/** How well a system ends before this moment: voices that begin something there, and far more those that have closed something. */
function fitness(voices: readonly (readonly Step[])[], moment: number): number {
  let sum = 0
  for (const steps of voices) {
    const at = steps.findIndex(step => step.moment === moment)
    if (at >= 0) sum += steps[at - 1]?.cells.at(-1)?.kind === "stroke" ? 10 : 1
  }
  return sum
}

/** How full a system has to be to be cut there. */
const EARLY = 0.72

/** In a system that cannot be cut before its end: its last syllables begin earlier, or are set smaller where that is not enough. */
export function withWordsInside(system: System, left: number, right: number): System {
  if (system.end <= right) return system
  const rows = system.rows.map(row => wordsInside(row, left, right))
  const ends = rows.flatMap(row => row.map(({ cell, x }) => x + Math.max(cell.box.right, ...cell.words.map(endOf))))
  return { rows, cells: rows.map(row => row.map(({ cell }) => cell)), end: Math.max(left, ...ends) }
}
const endOf = ({ x, width }: Word): number => x + width

/** From right to left: each stanza's syllables end before the next one begins. */
function wordsInside(row: readonly SetCell[], left: number, right: number): SetCell[] {
  const limits = new Map<number, number>()
  const set = row.toReversed().map(({ cell, x }, at): SetCell => {
    const words = cell.words.map(word => {
      const limit = limits.get(word.stanza) ?? right
      const free = left + roomOf(row.slice(0, row.length - 1 - at), word.stanza)
      const begins = Math.max(free, Math.min(x + word.x, limit - word.width))
      limits.set(word.stanza, begins - WORD_GAP)
      return { ...narrowed(word, Math.max(0.5, limit - begins)), x: begins - x }
    })
    return { cell: words.length > 0 ? { ...cell, words } : cell, x }
  })
  return set.toReversed()
}
const WORD_GAP = 0.8

/** What is left at the least to the syllables of a stanza. */
function roomOf(row: readonly SetCell[], stanza: number): number {
  const words = row.flatMap(({ cell }) => cell.words.filter(word => word.stanza === stanza))
  return words.reduce((sum, { width }) => sum + Math.min(width, LEAST_WORD) + WORD_GAP, 0)
}
const LEAST_WORD = 2

/**
 * Stretches the rows of a system evenly, so that what stands together stays together; but clef, signature and sign keep to each
 * other, and to the head of the staff where they stand there.
 */
export function stretched(
  rows: readonly (readonly SetCell[])[],
  start: number,
  end: number,
  width: number,
): SetCell[][] {
  const firsts = rows.map(row => row.find(({ cell }) => isFigure(cell))?.x ?? Infinity)
  const from = Math.max(start, Math.min(end, ...firsts))
  const factor = end > from ? Math.max(1, (width - from) / (end - from)) : 1
  const moved = (x: number) => (x <= from ? x : from + (x - from) * factor)
  return rows.map(row => {
    let next: (SetCell & { readonly to: number }) | undefined
    const set = row.toReversed().map(({ cell, x }) => {
      const along = next !== undefined && isHead(cell) && isHead(next.cell)
      const to = along ? next!.to - (next!.x - x) : moved(x)
      next = { cell, x, to }
      return { cell, x: to }
    })
    return set.toReversed()
  })
}
