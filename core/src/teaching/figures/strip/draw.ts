/** A strip drawn: systems of old signs over bands over modern signs. */
import type { SignId } from "../../../base/index.js"
import {
  beadUnder,
  CAUSE_LANE,
  drawBands,
  itemsOf,
  modernValues,
  signItems,
  staffLines,
  threads,
  xAt,
  type Axis,
  type FormedVoice,
  type Item,
  type PlacedSign,
  type PlacedVoice,
  type TimedSign,
} from "../../../drawing/index.js"
import { wholesPerUnit } from "../../../score/index.js"
import { letters, RUBRIC } from "../letters.js"
import { NEAR } from "../passage.js"
import type { StripAxis } from "./axes.js"
import { perfectionsOf, sumsRow, wordsRow } from "./counts.js"
import { AFTER, type StripLook } from "./look.js"
import { modernRow } from "./modern-staff.js"
import { isSung, rubricsOver, sungItems } from "./sung.js"
import type { PlannedVoice, StripPlan } from "./plan.js"

/** A voice with its places, for what is drawn over it. */
export interface StripVoice {
  readonly placed: PlacedVoice
  readonly top: number
  /** Where the bands end. */
  readonly counted: number
  readonly bottom: number
  /** Sums above `counted`: from their top on no pillar runs through one. */
  readonly sums?: { readonly top: number; readonly all: readonly { readonly from: number; readonly to: number }[] }
}
export interface StripSystem {
  readonly axis: Axis
  readonly voices: readonly StripVoice[]
}
export interface Strip {
  readonly items: readonly Item[]
  readonly systems: readonly StripSystem[]
  readonly bottom: number
}

export interface StripPlace {
  readonly left: number
  readonly top: number
  readonly width: number
}

const BETWEEN_VOICES = 34
/** Where voices are close since there is no modern staff. */
const BETWEEN_VALUES = 20
const BETWEEN_TIGHT = 12
const BETWEEN_SYSTEMS = 44

/** `axes` are cut from the plan: see `axesOf`. */
export function drawStrip(plan: StripPlan, axes: readonly StripAxis[], place: StripPlace): Strip {
  const items: Item[] = []
  const systems: StripSystem[] = []
  let y = place.top
  for (const axis of axes) {
    if (systems.length > 0) y += BETWEEN_SYSTEMS
    const voices: StripVoice[] = []
    for (const planned of plan.voices) {
      if (voices.length > 0) y += betweenVoices(plan.look.rows)
      const drawn = drawVoice(planned, plan, axis, y, place.left)
      items.push(...drawn.items)
      voices.push({ placed: drawn.placed, top: y, counted: drawn.counted, bottom: drawn.bottom })
      y = drawn.bottom
    }
    systems.push({ axis, voices })
  }
  return { items, systems, bottom: y }
}

const betweenVoices = ({ modern, tight }: StripPlan["look"]["rows"]): number =>
  tight ? BETWEEN_TIGHT : modern === "values" ? BETWEEN_VALUES : BETWEEN_VOICES

interface DrawnVoice {
  readonly items: readonly Item[]
  readonly placed: PlacedVoice
  readonly counted: number
  readonly bottom: number
}

function drawVoice(planned: PlannedVoice, plan: StripPlan, axis: StripAxis, top: number, left: number): DrawnVoice {
  const { look } = plan
  const { rows } = look
  const items: Item[] = []
  const rubric = (text: string, y: number): void =>
    void items.push(letters(text, left, y, RUBRIC, { part: "rubric", fill: "red" }))
  const beside = rows.rubrics === "left"
  let y = top
  const { voice } = planned.formed.time
  const name = plan.voices.length > 1 || rows.named ? voice.label || voice.n : undefined
  if (rows.rubrics === "above") {
    rubric(name ?? "as written", y + 26)
    y += 40
  }
  if (rows.sung) {
    const row = rubricsOver(planned.formed.time, axis, look)
    items.push({ shape: "group", part: "rubrics", y, content: row.items })
    y += row.height
  }
  const placed = placeOld(planned, plan, axis, y)
  items.push(...sungItems(placed, look))
  if (beside) rubric(name ?? "as written", middleOf(placed.staffTop, placed.staffBottom))
  items.push(...oldStaff(planned, placed, plan, axis))
  items.push(...drawBands(placed, look.bands))
  if (beside && name === undefined) rubric(unitName(plan), middleOf(placed.bandTop, placed.bandTop + look.band))
  y = placed.bandTop + look.band + look.sleeve
  const counted = y - 4
  const { time } = planned.formed
  const starting = placed.signs.map(one => one.timed)
  if (rows.words) {
    const row = wordsRow(time, starting, axis, y + 2)
    items.push(...row.items)
    y += row.height
  }
  if (rows.sums) {
    const row = sumsRow(perfectionsOf(time, starting), axis, y + 2)
    items.push(...row.items)
    y += row.height
  }
  if (planned.modern && planned.modernOpening) {
    if (rows.rubrics === "above" && name === undefined) {
      rubric("as read", y + 30)
      y += 34
    }
    const row = modernRow(planned.modern, planned.modernOpening, axis, plan.lead, look)
    const staffTop = y + Math.max(row.above + 6, rows.rubrics === "above" ? 14 : 20)
    const foot = staffTop + 4 * look.modernSpace
    items.push({ shape: "group", part: "modern-staff", y: foot, content: row.items })
    if (beside && name === undefined) rubric("as read", middleOf(staffTop, foot))
    y = foot + row.below + 2
  }
  if (rows.modern === "values") {
    const [foot, height] = rows.tight ? [34, 37] : [38, 44]
    const values = { ...placed, modernY: y + foot }
    items.push(...modernValues(values, wholesPerUnit(plan.passage.score), look.signs))
    y += height
  }
  return {
    items: [{ shape: "group", part: "voice", data: { voice: time.voice.id }, content: items }],
    placed,
    counted,
    bottom: y,
  }
}

const middleOf = (top: number, bottom: number): number => (top + bottom) / 2 + RUBRIC.size * 0.22

const unitName = ({ passage }: StripPlan): string => (passage.score.unit === "minima" ? "minims" : "tempora")

/** Heights of the old staff and of the bands. */
export function placeOld(
  { formed, opening }: PlannedVoice,
  { look, passage }: StripPlan,
  axis: Axis,
  top: number,
): PlacedVoice {
  const { time } = formed
  const starts = (one: TimedSign) => one.at >= axis.from - NEAR && one.at < axis.to - NEAR
  const signs: PlacedSign[] = time.signs.filter(starts).map(timed => {
    const at = time.signs.indexOf(timed)
    return { timed, form: formed.forms[at]!, before: formed.before[at]!, x: xAt(axis, timed.at) + AFTER }
  })
  const sounding = time.signs.filter(one => one.at < axis.to - NEAR && one.at + one.lasts > axis.from + NEAR)
  const staff = (time.style.lines - 1) * look.space
  const boxes = signs.flatMap(({ form, before }) => [form.box, before.box])
  const highest = Math.max(4, ...boxes.map(box => -box.top - staff), -opening.box.top - staff)
  // the clef stands beside the bands, not over them
  const lowest = Math.max(0, ...boxes.map(box => box.bottom))
  const staffTop = top + highest
  const staffBottom = staffTop + staff
  const begins = signs[0] ? time.signs.indexOf(signs[0].timed) : 0
  const sung = isSung({ formed, begins, signs })
  const lane = staffBottom + Math.max(...signs.map(one => laneUnder(one, passage.asked, signs, look)))
  const under = Math.max(
    staffBottom + Math.max(lowest + (sung ? WORDS.over : 10), look.space * 0.9),
    sung ? lane + LANE_OVER_WORDS : lane + LANE_OVER_BAND * look.signs.size - look.sleeve,
  )
  const placed: PlacedVoice = {
    formed,
    axis,
    opening: { isNew: false },
    top,
    staffTop,
    staffBottom,
    bandTop: under + look.sleeve,
    modernY: 0,
    wordsY: undefined,
    storeyTop: 0,
    bottom: under + look.band + 2 * look.sleeve,
    begins,
    signs,
    sounding,
    capitals: [],
    storeys: [],
  }
  if (!sung) return placed
  return {
    ...placed,
    wordsY: under + WORDS.foot,
    bandTop: placed.bandTop + WORDS.height,
    bottom: placed.bottom + WORDS.height,
  }
}

/**
 * Of a line of syllables: its height, where letters stand in it, and how far it keeps from the lowest sign, so that the lines of
 * causes have room between them.
 */
const WORDS = { height: 32, foot: 22, over: 18 }

/** Where the lines of causes run: over the words, where there are any, so that they go through none. */
export const overWords = ({ wordsY }: PlacedVoice): number | undefined =>
  wordsY === undefined ? undefined : wordsY - WORDS.foot - LANE_OVER_WORDS

/** Lines of causes run so far over words; where there are none, so far over the bands. */
const [LANE_OVER_WORDS, LANE_OVER_BAND] = [2, CAUSE_LANE]
/** Between the sign that is asked about and its frame. */
export const FRAME_ROOM = 10
/** Under the frame: what the arrow needs down to the lines that go up into it. */
const ARROW_ROOM = 3 + 13 + 7
/** Under the middle of a bead. */
const BEAD_ROOM = 7

/** How far under the staff the lines of causes have to run for the sake of this sign, however low it is. */
function laneUnder(
  one: PlacedSign,
  asked: SignId | undefined,
  signs: readonly PlacedSign[],
  { signs: look }: StripLook,
) {
  if (asked === undefined) return -Infinity
  if (one.timed.sign.id === asked)
    return one.timed.reading.because.length === 0 ? -Infinity : one.form.body.bottom + FRAME_ROOM + ARROW_ROOM
  const chosen = signs.find(({ timed }) => timed.sign.id === asked)
  const isCause = chosen?.timed.reading.because.includes(one.timed.sign.id)
  return isCause ? beadUnder({ staffBottom: 0 }, one, look).y + BEAD_ROOM : -Infinity
}

export function oldStaff({ opening, formed }: PlannedVoice, placed: PlacedVoice, plan: StripPlan, axis: Axis): Item[] {
  const { look, lead } = plan
  return [
    ...staffLines(placed, look.lines),
    { ...opening.item, x: axis.left - lead, y: placed.staffBottom },
    ...threads(placed, look.signs),
    ...placed.signs.flatMap(one => signItems(placed, one, look.lines)),
    ...tail(formed, placed, axis),
  ]
}

/** What is written behind the last note stands at the end of its time. */
function tail({ tail: form }: FormedVoice, { staffBottom }: PlacedVoice, axis: Axis): Item[] {
  const content = itemsOf(form)
  if (!axis.last || content.length === 0) return []
  return [{ shape: "group", x: axis.right - 10, y: staffBottom, content }]
}
