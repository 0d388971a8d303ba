/** Panels side by side: a tiny passage each, with its counts, what the same signs would be otherwise, and a sentence. */
import { drawBands, textWidth, wrapped, type Item } from "../../drawing/index.js"
import type { Body, Room } from "./frame.js"
import { fittingSize, letters, NAME, paragraph, words } from "./letters.js"
import { NEAR, type Passage } from "./passage.js"
import { axesOf } from "./strip/axes.js"
import { oldStaff, placeOld } from "./strip/draw.js"
import { SLEEVE, stripLook } from "./strip/look.js"
import { dotFrames, groundsOf } from "./strip/over.js"
import { otherBands } from "./strip/other-bands.js"
import { planStrip, type StripPlan } from "./strip/plan.js"

export interface Panel {
  readonly title: string
  /** The trade's Latin word for it. */
  readonly term: string
  readonly passage: Passage
  /** What the row of counts is called beside that of `other`. */
  readonly named?: string
  readonly other?: { readonly named: string; readonly passage: Passage }
  readonly says: string
  /** Its dots are what is asked about. */
  readonly askedDots?: boolean
}

const LABEL = words(26, { italic: true })
const TERM = words(28, { italic: true })
const SAYS = words(28)
const [BETWEEN, BESIDE, SPACES] = [34, 50, [34, 31, 28, 26, 24, 22, 20, 18, 16]]

/** In one picture, or in several of fewer panels each. */
export function drawPanels(panels: readonly Panel[], room: Room): Body[] {
  for (let each = panels.length; each > 1; each = Math.ceil(each / 2)) {
    const pages = Array.from({ length: Math.ceil(panels.length / each) }, (_, i) =>
      drawPage(panels.slice(i * each, (i + 1) * each), room),
    )
    if (pages.every(one => one.fits)) return pages
  }
  return panels.map(one => drawPage([one], room))
}

/** As many columns as give the largest signs. */
function drawPage(panels: readonly Panel[], room: Room): Body {
  let smallest: Body = { items: [], height: 0, fits: false }
  // a figure of any height has signs of a middle size
  for (const space of SPACES.filter(one => Number.isFinite(room.height) || one <= 26))
    for (let columns = 1; columns <= Math.min(3, panels.length); columns++) {
      const body = drawGrid(panels, room, columns, space)
      if (!body) continue
      smallest = body
      if (body.fits) return body
    }
  return smallest
}

function drawGrid(panels: readonly Panel[], room: Room, columns: number, space: number): Body | undefined {
  const width = (room.width - BESIDE * (columns - 1)) / columns
  const heads = panels.map(one => heading(one, width))
  const head = Math.max(...heads.map(one => one.height))
  const draw = (one: Panel, i: number, lower = 0) =>
    drawPanel(one, { items: heads[i]!.items, height: head + lower }, width, space)
  const first = panels.map((one, i) => draw(one, i))
  if (first.some(one => one === undefined)) return undefined
  const rows = Math.ceil(panels.length / columns)
  // staves side by side stand at one height, whatever stems there are
  const lowest = Array.from({ length: rows }, (_, row) =>
    Math.max(...first.slice(row * columns, (row + 1) * columns).map(one => one!.staffTop)),
  )
  const drawn = panels.map((one, i) => {
    const lower = lowest[Math.floor(i / columns)]! - first[i]!.staffTop
    return lower > 0 ? draw(one, i, lower) : first[i]
  })
  const heights = Array.from({ length: rows }, (_, row) =>
    Math.max(...drawn.slice(row * columns, (row + 1) * columns).map(one => one!.height)),
  )
  const needed = heights.reduce((sum, one) => sum + one, 0) + BETWEEN * (rows - 1)
  const spare = Number.isFinite(room.height) ? Math.max(0, room.height - needed) : 0
  const between = BETWEEN + Math.min(60, spare / rows)
  let y = room.top
  const items: Item[] = []
  heights.forEach((height, row) => {
    drawn.slice(row * columns, (row + 1) * columns).forEach((one, column) => {
      items.push({ shape: "group", part: "panel", x: room.left + column * (width + BESIDE), y, content: one!.items })
    })
    y += height + (row < rows - 1 ? between : 0)
  })
  return { items, height: y - room.top, fits: needed <= room.height && drawn.every(one => one!.isCounted) }
}

/** With its left edge and top at 0; undefined where its passage is too wide. */
function drawPanel(panel: Panel, head: Headed, width: number, space: number): DrawnPanel | undefined {
  const shown = { ...panel.passage, to: Math.max(panel.passage.to, panel.other?.passage.to ?? 0) }
  const planned = planStrip(
    shown,
    stripLook(space, { framedDots: panel.askedDots ?? false }, shown.voices[0]!.style.white),
  )
  const labels = [panel.named, panel.other?.named].map(one => (one ? textWidth(one, LABEL) + 16 : 0))
  const plan: StripPlan = { ...planned, lead: Math.max(planned.lead, ...labels) }
  const axis = axesOf(plan, { left: 0, width, filled: true }, 1)?.[0]
  if (!axis) return undefined
  const items: Item[] = [...head.items]
  const voice = plan.voices[0]!
  const placed = placeOld(voice, plan, axis, head.height)
  const counted = placed.bandTop + plan.look.band + 4
  const system = { axis, voices: [{ placed, top: placed.staffTop, counted, bottom: counted - 4 }] }
  items.push(...groundsOf({ systems: [system] }), ...oldStaff(voice, placed, plan, axis))
  const bands = drawBands(placed, plan.look.bands)
  items.push(...bands)
  if (panel.askedDots) items.push(...dotFrames(placed, plan.look))
  const label = (text: string, bandTop: number) =>
    void items.push(letters(text, 0, bandTop + plan.look.band / 2 + 8, LABEL, { part: "rubric", fill: "red" }))
  if (panel.named) label(panel.named, placed.bandTop)
  let y = placed.bandTop + plan.look.band + SLEEVE + 3
  if (panel.other) {
    const signs = panel.other.passage.voices[0]!.signs.filter(one => one.at < axis.to - NEAR)
    items.push(...otherBands(signs, axis, y, plan.look))
    label(panel.other.named, y)
    y += plan.look.band + 10
  }
  const said = paragraph(panel.says, { x: 0, top: y + 2, room: width, step: 35 }, SAYS, { part: "says", fill: "ink" })
  const height = y + 2 + said.height
  return { items: [...items, ...said.marks], height, staffTop: placed.staffTop, isCounted: bands.every(isCounted) }
}

interface DrawnPanel extends Headed {
  readonly staffTop: number
  /** Each of its bands has room for its count, which is what the panel is there to tell. */
  readonly isCounted: boolean
}
const isCounted = (band: Item): boolean =>
  band.shape !== "group" || band.part !== "duration" || band.content.some(one => one.part === "count")

interface Headed {
  readonly items: readonly Item[]
  readonly height: number
}

/** The name and beside it the term; a long name is smaller, or in two lines, and has no term. */
function heading({ title, term }: Panel, width: number): Headed {
  const type = fittingSize(title, NAME, width, 1, 30)
  const written = { part: "name", fill: "red" } as const
  const lines = wrapped(title, type, width)
  const marks = lines.map((line, i) => letters(line, 0, 32 + i * 36, type, written))
  const height = 58 + (lines.length - 1) * 36
  const x = marks[0]!.length! + 18
  if (term === "" || lines.length > 1 || x + textWidth(term, TERM) > width) return { items: marks, height }
  return { items: [...marks, letters(term, x, 32, TERM, { part: "term", fill: "second" })], height }
}
