/** The page as a scribe would set it: staves with their signs, syllables, initials and names, as one drawing or as sheets. */
import type { Page, Voice } from "../../page/index.js"
import type { Box, Item, Scene, TextMark } from "../scene/scene.js"
import { titleIn } from "../text/lines.js"
import { textWidth } from "../text/width.js"
import { describePage } from "./describe.js"
import { BETWEEN_STAVES, BETWEEN_VOICES, INITIAL_ROOM, MARGIN, TITLE_SIZE, type PageOptions } from "./options.js"
import { staffRole, type Block } from "./blocks.js"
import { Memory } from "./memory.js"
import { systemsOf } from "./systems.js"
import { drawLine, initialLetter, linesOf, nameMark, type Line } from "./voice-lines.js"

const USUAL_WIDTH = 1200
const USUAL_UNIT = 12
/** A line of the source too long for the width makes everything smaller, down to this part; beyond it the line is broken. */
const SMALLEST = 0.62
/** In px: what is to stay as it was does not become a little smaller with every sign. */
const STEP = 0.25

/** A page as it was laid; handed on when it is laid again, so that only what changed is drawn anew. */
export interface LaidPage {
  readonly scene: Scene
  /** Lines of each voice with what they were made from. */
  readonly lines: ReadonlyMap<string, readonly LaidLine[]>
  readonly memory: Memory
  /** All that makes a line look otherwise though its signs are the same. */
  readonly look: string
}
interface LaidLine {
  readonly line: Line
  /** What its look owes to the voice as a whole. */
  readonly voice: string
  readonly block: Block
}

/** The whole page as one drawing, as high as it has to be. */
export function drawPage(page: Page, options: PageOptions = {}): Scene {
  return layPage(page, options).scene
}

/**
 * The same for drawing again after a change: the content of a line in which nothing changed is the very same array as before, so
 * that whoever shows the drawing replaces only the others.
 */
export function layPage(page: Page, options: PageOptions = {}, before?: LaidPage): LaidPage {
  const { sheets, ...laid } = sheetsOf(page, { ...options, sheetHeight: Infinity }, before)
  return { ...laid, scene: sheets[0]! }
}

/** The page cut into sheets of `sheetHeight` px between staves. There is always at least one. */
export function drawSheets(page: Page, options: PageOptions = {}): Scene[] {
  return sheetsOf(page, options).sheets
}

function sheetsOf(page: Page, options: PageOptions, before?: LaidPage): Omit<LaidPage, "scene"> & { sheets: Scene[] } {
  const memory = before?.memory ?? new Memory()
  memory.define(page.shapes)
  const width = Math.max(200, options.width ?? USUAL_WIDTH)
  const unit = fittingUnit(page, width, options, memory)
  const inner = width / unit - 2 * MARGIN
  const look = JSON.stringify([inner, options.staff, options.spacing, options.lines, options.voices, options.settled])
  const setting = { inner, options, memory, before: before?.look === look ? before.lines : undefined }
  const lines = new Map<string, readonly LaidLine[]>()
  const blocks = [...titleBlock(page, inner), ...voiceBlocks(page, setting, lines)]
  const room = (options.sheetHeight ?? Infinity) / unit - 2 * MARGIN
  return { sheets: scenes(page, intoSheets(blocks, room), width, unit, room), lines, memory, look }
}

function scenes(page: Page, sheets: readonly Sheet[], width: number, unit: number, room: number): Scene[] {
  let description: string | undefined
  return sheets.map((sheet, i) => ({
    width,
    height: Math.ceil(((Number.isFinite(room) ? room : sheet.height) + 2 * MARGIN) * unit - 1e-6),
    unit,
    title: pageTitle(page) + (sheets.length > 1 ? `, sheet ${i + 1} of ${sheets.length}` : ""),
    // whoever only shows it has no need of it
    get description() {
      return (description ??= describePage(page))
    },
    content: [{ shape: "group", x: MARGIN * unit, y: MARGIN * unit, scale: unit, content: sheet.content }],
  }))
}

const pageTitle = ({ title }: Page): string => (title.trim() === "" ? "A page of old notation" : title)

/** Smaller where a line of the source needs it. */
function fittingUnit(page: Page, width: number, options: PageOptions, memory: Memory): number {
  const unit = Math.max(2, options.unit ?? USUAL_UNIT)
  if (options.lines === "fit" || options.voices === "under") return unit
  const inner = width / unit - 2 * MARGIN
  const widest = Math.max(0, ...page.voices.flatMap(voice => sourceLineEnds(voice, options, memory)))
  const needed = widest + 1 + 2 * MARGIN
  const factor = needed > inner + 2 * MARGIN ? (inner + 2 * MARGIN) / needed : 1
  const fitting = factor < SMALLEST ? unit : unit * factor
  return options.settled && fitting < unit ? Math.floor(fitting / STEP) * STEP : fitting
}

/** How wide the lines of the source are by nature, when it has breaks; a voice without any is set to fit. */
function sourceLineEnds(voice: Voice, options: PageOptions, memory: Memory): number[] {
  if (!voice.signs.some(sign => sign.kind === "break")) return []
  return linesOf(voice, { width: Infinity, options, indent: INITIAL_ROOM, initial: true, memory }).map(line => line.end)
}

function titleBlock({ title }: Page, inner: number): Block[] {
  if (title.trim() === "") return []
  const { lines, type } = titleIn(title, { family: "words", size: TITLE_SIZE, weight: 700 }, inner)
  const marks = lines.map((text, i): TextMark => {
    const y = i * type.size * TITLE_LINE
    return { shape: "text", part: "title", x: 0, y, text, type, length: textWidth(text, type), fill: "ink" }
  })
  return [textBlock(marks, 0)]
}
/** From one line of a title to the next, in its size. */
const TITLE_LINE = 1.15

function textBlock(marks: readonly TextMark[], space: number): Block {
  const [first, last] = [marks[0]!, marks.at(-1)!]
  const { size } = first.type
  const right = Math.max(...marks.map(one => one.length ?? 0))
  const box: Box = { left: 0, right, top: -size * 0.76, bottom: last.y - first.y + size * 0.3 }
  return { item: { shape: "group", part: first.part, content: marks }, box, space, withNext: true }
}

interface Setting {
  readonly inner: number
  readonly options: PageOptions
  readonly memory: Memory
  readonly before: LaidPage["lines"] | undefined
}

function voiceBlocks(page: Page, setting: Setting, lines: Map<string, readonly LaidLine[]>): Block[] {
  const { inner, options, memory } = setting
  if (options.voices === "under") return systemsOf(page, inner, options, memory)
  return page.voices.flatMap(voice => {
    const laid = apart(voice, setting)
    lines.set(voice.id, laid)
    const name = voice.label.trim() === "" ? [] : [textBlock([nameMark(voice, 0, 0, inner)], BETWEEN_VOICES)]
    return [...name, ...laid.map(one => one.block)]
  })
}

function apart(voice: Voice, { inner, options, memory, before }: Setting): LaidLine[] {
  const known = before?.get(voice.id) ?? []
  // a line stays what it is where another comes or goes before it
  const byRow = new Map(known.map(one => [one.line.row, one]))
  const own = JSON.stringify([voice.label, voice.lines, voice.staffColour, initialLetter(voice)])
  const look = { voice, width: inner, role: staffRole(voice, options), indent: INITIAL_ROOM, initial: true }
  return linesOf(voice, { width: inner, options, indent: INITIAL_ROOM, initial: true, memory }).map((line, i) => {
    const old = byRow.get(line.row) ?? known[i]
    if (old && old.voice === own && sameLine(old.line, line)) return old
    const { group, box } = drawLine(line, look)
    return {
      line,
      voice: own,
      block: { item: { ...group, data: { voice: voice.id } }, box, space: i === 0 ? 0.4 : BETWEEN_STAVES },
    }
  })
}

function sameLine(a: Line, b: Line): boolean {
  return (
    a.row.length === b.row.length &&
    a.first === b.first &&
    a.last === b.last &&
    a.label === b.label &&
    (a.row === b.row || a.row.every(({ cell, x }, i) => cell === b.row[i]!.cell && x === b.row[i]!.x))
  )
}

interface Sheet {
  readonly content: readonly Item[]
  readonly height: number
}

function intoSheets(blocks: readonly Block[], room: number): Sheet[] {
  const sheets: Sheet[] = []
  let content: Item[] = []
  let height = 0
  blocks.forEach(({ item, box, space, withNext }, i) => {
    const tall = box.bottom - box.top
    const next = withNext ? blocks[i + 1] : undefined
    const needed = tall + (next ? next.space + next.box.bottom - next.box.top : 0)
    if (content.length > 0 && height + space + needed > room) {
      sheets.push({ content, height })
      content = []
      height = 0
    }
    const y = height + (content.length > 0 ? space : 0) - box.top
    content.push({ ...item, y })
    height = y + box.bottom
  })
  return [...sheets, { content, height }]
}
