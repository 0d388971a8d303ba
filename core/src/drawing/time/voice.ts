/** One voice in one system: ground, pillars, staff, signs, bands, modern values, words, storeys of its rivals. */
import type { Rational } from "../../base/index.js"
import { keptBy, Lines, type Hand } from "../scene/hand.js"
import type { Item, Mark } from "../scene/scene.js"
import { addBands } from "./bands.js"
import { drawForm, itemsOf, NO_FORM, type Form } from "./form.js"
import type { Look } from "./options.js"
import { addModernValues } from "./modern-row.js"
import { momentKey, type PillarKind } from "./perfections.js"
import { xAt, type Axis, type PlacedSign, type PlacedVoice } from "./place.js"
import { drawStoreys } from "./storeys.js"
import { firstFrom, NEAR } from "./timeline.js"
import { addWords } from "./words.js"

/** Over everything of a voice the gutter is drawn elsewhere: it needs to know of all voices. */
export function drawVoice(placed: PlacedVoice, wholes: Rational, look: Look, hand: Hand): void {
  hand.open("voice", undefined, { voice: placed.formed.time.voice.id })
  grounds(placed, look, hand)
  pillars(placed, look, hand)
  if (!look.compact) addStaff(placed, look, hand)
  for (const thread of threads(placed, look)) hand.item(thread)
  for (const one of placed.signs) addSign(placed, one, look, hand)
  addTail(placed, look, hand)
  addBands(placed, look, hand)
  if (look.values) addModernValues(placed, wholes, look, hand)
  addWords(placed, look, hand)
  if (placed.storeys.length > 0) for (const item of drawStoreys(placed, look)) hand.item(item)
  for (const { item } of placed.capitals)
    hand.item({ shape: "group", part: "capital", y: placed.top + look.names, content: [item] })
  hand.close()
}

/** Number of the first that begins after a system. */
export const endIn = (all: readonly { readonly at: number }[], { to, last }: Pick<Axis, "to" | "last">): number =>
  last ? all.length : firstFrom(all, to)

/** One outline for all perfections that have the other ground. */
function grounds({ axis, formed, top: above, bottom }: PlacedVoice, { names }: Look, hand: Hand): void {
  const top = above + names
  const points: number[] = []
  const all = formed.ruled.alternate
  const end = endIn(all, axis)
  for (let i = Math.max(0, firstFrom(all, axis.from) - 1); i < end; i++) {
    const { from, to } = all[i]!
    const left = xAt(axis, Math.max(from, axis.from))
    const right = xAt(axis, Math.min(to, axis.to))
    if (right > left) points.push(left, top, right, bottom)
  }
  if (points.length > 0) hand.boxes("perfection", points, "alternate")
}

function pillars(placed: PlacedVoice, look: Look, hand: Hand): void {
  const { axis, formed, bottom, capitals, signs } = placed
  const top = placed.top + look.names
  const strokes = PILLARS
  const all = formed.ruled.pillars
  const end = endIn(all, axis)
  let next = 0
  for (let i = firstFrom(all, axis.from); i < end; i++) {
    const { at, kind } = all[i]!
    if (at > axis.to + NEAR) continue
    const x = xAt(axis, at)
    const begins = top + (capitals.length === 0 ? 0 : headOf(capitals, at, x))
    while (next < signs.length && signs[next]!.timed.at < at - NEAR) next++
    const [cutFrom, cutTo] = next < signs.length ? cutAt(placed, signs[next]!, x, look, signs[next - 1]) : NO_CUT
    if (cutFrom > begins) strokes.add(kind, x, begins, Math.min(cutFrom, bottom))
    if (cutTo < bottom) strokes.add(kind, x, Math.max(begins, cutTo), bottom)
  }
  strokes.drawBy(hand, "pillar", look)
}

/**
 * A pillar is cut where an accidental before the note on it stands, or a dot behind the note before it: its stroke would look
 * like a part of the sign, or hide it.
 */
function cutAt(
  { staffBottom }: PlacedVoice,
  sign: PlacedSign,
  pillar: number,
  look: Look,
  last: PlacedSign | undefined,
): Cut {
  const gap = 3 * look.size
  const { form, before, x } = sign
  const left = x + Math.min(0, form.box.left)
  const dotted = last !== undefined && last.timed.after.length > 0 && last.x + last.form.box.right > pillar - gap
  // most have nothing before them
  if (left + before.box.left >= pillar + gap && !dotted) return NO_CUT
  let [top, bottom] = [Infinity, -Infinity]
  const meet = ({ pieces }: Form, from: number) => {
    for (const piece of pieces) {
      if (from + piece.left >= pillar + gap || from + piece.right <= pillar - gap) continue
      top = Math.min(top, staffBottom + piece.top - gap)
      bottom = Math.max(bottom, staffBottom + piece.bottom + gap)
    }
  }
  meet(form, x)
  meet(before, left)
  if (dotted) meet({ ...last.form, pieces: last.form.pieces.filter(one => one.left >= last.form.body.right) }, last.x)
  return top < bottom ? [top, bottom] : NO_CUT
}
/** From where to where nothing is drawn. */
type Cut = readonly [number, number]
const NO_CUT: Cut = [Infinity, Infinity]

/** How far down a pillar begins: under the sign that rules from it, and no line runs through words. */
function headOf(capitals: PlacedVoice["capitals"], at: number, x: number): number {
  const own = capitals.findLast(one => one.onPillar && momentKey(one.at) === momentKey(at))
  if (own) return own.height
  return capitals.reduce((most, { left, right, height }) => (x > left && x < right ? Math.max(most, height) : most), 0)
}

/** One outline for all pillars of a kind, kinds in the order met. */
export class PillarStrokes {
  readonly #kinds: PillarKind[] = []
  readonly #lines = { edge: new Lines(), larger: new Lines(), perfection: new Lines(), twofold: new Lines() }

  add(kind: PillarKind, x: number, top: number, bottom: number): void {
    if (!this.#kinds.includes(kind)) this.#kinds.push(kind)
    this.#lines[kind].add(x, top, x, bottom)
  }

  /** Then there are none. */
  drawBy(hand: Hand, part: string, look: Look): void {
    for (const kind of this.#kinds) this.#lines[kind].drawBy(hand, part, look.pens.pillar[kind])
    this.#kinds.length = 0
  }
}

const PILLARS = new PillarStrokes()

export interface PillarLine {
  readonly kind: PillarKind
  readonly x: number
  readonly top: number
  readonly bottom: number
}
export function pillarMarks(part: string, lines: readonly PillarLine[], look: Look): Item[] {
  const strokes = new PillarStrokes()
  for (const { kind, x, top, bottom } of lines) strokes.add(kind, x, top, bottom)
  return keptBy(hand => strokes.drawBy(hand, part, look))
}

export const staffLines = (placed: PlacedVoice, look: Look): Item[] => keptBy(hand => addStaff(placed, look, hand))

function addStaff({ axis, formed, staffBottom }: PlacedVoice, look: Look, hand: Hand): void {
  for (let line = 0; line < formed.time.style.lines; line++) {
    const y = staffBottom - line * look.staffSpace
    STAFF.add(axis.left - axis.lead, y, axis.right, y)
  }
  STAFF.drawBy(hand, "staff", look.pens.staff)
}

const STAFF = new Lines()

/** From the body of a ligature to where its later notes sound. */
export function threads({ signs, staffBottom, axis }: PlacedVoice, look: Look): readonly Mark[] {
  if (!signs.some(({ timed }) => timed.ligature)) return NO_MARKS
  const bodies = new Map<string, { right: number; y: number }>()
  const reach = new Map<object, number>()
  const marks: Mark[] = []
  for (const { timed, form, x } of signs) {
    if (!timed.ligature) continue
    if (!form.echo) {
      reach.set(timed.ligature, x + form.box.right)
      for (const [id, { right, top, bottom }] of form.parts ?? [])
        bodies.set(id, { right: x + right, y: staffBottom + (top + bottom) / 2 })
      continue
    }
    const body = bodies.get(timed.sign.id)
    const y = staffBottom + (form.body.top + form.body.bottom) / 2
    const from = body ? (look.compact ? reach.get(timed.ligature)! : body.right) : axis.left
    if (x - from > 3 * look.size && x >= (reach.get(timed.ligature) ?? -Infinity) + 1)
      marks.push({
        shape: "line",
        part: "thread",
        sign: timed.sign.id,
        x1: from,
        x2: x + 1,
        y1: y,
        y2: y,
        stroke: look.pens.thread,
      })
  }
  return marks
}

export const signItems = (placed: PlacedVoice, sign: PlacedSign, look: Look): Item[] =>
  keptBy(hand => addSign(placed, sign, look, hand))

function addSign(
  { formed, staffBottom, signs }: PlacedVoice,
  { timed, form, before, x }: PlacedSign,
  look: Look,
  hand: Hand,
): void {
  if (before !== NO_FORM)
    hand.group(undefined, undefined, x + Math.min(0, form.box.left), staffBottom, undefined, itemsOf(before))
  // an echo on the body of its own ligature would only blot it
  const body = form.echo ? signs.find(one => one.timed.ligature === timed.ligature && !one.form.echo) : undefined
  if (body && x < body.x + body.form.box.right + 1) return
  if (timed.sign.kind === "note" && !look.compact)
    addLedgers(timed.position, x, formed.time.style.lines, staffBottom, look, hand)
  drawForm(form, timed.sign.id, x, staffBottom, hand)
}

const NO_MARKS: readonly Mark[] = []

function addLedgers(position: number, x: number, lines: number, staffBottom: number, look: Look, hand: Hand): void {
  const top = 2 * (lines - 1)
  if (position > -2 && position < top + 2) return
  const [from, to] = [x - 6 * look.size, x + look.headSpace * 1.2 + 6 * look.size]
  const ledger = (at: number) => {
    const y = staffBottom - (at / 2) * look.staffSpace
    hand.line("ledger", undefined, from, y, to, y, look.pens.staff)
  }
  for (let at = -2; at >= position; at -= 2) ledger(at)
  for (let at = top + 2; at <= position; at += 2) ledger(at)
}

/** What is written behind the last note stands at the end of its time. */
function addTail({ formed, axis, staffBottom }: PlacedVoice, look: Look, hand: Hand): void {
  const content = itemsOf(formed.tail)
  if (!axis.last || content.length === 0) return
  hand.group(undefined, undefined, axis.right - 8 * look.size, staffBottom, undefined, content)
}
