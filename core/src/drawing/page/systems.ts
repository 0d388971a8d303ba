/** Voices one under another: systems of one staff for each voice, the names at the left of the first. */
import type { Page, Voice } from "../../page/index.js"
import type { Box, Group, Item, LineMark } from "../scene/scene.js"
import { USUAL_CLEF, around, styleOf, type SignStyle } from "../signs/index.js"
import { textWidth } from "../text/width.js"
import { stretchesOf, type ClefState } from "./cells.js"
import type { Memory } from "./memory.js"
import { BETWEEN_STAVES, BETWEEN_VOICES, NAME_SIZE, type PageOptions } from "./options.js"
import { staffRole, type Block } from "./blocks.js"
import { SHORTEST, type Spacing } from "./set-line.js"
import { drawStaff } from "./staff.js"
import { cutMoment, setSystem, stepsOf, stretched, withWordsInside, type System } from "./under.js"
import { drawLine, headed, HEAD_ROOM, linesOf, nameMark, withinRoom } from "./voice-lines.js"

const LEAD = 0.6
const FULL_ENOUGH = 0.7

/** With moments, aligned by them; without, line after line as each voice breaks. */
export function systemsOf(page: Page, width: number, options: PageOptions, memory: Memory): Block[] {
  const gutter = gutterOf(page, width)
  return options.moments
    ? aligned(page, width, gutter, options, memory)
    : lineByLine(page, width, gutter, options, memory)
}

/** Beside the first staves, for the names; 0 where they would take too much of the width and stand over the staves. */
function gutterOf({ voices }: Page, width: number): number {
  const names = voices.map(({ label }) => textWidth(label, { family: "words", size: NAME_SIZE, weight: 700 }))
  const gutter = Math.max(0, ...names) + 1
  return gutter > width * MOST_GUTTER ? 0 : gutter
}
const MOST_GUTTER = 0.3

/** A system as it is laid, before it is filled. */
interface Laid {
  readonly system: System
  readonly first: boolean
  readonly left: number
  readonly start: number
  readonly last: boolean
}

/** In as few systems as the width allows, as even in length as their number allows. */
function aligned(page: Page, width: number, gutter: number, options: PageOptions, memory: Memory): Block[] {
  const voices = page.voices.map(voice => {
    const stretches = withinRoom(stretchesOf(voice, memory), width - gutter - HEAD_ROOM, memory)
    const steps = stepsOf(
      stretches.flatMap(one => one.cells),
      options.moments!,
    )
    return { style: styleOf(voice), steps, clef: stretches[0]?.clef ?? { clef: USUAL_CLEF } }
  })
  const inAt = (within: number) =>
    systemsWithin(voices, within, gutter, { spacing: options.spacing ?? "shape", memory })
  const full = inAt(width)
  let [laid, low, high] = [full, width * SHORTEST, width]
  for (let turn = 0; turn < 4 && full.length > 1; turn++) {
    const middle = (low + high) / 2
    const tried = inAt(middle)
    if (tried.length > full.length) low = middle
    else [laid, high] = [tried, middle]
  }
  return laid.map(one => systemBlock(page, one, width, options))
}

interface VoiceSteps {
  readonly style: SignStyle
  readonly steps: ReturnType<typeof stepsOf>
  readonly clef: ClefState
}

function systemsWithin(
  voices: readonly VoiceSteps[],
  width: number,
  gutter: number,
  { spacing, memory }: { readonly spacing: Spacing; readonly memory: Memory },
): Laid[] {
  let rest = voices.map(one => one.steps)
  let states = voices.map(one => one.clef)
  const laid: Laid[] = []
  while (rest.some(steps => steps.length > 0)) {
    const left = laid.length === 0 ? gutter : 0
    const start = left + LEAD
    const window = rest.map((steps, v) => withHead(steps.slice(0, WINDOW), states[v]!, voices[v]!.style, memory))
    // the staff of a voice that has ended keeps its clef
    const empty = window.map((steps, v) => (steps.length > 0 ? [] : headed(states[v]!, [], voices[v]!.style, memory)))
    const whole = setSystem(window, empty, start, spacing)
    const cut = cutMoment(window, whole.ends, width - LEAD)
    const taken = cut === undefined ? window : window.map(steps => steps.filter(step => step.moment < cut))
    const set = cut === undefined ? whole : setSystem(taken, empty, start, spacing)
    const system = withWordsInside(set.system, left, width - LEAD)
    rest = rest.map((steps, v) => steps.slice(taken[v]!.length))
    states = states.map((state, v) => system.cells[v]!.at(-1)?.clefState ?? state)
    laid.push({ system, first: laid.length === 0, left, start, last: rest.every(steps => steps.length === 0) })
  }
  return laid
}
/** The first step of a system with the clef and the signature in force. */
function withHead(steps: VoiceSteps["steps"], state: ClefState, style: SignStyle, memory: Memory): VoiceSteps["steps"] {
  const [first, ...more] = steps
  return first ? [{ ...first, cells: headed(state, first.cells, style, memory) }, ...more] : []
}

/** More signs than any line holds: a system looks no further. */
const WINDOW = 160

/** One whose signs are wider than the page at a single moment is made smaller as a whole. */
function systemBlock(page: Page, laid: Laid, width: number, options: PageOptions): Block {
  const needed = laid.system.end + LEAD
  if (needed <= width) return systemAt(page, laid, width, options)
  const { item, box, space } = systemAt(page, laid, needed, options)
  const scale = width / needed
  const [left, right, top, bottom] = [box.left, box.right, box.top, box.bottom].map(one => one * scale)
  return {
    item: { shape: "group", scale, content: [item] },
    box: { left: left!, right: right!, top: top!, bottom: bottom! },
    space,
  }
}

function systemAt(page: Page, { system, first, left, start, last }: Laid, width: number, options: PageOptions): Block {
  const { rows, end } = system
  const full = !last || end > width * FULL_ENOUGH
  const set = full ? stretched(rows, start, end, width - LEAD) : rows
  const staves = page.voices.map((voice, v) => {
    const row = set[v]!
    const { group, box } = drawStaff({
      row,
      lines: styleOf(voice).lines,
      left,
      right: width,
      role: staffRole(voice, options),
      extra: first && left > 0 ? [besideStaff(voice)] : [],
      ...(first && left === 0 && voice.label.trim() !== "" ? { name: nameMark(voice, LEAD, 0, width - LEAD) } : {}),
    })
    return { voice, group, box }
  })
  return stacked(staves, left, first ? 1 : BETWEEN_VOICES)
}

const besideStaff = (voice: Voice) => nameMark(voice, 0, -(styleOf(voice).lines - 1) / 2 + NAME_SIZE * 0.24)

/** Staves under another, joined by a stroke at their left end. */
function stacked(
  staves: readonly { readonly voice: Voice; readonly group: Group; readonly box: Box }[],
  left: number,
  space: number,
): Block {
  const content: Item[] = []
  let y = 0
  let [first, bottom] = [0, 0]
  let box: Box = { left, right: left, top: 0, bottom: 0 }
  staves.forEach(({ voice, group, box: own }, i) => {
    y = i === 0 ? -own.top : bottom + BETWEEN_STAVES * 0.6 - own.top
    if (i === 0) first = y - (styleOf(voice).lines - 1)
    bottom = y + own.bottom
    content.push({ ...group, y, data: { voice: voice.id } })
    box = around(box, { ...own, top: y + own.top, bottom })
  })
  const joined: LineMark = {
    shape: "line",
    part: "system",
    x1: left,
    x2: left,
    y1: first,
    y2: y,
    stroke: { role: "second", width: 0.16 },
  }
  return { item: { shape: "group", part: "system", content: [...content, joined] }, box, space }
}

function lineByLine(page: Page, width: number, gutter: number, options: PageOptions, memory: Memory): Block[] {
  const lines = page.voices.map(voice => linesOf(voice, { width, options, indent: gutter, initial: false, memory }))
  const count = Math.max(0, ...lines.map(one => one.length))
  return Array.from({ length: count }, (_, i) => {
    const staves = page.voices.flatMap((voice, v) => {
      const line = lines[v]![i]
      if (!line) return []
      const look = { voice, width, role: staffRole(voice, options), indent: gutter, initial: false }
      const over = i === 0 && gutter === 0 && voice.label.trim() !== ""
      const { group, box } = drawLine(line, over ? { ...look, name: nameMark(voice, LEAD, 0, width - LEAD) } : look)
      const named: Group = i === 0 && !over ? { ...group, content: [besideStaff(voice), ...group.content] } : group
      return [{ voice, group: named, box }]
    })
    return stacked(staves, i === 0 ? gutter : 0, i === 0 ? 1 : BETWEEN_VOICES)
  })
}
