/**
 * The time view: all voices over one axis of exact time. Old signs stand at the moment when they sound, over bands as long as
 * they last; perfections are ruled for each voice by itself.
 */
import type { Score } from "../../score/index.js"
import type { Group, Scene, TextMark, TypeStyle } from "../scene/scene.js"
import { textWidth } from "../text/width.js"
import { describeTime } from "./describe.js"
import { lookOf, typeSize, type Look, type TimeOptions } from "./options.js"
import { planOf, type Plan } from "./plan.js"
import { drawSystem, type DrawnSystem } from "./system.js"
import type { TimeInput } from "./timeline.js"

/** A time view as it was laid: the picture, and what places in it mean. */
export interface LaidTime {
  readonly scene: Scene
  /** From top to bottom. */
  readonly systems: readonly LaidSystem[]
  readonly look: Look
}

/** A system and where its top stands in the picture. */
export interface LaidSystem extends DrawnSystem {
  readonly top: number
}

/** The whole piece, or the part asked for, as one drawing, as high as it has to be. */
export function drawTime(input: TimeInput, options: TimeOptions = {}): Scene {
  return layTime(input, options).scene
}

/** The same with what it takes to find moments and signs in it, and to draw over it what sounds or is asked about. */
export function layTime(input: TimeInput, options: TimeOptions = {}): LaidTime {
  const plan = planOf(input, options)
  const systems = plan.axes.map(axis => drawSystem(plan, axis))
  const [sheet] = stacked(systems, Infinity, plan.look)
  return { scene: scenesOf(plan, [sheet!])[0]!, systems: sheet!.systems, look: plan.look }
}

/**
 * Cut into sheets of `sheetHeight` px between systems. There is always at least one. A system is never cut: all is made a
 * little smaller where one would be too high by less than a fifth, and a sheet is higher than asked where it is by more.
 */
export function drawTimeSheets(input: TimeInput, options: TimeOptions = {}): Scene[] {
  const sheets = sheetsOf(input, options)
  const room = options.sheetHeight ?? Infinity
  const tallest = Math.max(...sheets.map(one => one.height))
  if (tallest <= room || tallest > room * 1.25) return sheets
  const { size } = lookOf(options)
  return sheetsOf(input, { ...options, size: (size * room) / (tallest + 8 * size) })
}

function sheetsOf(input: TimeInput, options: TimeOptions): Scene[] {
  const plan = planOf(input, options)
  const systems = plan.axes.map(axis => drawSystem(plan, axis))
  const room = options.sheetHeight ?? Infinity
  return scenesOf(plan, stacked(systems, room, plan.look), Number.isFinite(room) ? room : 0)
}

interface Sheet {
  readonly systems: readonly LaidSystem[]
  readonly bottom: number
}

/** Systems one under another, on as many sheets as they need. */
function stacked(systems: readonly DrawnSystem[], room: number, { size }: Look): Sheet[] {
  const head = 82 * size
  const sheets: { systems: LaidSystem[]; bottom: number }[] = [{ systems: [], bottom: head }]
  for (const system of systems) {
    const sheet = sheets.at(-1)!
    const fits = sheet.systems.length === 0 || sheet.bottom + system.height <= room
    const on = fits ? sheet : { systems: [], bottom: head }
    if (!fits) sheets.push(on)
    on.systems.push({ ...system, top: on.bottom })
    on.bottom += system.height
  }
  return sheets
}

function scenesOf(plan: Plan, sheets: readonly Sheet[], height = 0): Scene[] {
  const { look, score, voices, reason } = plan
  const description = describeTime(
    voices.map(one => one.time),
    score,
    reason,
  )
  return sheets.map(({ systems, bottom }, i) => ({
    width: look.width,
    height: Math.ceil(Math.max(height, bottom)),
    unit: look.staffSpace,
    title: titleOf(score) + (sheets.length > 1 ? `, sheet ${i + 1} of ${sheets.length}` : ""),
    description,
    content: [titleMark(plan), ...systems.map(({ group, top }): Group => ({ ...group, y: top }))],
  }))
}

const titleOf = ({ title }: Score): string => (title.trim() === "" ? "Voices over one axis of time" : title)

function titleMark({ score, look }: Plan): TextMark {
  const text = titleOf(score)
  const type = (size: number): TypeStyle => ({ family: "words", size, weight: 700 })
  const full = typeSize(look, 44)
  const room = look.width - look.margin - look.right
  const own = type(
    Math.max(typeSize(look, 24), Math.min(full, (full * room) / Math.max(1, textWidth(text, type(full))))),
  )
  return {
    shape: "text",
    part: "title",
    x: look.margin,
    y: 66 * look.size,
    text,
    type: own,
    length: Math.min(room, textWidth(text, own)),
    fill: "ink",
  }
}
