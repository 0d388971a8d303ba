/** The page as a scribe would set it: staves with their signs, syllables, initials and names, as one drawing or as sheets. */
import type { Page, Voice } from "../../page/index.js"
import type { Box, Item, Scene, TextMark } from "../scene/scene.js"
import { textWidth } from "../text/width.js"
import { describePage } from "./describe.js"
import { BETWEEN_STAVES, BETWEEN_VOICES, INITIAL_ROOM, MARGIN, TITLE_SIZE, type PageOptions } from "./options.js"
import { staffRole, type Block } from "./blocks.js"
import { systemsOf } from "./systems.js"
import { drawLine, linesOf, nameMark, type Line } from "./voice-lines.js"

const USUAL_WIDTH = 1200
const USUAL_UNIT = 12
/** A line of the source too long for the width makes everything smaller, down to this part; beyond it the line is broken. */
const SMALLEST = 0.62

/** The whole page as one drawing, as high as it has to be. */
export function drawPage(page: Page, options: PageOptions = {}): Scene {
  return drawSheets(page, { ...options, sheetHeight: Infinity })[0]!
}

/** The page cut into sheets of `sheetHeight` px between staves. There is always at least one. */
export function drawSheets(page: Page, options: PageOptions = {}): Scene[] {
  const width = Math.max(200, options.width ?? USUAL_WIDTH)
  const unit = fittingUnit(page, width, options)
  const inner = width / unit - 2 * MARGIN
  const blocks = [...titleBlock(page), ...voiceBlocks(page, inner, options)]
  const room = (options.sheetHeight ?? Infinity) / unit - 2 * MARGIN
  const sheets = intoSheets(blocks, room)
  const description = describePage(page)
  return sheets.map((sheet, i) => ({
    width,
    height: Number.isFinite(room) ? options.sheetHeight! : Math.ceil((sheet.height + 2 * MARGIN) * unit),
    unit,
    title: pageTitle(page) + (sheets.length > 1 ? `, sheet ${i + 1} of ${sheets.length}` : ""),
    description,
    content: [{ shape: "group", x: MARGIN * unit, y: MARGIN * unit, scale: unit, content: sheet.content }],
  }))
}

const pageTitle = ({ title }: Page): string => (title.trim() === "" ? "A page of old notation" : title)

/** Smaller where a line of the source needs it. */
function fittingUnit(page: Page, width: number, options: PageOptions): number {
  const unit = Math.max(2, options.unit ?? USUAL_UNIT)
  if (options.lines === "fit" || options.voices === "under") return unit
  const inner = width / unit - 2 * MARGIN
  const widest = Math.max(0, ...page.voices.flatMap(voice => sourceLineEnds(voice, options)))
  const needed = widest + 1 + 2 * MARGIN
  const factor = needed > inner + 2 * MARGIN ? (inner + 2 * MARGIN) / needed : 1
  return factor < SMALLEST ? unit : unit * factor
}

/** How wide the lines of the source are by nature, when it has breaks; a voice without any is set to fit. */
function sourceLineEnds(voice: Voice, options: PageOptions): number[] {
  if (!voice.signs.some(sign => sign.kind === "break")) return []
  return linesOf(voice, Infinity, options, INITIAL_ROOM, true).map(line => line.end)
}

function titleBlock({ title }: Page): Block[] {
  if (title.trim() === "") return []
  const type = { family: "words", size: TITLE_SIZE, weight: 700 } as const
  const mark: TextMark = {
    shape: "text",
    part: "title",
    x: 0,
    y: 0,
    text: title,
    type,
    length: textWidth(title, type),
    fill: "ink",
  }
  return [textBlock(mark, 0)]
}

function textBlock(mark: TextMark, space: number): Block {
  const { size } = mark.type
  const box: Box = { left: 0, right: mark.length ?? 0, top: -size * 0.76, bottom: size * 0.3 }
  return { item: { shape: "group", part: mark.part, content: [mark] }, box, space, withNext: true }
}

function voiceBlocks(page: Page, inner: number, options: PageOptions): Block[] {
  if (options.voices === "under") return systemsOf(page, inner, options)
  return page.voices.flatMap(voice => apart(voice, inner, options))
}

function apart(voice: Voice, inner: number, options: PageOptions): Block[] {
  const lines = linesOf(voice, inner, options, INITIAL_ROOM, true)
  const name = voice.label.trim() === "" ? [] : [textBlock(nameMark(voice, 0, 0), BETWEEN_VOICES)]
  const staves = lines.map((line, i) => lineBlock(line, voice, inner, options, i === 0 ? 0.4 : BETWEEN_STAVES))
  return [...name, ...staves]
}

function lineBlock(line: Line, voice: Voice, width: number, options: PageOptions, space: number): Block {
  const look = { voice, width, role: staffRole(voice, options), indent: INITIAL_ROOM, initial: true }
  const { group, box } = drawLine(line, look)
  return { item: { ...group, data: { voice: voice.id } }, box, space }
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
