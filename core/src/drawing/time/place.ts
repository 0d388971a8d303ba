/** Where a voice stands in a system: heights of its staff, band and storeys, and the forms at their moments. */
import type { Clef, Signature } from "../../page/index.js"
import { besideForm } from "./beside.js"
import { capitalsIn, type PlacedCapital } from "./capitals.js"
import { spaceAfter, type FormedVoice } from "./formed.js"
import { NO_FORM, type Form } from "./form.js"
import type { FormBook } from "./forms.js"
import type { Look } from "./options.js"
import { storeysWithin, type Storey } from "./rivals.js"
import { sungIn } from "./sung.js"
import type { System } from "./scales.js"
import { firstFrom, NEAR, type TimedSign } from "./timeline.js"

/** Time to px in one system. */
export interface Axis extends System {
  /** Px of `from`. */
  readonly left: number
  /** Px of `to`. */
  readonly right: number
  readonly scale: number
  /** A unit is so many times as wide as in the system above; 1 in the first. */
  readonly wider: number
  /** How far the staves reach out on its left. */
  readonly lead: number
  /** How far clefs stand from moment zero, so that an accidental before the first note has room. */
  readonly clear: number
  /** Size of type in which all names fit. */
  readonly nameSize: number
  /** Units between the numbers. */
  readonly step: number
  readonly first: boolean
  /** The piece ends here. */
  readonly last: boolean
}
export const xAt = ({ left, from, scale }: Axis, at: number): number => left + (at - from) * scale

/** A note or rest that begins in the system. */
export interface PlacedSign {
  readonly timed: TimedSign
  readonly form: Form
  /** What stands before it. */
  readonly before: Form
  /** Left edge of its head. */
  readonly x: number
}

/** Clef and signature at the head of a system; new ones have their ids here. */
export interface Opening {
  readonly clef?: Clef
  readonly signature?: Signature
  readonly isNew: boolean
}

/** All heights are from the top of the system. */
export interface PlacedVoice {
  readonly formed: FormedVoice
  readonly axis: Axis
  readonly opening: Opening
  readonly top: number
  /** Top and bottom line of the staff; in the compact form both are where heads stand. */
  readonly staffTop: number
  readonly staffBottom: number
  readonly bandTop: number
  /** Foot of the modern values' heads. */
  readonly modernY: number
  /** Where the words stand; undefined where nothing is sung here. */
  readonly wordsY: number | undefined
  /** Top of the first storey. */
  readonly storeyTop: number
  readonly bottom: number
  /** Number of the first of `signs` in the voice. */
  readonly begins: number
  readonly signs: readonly PlacedSign[]
  /** Notes and rests that sound in the system: those that began before it too. */
  readonly sounding: readonly TimedSign[]
  readonly capitals: readonly PlacedCapital[]
  readonly storeys: readonly Storey[]
}

/** The clef and signature in force where a system begins; the later ones of the voice are theirs too when they come just then. */
export function openingAt({ time }: FormedVoice, from: number): Opening {
  const { heads } = time
  let last = heads.length - 1
  while (last > 0 && heads[last]!.at > from + NEAR) last--
  const head = heads[last]!
  return { ...head, isNew: Math.abs(head.at - from) <= NEAR }
}

/** What stands before the first sign of a system, without what stands in the margin already. */
export function firstBefore({ time, before }: FormedVoice, at: number, opening: Opening, look: Look): Form {
  const timed = time.signs[at]
  if (!timed || timed.before.length === 0) return NO_FORM
  const rest = timed.before.filter(sign => sign !== opening.clef && sign !== opening.signature)
  if (rest.length === timed.before.length) return before[at]!
  return rest.length === 0 ? NO_FORM : besideForm(rest, timed, time.style, look)
}

export interface Placing {
  readonly top: number
  /** Room for lines of causes between staff and band. */
  readonly lane: boolean
}

export function placeVoice(formed: FormedVoice, axis: Axis, { top, lane }: Placing, book: FormBook): PlacedVoice {
  const { time } = formed
  const { look } = book
  const { begins, ends } = signsIn(time.signs, axis)
  const opening = openingAt(formed, axis.from)
  const signs = placedSigns(formed, axis, { begins, ends, opening }, book)
  const first =
    begins > 0 && time.signs[begins - 1]!.at + time.signs[begins - 1]!.lasts > axis.from + NEAR ? begins - 1 : begins
  const sounding = time.signs.slice(first, ends).filter(({ at, lasts }) => at < axis.to - NEAR && lasts > 0)
  const inside = ({ at }: { readonly at: number }) =>
    at >= axis.from - NEAR && (axis.last ? at <= axis.to + NEAR : at < axis.to - NEAR)
  const all = time.capitals.filter(inside)
  const capitals = capitalsIn(look.compact ? all.filter(isCompact) : all, axis, look)
  const storeys = storeysIn(formed.storeys, axis)
  const heights = heightsOf({ formed, top, begins, signs, capitals, storeys }, lane, look)
  // told one by one: objects of so many properties are slow to spread
  return {
    formed,
    axis,
    opening,
    top,
    begins,
    signs,
    sounding,
    capitals,
    storeys,
    staffTop: heights.staffTop,
    staffBottom: heights.staffBottom,
    bandTop: heights.bandTop,
    modernY: heights.modernY,
    wordsY: heights.wordsY,
    storeyTop: heights.storeyTop,
    bottom: heights.bottom,
  }
}

/** No row between them stays empty. */
function storeysIn(all: readonly Storey[], { from, to }: System): Storey[] {
  const here = storeysWithin(all, from, to)
  const rows = [...new Set(here.map(one => one.row))].sort((a, b) => a - b)
  return here.map(one => (rows[one.row] === one.row ? one : { ...one, row: rows.indexOf(one.row) }))
}

const isCompact = ({ sign }: FormedVoice["time"]["capitals"][number]): boolean =>
  sign !== undefined && sign.kind !== "mark" && sign.kind !== "break"

/** Numbers of the first that begins in a system, and of the first after it. */
export function signsIn(all: readonly TimedSign[], { from, to, last }: Axis): { begins: number; ends: number } {
  return { begins: firstFrom(all, from), ends: last ? lastBy(all, to) : firstFrom(all, to) }
}

/** How many begin at `to` or before it. */
function lastBy(all: readonly TimedSign[], to: number): number {
  let count = all.length
  while (count > 0 && all[count - 1]!.at > to + NEAR) count--
  return count
}

function placedSigns(
  formed: FormedVoice,
  axis: Axis,
  { begins, ends, opening }: { begins: number; ends: number; opening: Opening },
  book: FormBook,
): PlacedSign[] {
  const { time, before } = formed
  const { look } = book
  const signs: PlacedSign[] = []
  for (let at = begins; at < ends; at++) {
    const timed = time.signs[at]!
    signs.push({
      timed,
      form: formAt(formed, at, signs.at(-1)?.form, axis, book),
      before: at === begins ? firstBefore(formed, at, opening, look) : before[at]!,
      x: xAt(axis, timed.at) + look.after,
    })
  }
  return signs
}

/** An accidental for which there is no room before its note stands over it. */
function formAt(formed: FormedVoice, at: number, last: Form | undefined, axis: Axis, book: FormBook): Form {
  const form = formed.forms[at]!
  const timed = formed.time.signs[at]!
  const before = formed.time.signs[at - 1]
  if (timed.sign.kind !== "note" || timed.sign.accidental === undefined) return form
  if (!last || !before || before.lasts === 0) return form
  if (before.lasts * axis.scale >= spaceAfter(formed, at - 1, last, book.look) - 0.5) return form
  return book.raised(timed, formed.time.style) ?? form
}

type Content = Pick<PlacedVoice, "formed" | "top" | "begins" | "signs" | "capitals" | "storeys">

function heightsOf(content: Content, lane: boolean, look: Look) {
  const { formed, capitals, storeys } = content
  const top = content.top + look.names
  const { time } = formed
  const staff = look.compact ? 0 : (time.style.lines - 1) * look.staffSpace
  const over = look.compact ? compactOver(capitals, look) : overOf(content, staff, look)
  const room = lane ? 22 * look.size : 0
  const under = look.compact ? room : Math.max(look.under, lowestOf(content) + 8 * look.size) + room
  const staffTop = look.compact ? top + over - 10 * look.size - look.headSpace * 0.8 : top + over
  const staffBottom = staffTop + staff
  const bandTop = look.compact ? top + over + under : staffBottom + under
  const sings = look.words > 0 && isSung(content)
  const modernBottom = bandTop + look.band + (look.compact ? 6 * look.size : look.modern)
  const storeyTop = modernBottom + (sings ? look.words : 0)
  const rows = storeys.reduce((most, { row }) => Math.max(most, row + 1), 0)
  return {
    staffTop,
    staffBottom,
    bandTop,
    modernY: bandTop + look.band + Math.min(40 * look.size, look.modern - 7 * look.size),
    wordsY: sings ? modernBottom + 24 * look.size : undefined,
    storeyTop,
    bottom: rows === 0 ? storeyTop - (look.compact ? 6 * look.size : 0) : storeyTop + rows * look.storey,
  }
}

const isSung = ({ formed: { sung }, begins, signs }: Content): boolean =>
  sungIn(sung, begins, begins + signs.length).length > 0

function lowestOf({ signs }: Content): number {
  let lowest = 0
  for (const { form, before } of signs) lowest = Math.max(lowest, form.box.bottom, before.box.bottom)
  return lowest
}

/** Letters and figures stand over the signs, since they have no pillar to stand on. */
const compactOver = (capitals: readonly PlacedCapital[], look: Look): number =>
  look.over + (capitals.some(one => !one.onPillar) ? 28 * look.size : 0)

/** Over the staff there is room for stems, and for the capitals over the stems beneath them. */
function overOf({ signs, capitals }: Content, staff: number, look: Look): number {
  const gap = 3 * look.size
  let over = look.over
  for (const { form, before } of signs) over = Math.max(over, gap - staff - Math.min(form.box.top, before.box.top))
  for (const { left, right, height } of capitals) {
    let high = 0
    for (const { form, before, x } of signs) {
      const start = x + Math.min(0, form.box.left)
      if (x + form.box.right > left - gap && x + form.box.left < right + gap)
        high = Math.min(high, form.box.top + staff)
      if (before !== NO_FORM && start > left - gap && start + before.box.left < right + gap)
        high = Math.min(high, before.box.top + staff)
    }
    over = Math.max(over, height + gap - high)
  }
  return over
}
