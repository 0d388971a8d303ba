/**
 * The time view: all voices over one axis of exact time. Old signs stand at the moment when they sound, over bands as long as
 * they last; perfections are ruled for each voice by itself.
 */
import type { Score } from "../../score/index.js"
import type { Group, Scene, TextMark } from "../scene/scene.js"
import { titleIn, type Title } from "../text/lines.js"
import { textWidth } from "../text/width.js"
import { describeTime } from "./describe.js"
import { Compared } from "./kept.js"
import { typeSize, type Closeness, type Look, type TimeOptions } from "./options.js"
import type { Axis } from "./place.js"
import { planOf, type Plan } from "./plan.js"
import { TimeSystem } from "./system.js"
import type { TimeInput } from "./timeline.js"

/** A time view as it was laid: what it is drawn from, and where everything stands. */
export interface LaidTime {
  /** The whole picture; drawn when it is asked for. */
  readonly scene: Scene
  readonly width: number
  readonly height: number
  readonly look: Look
  /** The picture in words; nothing need be drawn for it. */
  readonly description: string
  /** From top to bottom. */
  readonly systems: readonly LaidSystem[]
  /** For laying it again. */
  readonly plan: Plan
}

/** A system, and where its top stands in the picture. */
export class LaidSystem {
  /** The very same object as in the last layout where nothing has changed. */
  readonly system: TimeSystem
  readonly top: number

  constructor(system: TimeSystem, top: number) {
    this.system = system
    this.top = top
  }
  get axis(): Axis {
    return this.system.axis
  }
  get height(): number {
    return this.system.height
  }
  /** Drawn when it is asked for; y is 0 at the system's own top. */
  get group(): Group {
    return this.system.group
  }
}

/** The whole piece, or the part asked for, as one drawing, as high as it has to be. */
export function drawTime(input: TimeInput, options: TimeOptions = {}): Scene {
  return layTime(input, options).scene
}

/**
 * The same for showing it: nothing is drawn before it is asked for, so that only systems that are seen need be. Given the last
 * layout, a system in which nothing changed is the very same object as before.
 */
export function layTime(input: TimeInput, options: TimeOptions = {}, before?: LaidTime): LaidTime {
  const plan = planOf(input, options, { before: before?.plan })
  const [sheet] = stacked(systemsOf(plan, before), Infinity, plan)
  return new Laid(plan, sheet!)
}

class Laid implements LaidTime {
  readonly plan: Plan
  readonly systems: readonly LaidSystem[]
  readonly width: number
  readonly height: number
  readonly look: Look
  #scene: Scene | undefined
  #description: string | undefined

  constructor(plan: Plan, { systems, bottom }: Sheet) {
    this.plan = plan
    this.systems = systems
    this.look = plan.book.look
    this.width = this.look.width
    this.height = Math.ceil(bottom)
  }
  get description(): string {
    this.#description ??= described(this.plan)
    return this.#description
  }
  get scene(): Scene {
    this.#scene ??= scenesOf(this.plan, [{ systems: this.systems, bottom: this.height }])[0]!
    return this.#scene
  }
}

/**
 * Cut into sheets of `sheetHeight` px between systems. There is always at least one. A system is never cut: where one would be
 * too high, rows stand closer, then without words, without modern values, in the compact form, and at last all is made a little
 * smaller; a sheet is higher than asked where even that does not help. Where closer rows save a sheet they stand closer.
 */
export function drawTimeSheets(input: TimeInput, options: TimeOptions = {}): Scene[] {
  return layTimeSheets(input, options).map(({ scene }) => scene)
}

/** A sheet, and where its systems stand on it. */
export interface LaidTimeSheet {
  readonly scene: Scene
  readonly systems: readonly LaidSystem[]
}

/** The same sheets with the places of their systems. */
export function layTimeSheets(input: TimeInput, options: TimeOptions = {}): LaidTimeSheet[] {
  const room = options.sheetHeight ?? Infinity
  if (!Number.isFinite(room)) return [layTime(input, options)]
  const fitting = fitted(input, options, room)
  const sheets = spreadOut(fitting, room)
  return scenesOf(fitting.plan, sheets, room).map((scene, i) => ({ scene, systems: sheets[i]!.systems }))
}

interface Sheets {
  readonly plan: Plan
  readonly sheets: readonly Sheet[]
}

function sheetsOf(input: TimeInput, options: TimeOptions, room: number, close: Closeness): Sheets {
  const plan = planOf(input, options, { close })
  return { plan, sheets: stacked(systemsOf(plan), room, plan) }
}

const tallest = ({ sheets }: Sheets): number => Math.max(...sheets.map(one => one.bottom))

/** As much is shown as fits, as large as it can be. */
function fitted(input: TimeInput, options: TimeOptions, room: number): Sheets {
  const fits = (sheets: Sheets) => tallest(sheets) <= room
  const compact = { ...options, compact: true }
  const ways: readonly (readonly [TimeOptions, Closeness])[] = options.compact
    ? [
        [options, 0],
        [options, 1],
      ]
    : [
        [options, 0],
        [options, 1],
        [options, 2],
        [options, 3],
        [compact, 0],
        [compact, 1],
      ]
  let last: Sheets | undefined
  for (const [asked, close] of ways) {
    last = sheetsOf(input, asked, room, close)
    if (!fits(last)) continue
    const closer = close === 0 ? sheetsOf(input, asked, room, 1) : undefined
    // where closer rows save a sheet they are better
    const best = closer && fits(closer) && closer.sheets.length < last.sheets.length ? closer : last
    return options.size === undefined ? larger(input, best, room) : best
  }
  return tallest(last!) > room * 1.25 ? last! : smaller(input, last!, room)
}

/** In the closest form, so much smaller that its highest system fits. */
function smaller(input: TimeInput, { plan }: Sheets, room: number): Sheets {
  const close = sheetsOf(input, plan.options, room, 1)
  const { size } = plan.book.look
  return sheetsOf(input, { ...plan.options, size: (size * room) / (tallest(close) + 8 * size) }, room, 1)
}

/** A sheet that only one system half fills is better used by a larger one. */
function larger(input: TimeInput, sheets: Sheets, room: number): Sheets {
  const free = room / tallest(sheets)
  if (free < ROOMY || sheets.sheets.some(one => one.systems.length > 1)) return sheets
  const { options, book, close } = sheets.plan
  for (const factor of [free, 0.85 * free]) {
    const size = book.look.size * Math.min(MOST_LARGER, factor * 0.98)
    const tried = sheetsOf(input, { ...options, size }, room, close)
    if (tallest(tried) <= room) return tried
  }
  return sheets
}
const ROOMY = 1.25
const MOST_LARGER = 1.6

/** Room that is left on a full sheet goes between its systems; the last sheet is set as the one before. */
function spreadOut({ plan, sheets }: Sheets, room: number): Sheet[] {
  const most = MOST_BETWEEN * plan.book.look.size
  let gap = 0
  return sheets.map((sheet, i) => {
    const gaps = sheet.systems.length - 1
    const spare = Math.max(0, room - sheet.bottom)
    if (i < sheets.length - 1 || sheets.length === 1) gap = gaps > 0 ? Math.min(most, spare / gaps) : 0
    const own = gaps > 0 ? Math.min(gap, spare / gaps) : 0
    return { ...sheet, systems: sheet.systems.map(({ system, top }, k) => new LaidSystem(system, top + k * own)) }
  })
}
/** Px that go between two systems at the most. */
const MOST_BETWEEN = 90

/** Those of the last layout where nothing has changed. */
function systemsOf(plan: Plan, before?: LaidTime): TimeSystem[] {
  if (!before || before.plan.book !== plan.book) return plan.axes.map(axis => new TimeSystem(plan, axis))
  const compared = new Compared(before.plan, plan)
  const known = new Map<number, TimeSystem>()
  for (const { system } of before.systems) known.set(system.axis.from, system)
  return plan.axes.map(axis => {
    const old = known.get(axis.from)
    const same = old ? compared.sameVoices(old.axis, axis) : []
    return old && same.length > 0 && same.every(Boolean) ? old : new TimeSystem(plan, axis, old, same)
  })
}

interface Sheet {
  readonly systems: readonly LaidSystem[]
  readonly bottom: number
}

/** Systems one under another, on as many sheets as they need. */
function stacked(systems: readonly TimeSystem[], room: number, plan: Plan): Sheet[] {
  const head = headOf(plan)
  const sheets: { systems: LaidSystem[]; bottom: number }[] = [{ systems: [], bottom: head }]
  for (const system of systems) {
    const sheet = sheets.at(-1)!
    const fits = sheet.systems.length === 0 || sheet.bottom + system.height <= room
    const on = fits ? sheet : { systems: [], bottom: head }
    if (!fits) sheets.push(on)
    on.systems.push(new LaidSystem(system, on.bottom))
    on.bottom += system.height
  }
  return sheets
}

function scenesOf(plan: Plan, sheets: readonly Sheet[], height = 0): Scene[] {
  const { book, score } = plan
  const { look } = book
  const description = described(plan)
  return sheets.map(({ systems, bottom }, i) => ({
    width: look.width,
    height: Math.ceil(Math.max(height, bottom)),
    unit: look.staffSpace,
    title: titleOf(score) + (sheets.length > 1 ? `, sheet ${i + 1} of ${sheets.length}` : ""),
    description,
    content: [...titleMarks(plan), ...systems.map(({ system, top }) => system.at(top))],
  }))
}

const described = ({ voices, score, reason }: Plan): string =>
  describeTime(
    voices.map(one => one.time),
    score,
    reason,
  )

const titleOf = ({ title }: Score): string => (title.trim() === "" ? "Voices over one axis of time" : title)

function titleMarks(plan: Plan): TextMark[] {
  const { look } = plan.book
  const { lines, type } = titleLines(plan)
  return lines.map((text, i) => ({
    shape: "text",
    part: "title",
    x: look.margin,
    y: 66 * look.size + i * type.size * TITLE_LINE,
    text,
    type,
    length: textWidth(text, type),
    fill: "ink",
  }))
}
/** From one line of a title to the next, in its size. */
const TITLE_LINE = 1.15

const titleLines = ({ score, book: { look } }: Plan): Title =>
  titleIn(
    titleOf(score),
    { family: "words", size: typeSize(look, 44), weight: 700 },
    look.width - look.margin - look.right,
  )

/** Above the first system of a sheet. */
function headOf(plan: Plan): number {
  const { lines, type } = titleLines(plan)
  return 82 * plan.book.look.size + (lines.length - 1) * type.size * TITLE_LINE
}
