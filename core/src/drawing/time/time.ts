/**
 * The time view: all voices over one axis of exact time. Old signs stand at the moment when they sound, over bands as long as
 * they last; perfections are ruled for each voice by itself.
 */
import { toNumber, type Rational } from "../../base/index.js"
import { wholesPerUnit, type Score } from "../../score/index.js"
import type { Item, Scene, TextMark, TypeStyle } from "../scene/scene.js"
import { textWidth } from "../text/width.js"
import { AXIS_GAP, AXIS_HEIGHT, axisStep, drawAxis } from "./axis.js"
import { drawCracks, partingOf, type Parting } from "./crack.js"
import { describeTime } from "./describe.js"
import { drawGutter, gutterWidth, nameSizeFor, staffLead } from "./gutter.js"
import { lineWidth, lookOf, typeSize, type Look, type TimeOptions } from "./options.js"
import { levelsOf, momentKey, ruledOf } from "./perfections.js"
import { placeVoice, xAt, type Axis, type PlacedVoice } from "./place.js"
import { drawReason, drawRemark, reasonOf, type Reason } from "./reason.js"
import { drawSelection } from "./selection.js"
import { cutIntoSystems, formVoice, withRaised, type FormedVoice, type System } from "./systems.js"
import { firstFrom, timeVoices, type TimeInput, type TimeVoice } from "./timeline.js"
import { drawVoice, pillarMarks, within } from "./voice.js"

/** All that systems are drawn from. */
interface Plan {
  readonly look: Look
  readonly score: Score
  readonly voices: readonly FormedVoice[]
  readonly axes: readonly Axis[]
  readonly step: number
  readonly wholes: Rational
  readonly reason?: Reason
  readonly parting?: Parting
  readonly options: TimeOptions
}

/** The whole piece, or the part asked for, as one drawing, as high as it has to be. */
export function drawTime(input: TimeInput, options: TimeOptions = {}): Scene {
  return drawTimeSheets(input, { ...options, sheetHeight: Infinity })[0]!
}

/**
 * Cut into sheets of `sheetHeight` px between systems. There is always at least one. A system is never cut: all is made a
 * little smaller where one would be too high by less than a fifth, and a sheet is higher than asked where it is by more.
 */
export function drawTimeSheets(input: TimeInput, options: TimeOptions = {}): Scene[] {
  const sheets = sheetsOf(planOf(input, options))
  const room = options.sheetHeight ?? Infinity
  const tallest = Math.max(...sheets.map(one => one.height))
  if (tallest <= room || tallest > room * 1.25) return sheets
  const { size } = lookOf(options)
  return sheetsOf(planOf(input, { ...options, size: (size * room) / (tallest + 8 * size) }))
}

function sheetsOf(plan: Plan): Scene[] {
  const { look, options } = plan
  const room = options.sheetHeight ?? Infinity
  const head = 82 * look.size
  const sheets: { items: Item[]; bottom: number }[] = []
  for (const axis of plan.axes) {
    const sheet = sheets.at(-1)
    const here = drawSystem(plan, axis, sheet?.bottom ?? head)
    if (sheet && here.bottom <= room) {
      sheet.items.push(...here.items)
      sheet.bottom = here.bottom
    } else sheets.push(sheet ? drawSystem(plan, axis, head) : here)
  }
  const description = describeTime(
    plan.voices.map(one => one.time),
    plan.score,
    plan.reason,
  )
  return sheets.map(({ items, bottom }, i) => ({
    width: look.width,
    height: Math.ceil(Number.isFinite(room) ? Math.max(room, bottom) : bottom),
    unit: look.staffSpace,
    title: titleOf(plan.score) + (sheets.length > 1 ? `, sheet ${i + 1} of ${sheets.length}` : ""),
    description,
    content: [titleMark(plan), ...items],
  }))
}

const titleOf = ({ title }: Score): string => (title.trim() === "" ? "Voices over one axis of time" : title)

/** So much wider than the longest a shorter system may be. */
const FILLED = 1.35

function planOf(input: TimeInput, options: TimeOptions): Plan {
  const look = lookOf(options)
  const { score } = input
  const times = timeVoices(input)
  const range = rangeOf(times, score, options)
  const voices = times.map(time => formVoice(time, ruledOf(time, range.end), look))
  const left = look.margin + gutterWidth(times, look)
  const right = look.width - look.right
  const lead = staffLead(times, look)
  const { systems, scale } = cutIntoSystems(voices, range, right - left, look)
  const clears = systems.map(({ from }) => roomBefore(voices, from, look))
  const nameRoom = left - look.margin - lead - Math.max(...clears) - 8 * look.size
  const nameSize = nameSizeFor(times, nameRoom, look)
  const axes = systems.map((system, i) => {
    const length = system.to - system.from
    // systems that differ a little in length end at the same margin
    const own = Math.min((right - left) / length, scale * FILLED)
    const clear = clears[i]!
    return {
      ...system,
      left,
      right: left + length * own,
      scale: own,
      lead: lead + clear,
      clear,
      nameSize,
      first: i === 0 && system.from === 0,
      last: system.to >= range.end - 1e-9,
    }
  })
  const reason = options.select === undefined ? undefined : reasonOf(times, options.select)
  const parting = partingOf(score)
  return {
    look,
    score,
    voices: voices.map(voice => withRaised(voice, scale, look)),
    axes,
    step: axisStep(periodOf(times), scale, look),
    wholes: wholesPerUnit(score),
    options,
    ...(reason ? { reason } : {}),
    ...(parting ? { parting } : {}),
  }
}

/** What an accidental before the first note of a system needs beyond the moment; nothing in the compact form. */
function roomBefore(voices: readonly FormedVoice[], from: number, look: Look): number {
  if (look.compact) return 0
  const reach = voices.map(({ time, forms, before }) => {
    const at = firstFrom(time.signs, from)
    const own = forms[at]?.box.left ?? 0
    return Math.max(0, -own - (before[at]?.box.left ?? 0) - look.after)
  })
  return Math.max(0, ...reach)
}

/** The ground's period in the voice that is ruled most coarsely at the beginning. */
const periodOf = (voices: readonly TimeVoice[]): number =>
  Math.max(1, ...voices.flatMap(({ spans }) => (spans[0] ? [levelsOf(spans[0]).base] : [])))

/** A held final is shown as long as one period; where the options cut the axis, no longer. */
function rangeOf(voices: readonly TimeVoice[], score: Score, { from, to }: TimeOptions): System & { end: number } {
  const whole = toNumber(score.duration)
  const finals = voices.map(({ finalAt }) => finalAt).filter(Number.isFinite)
  const rests = voices.flatMap(({ signs, finalAt }) =>
    Number.isFinite(finalAt) ? [] : signs.slice(-1).map(one => one.at + one.lasts),
  )
  const held = finals.length > 0 ? Math.max(...finals) + Math.max(2, periodOf(voices)) : whole
  const end = Math.max(1e-3, Math.min(whole, Math.max(held, ...rests)))
  const start = Math.min(Math.max(0, from ? toNumber(from) : 0), end)
  const stop = Math.min(end, to ? toNumber(to) : end)
  return stop > start + 1e-9 ? { from: start, to: stop, end } : { from: 0, to: end, end }
}

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

function drawSystem(plan: Plan, axis: Axis, top: number): { items: Item[]; bottom: number } {
  const { look, score, options } = plan
  const lineY = top + AXIS_HEIGHT * look.size
  const unit = score.unit === "minima" ? "minims" : "tempora"
  const voices = placeVoices(plan, axis, lineY + AXIS_GAP * look.size)
  let bottom = voices.at(-1)?.bottom ?? lineY
  const items: Item[] = [
    ...drawAxis(axis, lineY, { step: plan.step, unit }, look),
    ...voices.map(voice => drawVoice(voice, plan.wholes, look)),
    ...joinedPillars(voices, look),
    ...voices.map(voice => drawGutter(voice, look)),
  ]
  const { select } = options
  if (select !== undefined && plan.reason && holds(voices, select)) {
    const reasonY = bottom + look.between
    items.push(...drawSelection(voices, select, reasonY, look), rule(reasonY, look))
    const { items: words, height } = drawReason(plan.reason, axis.left, reasonY, look)
    items.push(...words)
    bottom = reasonY + height
  }
  const cracks = plan.parting ? voices.flatMap(voice => drawCracks(voice, plan.parting!, look)) : []
  if (cracks.length > 0) {
    const { items: words, height } = drawRemark(plan.parting!.sentence, bottom + look.between, look)
    items.push(...cracks, ...words)
    bottom += look.between + height
  }
  return { items: [{ shape: "group", part: "system", content: items }], bottom: bottom + 24 * look.size }
}

const holds = (voices: readonly PlacedVoice[], id: string): boolean =>
  voices.some(({ signs }) => signs.some(({ timed }) => timed.sign.id === id))

function placeVoices({ voices, look, options }: Plan, axis: Axis, top: number): PlacedVoice[] {
  let y = top
  return voices.map(formed => {
    const asked = options.select !== undefined && formed.time.signs.find(({ sign }) => sign.id === options.select)
    const lane = Boolean(asked && asked.at >= axis.from && asked.at < axis.to && asked.reading.because.length > 0)
    const placed = placeVoice(formed, axis, y, look, lane)
    y = placed.bottom + look.between
    return placed
  })
}

/** Where two neighbours' perfections begin together the pillar runs on through the gap. */
function joinedPillars(voices: readonly PlacedVoice[], look: Look): Item[] {
  return voices.slice(1).flatMap((below, i) => {
    const above = voices[i]!
    const { from, to } = below.axis
    const shared = within(below.formed.ruled.pillars, { from, to, last: false }).filter(({ at }) =>
      above.formed.pillarKeys.has(momentKey(at)),
    )
    const lines = shared.map(({ at, kind }) => ({ kind, x: xAt(below.axis, at), top: above.bottom, bottom: below.top }))
    return pillarMarks("joined-pillar", lines, look)
  })
}

const rule = (y: number, look: Look): Item => ({
  shape: "line",
  part: "reason-rule",
  x1: look.margin,
  x2: look.width - look.right,
  y1: y,
  y2: y,
  stroke: { role: "blue", width: lineWidth(look, 2) },
})
