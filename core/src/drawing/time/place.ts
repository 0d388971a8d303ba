/** Where a voice stands in a system: heights of its staff, band and storeys, and the forms at their moments. */
import type { Box } from "../scene/scene.js"
import { movedBox, type Form } from "./forms.js"
import type { Look } from "./options.js"
import { capitalsIn, type PlacedCapital } from "./capitals.js"
import type { Storey } from "./rivals.js"
import type { FormedVoice, System } from "./systems.js"
import { firstFrom, NEAR, type TimedSign } from "./timeline.js"

/** Time to px in one system. */
export interface Axis extends System {
  /** Px of `from`. */
  readonly left: number
  /** Px of `to`. */
  readonly right: number
  readonly scale: number
  /** How far the staves reach out on its left. */
  readonly lead: number
  /** How far clefs stand from moment zero, so that an accidental before the first note has room. */
  readonly clear: number
  /** Size of type in which all names fit. */
  readonly nameSize: number
  readonly first: boolean
  /** The piece ends here. */
  readonly last: boolean
}
export const xAt = ({ left, from, scale }: Axis, at: number): number => left + (at - from) * scale

/** A note or rest that begins in the system. */
export interface PlacedSign {
  readonly timed: TimedSign
  readonly form: Form
  /** Left edge of its head. */
  readonly x: number
}

/** All heights are from the top of the picture. */
export interface PlacedVoice {
  readonly formed: FormedVoice
  readonly axis: Axis
  readonly top: number
  /** Top and bottom line of the staff; in the compact form both are where heads stand. */
  readonly staffTop: number
  readonly staffBottom: number
  readonly bandTop: number
  /** Foot of the modern values' heads. */
  readonly modernY: number
  /** Top of the first storey. */
  readonly storeyTop: number
  readonly bottom: number
  readonly signs: readonly PlacedSign[]
  /** Notes and rests that sound in the system: those that began before it too. */
  readonly sounding: readonly TimedSign[]
  readonly capitals: readonly PlacedCapital[]
  readonly storeys: readonly Storey[]
}

export function placeVoice(formed: FormedVoice, axis: Axis, top: number, look: Look, lane: boolean): PlacedVoice {
  const { time } = formed
  const inside = ({ at }: { at: number }) => at >= axis.from - NEAR && (axis.last ? at <= axis.to : at < axis.to - NEAR)
  const begins = firstFrom(time.signs, axis.from)
  const ends = axis.last ? time.signs.length : firstFrom(time.signs, axis.to)
  const signs = time.signs
    .slice(begins, ends)
    .filter(inside)
    .map(timed => ({ timed, form: formed.forms[timed.index]!, x: xAt(axis, timed.at) + look.after }))
  const sounding = time.signs
    .slice(Math.max(0, begins - 1), ends)
    .filter(({ at, lasts }) => at < axis.to - NEAR && at + lasts > axis.from + NEAR)
  const all = time.capitals.filter(inside)
  const capitals = capitalsIn(look.compact ? all.filter(({ sign }) => sign && sign.kind !== "mark") : all, axis, look)
  const boxes = signs.flatMap(one => boxesOf(formed, one))
  const staff = look.compact ? 0 : (time.style.lines - 1) * look.staffSpace
  const over = look.compact ? compactOver(capitals, look) : overOf(boxes, capitals, staff, look)
  const lowest = look.compact ? 0 : boxes.reduce((low, { bottom }) => Math.max(low, bottom), 0)
  const room = lane ? 22 * look.size : 0
  const under = look.compact ? room : Math.max(look.under, lowest + 8 * look.size) + room
  const staffTop = look.compact ? top + over - 10 * look.size - look.headSpace * 0.8 : top + over
  const staffBottom = staffTop + staff
  const bandTop = look.compact ? top + over + under : staffBottom + under
  const storeys = formed.storeys.filter(({ from, to }) => from < axis.to - NEAR && to > axis.from + NEAR)
  const rows = storeys.reduce((most, { row }) => Math.max(most, row + 1), 0)
  const storeyTop = bandTop + look.band + (look.compact ? 6 * look.size : look.modern)
  return {
    formed,
    axis,
    top,
    staffTop,
    staffBottom,
    bandTop,
    modernY: bandTop + look.band + 42 * look.size,
    storeyTop,
    bottom: rows === 0 ? bandTop + look.band + look.modern : storeyTop + rows * look.storey,
    signs,
    sounding,
    capitals,
    storeys,
  }
}

/** Around a sign and what stands before it; y from the bottom line. */
function boxesOf({ before }: FormedVoice, { form, timed, x }: PlacedSign): Box[] {
  const own = movedBox(form.box, x, 0)
  const ahead = before[timed.index]!
  return ahead.items.length === 0 ? [own] : [own, movedBox(ahead.box, x + Math.min(0, form.box.left), 0)]
}

/** Letters and figures stand over the signs, since they have no pillar to stand on. */
const compactOver = (capitals: readonly PlacedCapital[], look: Look): number =>
  look.over + (capitals.some(one => !one.onPillar) ? 28 * look.size : 0)

/** Over the staff there is room for stems, and for the capitals over the stems beneath them. */
function overOf(boxes: readonly Box[], capitals: readonly PlacedCapital[], staff: number, look: Look): number {
  const gap = 3 * look.size
  const highest = boxes.reduce((high, { top }) => Math.max(high, -top - staff), 0)
  const tall = capitals.map(({ left, right, height }) => {
    const below = boxes.filter(box => box.right > left - gap && box.left < right + gap)
    return below.reduce((high, { top }) => Math.max(high, -top - staff), 0) + height + gap
  })
  return Math.max(look.over, highest + gap, ...tall)
}
