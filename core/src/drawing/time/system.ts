/** One system: all voices over one part of the axis. */
import type { SignId } from "../../base/index.js"
import type { Group, Item } from "../scene/scene.js"
import { AXIS_GAP, AXIS_HEIGHT, drawAxis } from "./axis.js"
import { drawCracks } from "./crack.js"
import { drawGutter } from "./gutter.js"
import { lineWidth, type Look } from "./options.js"
import { momentKey } from "./perfections.js"
import { placeVoice, xAt, type Axis, type PlacedVoice } from "./place.js"
import type { Plan } from "./plan.js"
import { drawReason, drawRemark } from "./reason.js"
import { drawSelection } from "./selection.js"
import { drawVoice, pillarMarks, within } from "./voice.js"

/** Its own top is y 0. */
export interface DrawnSystem {
  readonly axis: Axis
  readonly axisY: number
  readonly placed: readonly PlacedVoice[]
  readonly group: Group
  readonly height: number
}

export function drawSystem(plan: Plan, axis: Axis): DrawnSystem {
  const { look, score, options } = plan
  const axisY = AXIS_HEIGHT * look.size
  const unit = score.unit === "minima" ? "minims" : "tempora"
  const placed = placeVoices(plan, axis, axisY + AXIS_GAP * look.size)
  let bottom = placed.at(-1)?.bottom ?? axisY
  const items: Item[] = [
    ...drawAxis(axis, axisY, { step: plan.step, unit }, look),
    ...placed.map(voice => drawVoice(voice, plan.wholes, look)),
    ...joinedPillars(placed, look),
    ...placed.map(voice => drawGutter(voice, look)),
  ]
  const { select } = options
  if (select !== undefined && plan.reason && holds(placed, select)) {
    const reasonY = bottom + look.between
    items.push(...drawSelection(placed, select, reasonY, look), rule(reasonY, look))
    const { items: words, height } = drawReason(plan.reason, axis.left, reasonY, look)
    items.push(...words)
    bottom = reasonY + height
  }
  const cracks = plan.parting ? placed.flatMap(voice => drawCracks(voice, plan.parting!, look)) : []
  if (cracks.length > 0) {
    const { items: words, height } = drawRemark(plan.parting!.sentence, bottom + look.between, look)
    items.push(...cracks, ...words)
    bottom += look.between + height
  }
  const group: Group = { shape: "group", part: "system", content: items }
  return { axis, axisY, placed, group, height: bottom + 24 * look.size }
}

export const holds = (voices: readonly PlacedVoice[], id: SignId): boolean =>
  voices.some(({ signs }) => signs.some(({ timed }) => timed.sign.id === id))

function placeVoices({ voices, look, options }: Plan, axis: Axis, top: number): PlacedVoice[] {
  let y = top
  return voices.map(formed => {
    const asked = options.select !== undefined && formed.time.signs.find(({ sign }) => sign.id === options.select)
    const isHere = Boolean(asked && asked.at >= axis.from && asked.at < axis.to && asked.reading.because.length > 0)
    const lane = isHere || options.lanes === true
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
