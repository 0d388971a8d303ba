/** One voice in one system: ground, pillars, staff, signs, bands, modern values, storeys of its rivals. */
import { plus, times, ZERO, type Rational } from "../../base/index.js"
import type { Group, Item, Mark, Path, PathStep, Stroking } from "../scene/scene.js"
import { drawBands, bandPlace } from "./bands.js"
import { lineWidth, typeSize, type Look } from "./options.js"
import { modernForm, modernParts, tiePath } from "./modern.js"
import { momentKey, type PillarKind } from "./perfections.js"
import { xAt, type Axis, type PlacedSign, type PlacedVoice } from "./place.js"
import { moved } from "../signs/index.js"
import { rectOutline } from "../signs/outline.js"
import { drawStoreys } from "./storeys.js"
import { firstFrom, NEAR } from "./timeline.js"

/** Over everything of a voice the gutter is drawn elsewhere: it needs to know of all voices. */
export function drawVoice(placed: PlacedVoice, wholes: Rational, look: Look): Group {
  const { voice } = placed.formed.time
  return {
    shape: "group",
    part: "voice",
    data: { voice: voice.id },
    content: [
      ...grounds(placed),
      ...pillars(placed, look),
      ...(look.compact ? [] : staffLines(placed, look)),
      ...threads(placed, look),
      ...placed.signs.flatMap(one => signItems(placed, one, look)),
      ...tailItems(placed, look),
      ...drawBands(placed, look),
      ...(look.compact ? [] : modernValues(placed, wholes, look)),
      ...drawStoreys(placed, look),
      ...placed.capitals.map(
        ({ item }) => ({ shape: "group", part: "capital", y: placed.top, content: [item] }) as const,
      ),
    ],
  }
}

/** Those that begin in the system, or have begun right before it. */
export function within<T extends { readonly at: number }>(
  all: readonly T[],
  { from, to, last }: Pick<Axis, "from" | "to" | "last">,
  back = 0,
): readonly T[] {
  return all.slice(Math.max(0, firstFrom(all, from) - back), last ? all.length : firstFrom(all, to))
}

/** One outline for all perfections that have the other ground. */
function grounds({ axis, formed, top, bottom }: PlacedVoice): Mark[] {
  const path = within(formed.ruled.alternate, axis, 1).flatMap(({ from, to }): Path => {
    const [left, right] = [xAt(axis, Math.max(from, axis.from)), xAt(axis, Math.min(to, axis.to))]
    return right <= left ? [] : rectOutline(left, top, right, bottom)
  })
  return path.length === 0 ? [] : [{ shape: "path", part: "perfection", path, fill: "alternate" }]
}

const WIDTHS: Readonly<Record<PillarKind, number>> = { edge: 3, larger: 4.5, perfection: 2.25, twofold: 2.25 }

function pillarStroke(kind: PillarKind, look: Look): Stroking {
  const width = lineWidth(look, WIDTHS[kind])
  const dotted = kind === "twofold" ? { dash: [width, 4 * look.size] } : {}
  return { role: "clayEdge", width, ...dotted }
}

/** One outline for all pillars of a kind. */
function pillars({ axis, formed, top, bottom, capitals }: PlacedVoice, look: Look): Mark[] {
  const capital = new Map(capitals.filter(one => one.onPillar).map(({ at, height }) => [momentKey(at), height]))
  const here = within(formed.ruled.pillars, axis).filter(({ at }) => at <= axis.to + NEAR)
  return pillarMarks(
    "pillar",
    here.map(({ at, kind }) => ({ kind, x: xAt(axis, at), top: top + (capital.get(momentKey(at)) ?? 0), bottom })),
    look,
  )
}

export interface PillarLine {
  readonly kind: PillarKind
  readonly x: number
  readonly top: number
  readonly bottom: number
}
export function pillarMarks(part: string, lines: readonly PillarLine[], look: Look): Mark[] {
  const kinds = [...new Set(lines.map(one => one.kind))]
  return kinds.map(kind => ({
    shape: "path",
    part,
    path: lines.flatMap<PathStep>(line =>
      line.kind === kind
        ? [
            ["M", line.x, line.top],
            ["L", line.x, line.bottom],
          ]
        : [],
    ),
    stroke: pillarStroke(kind, look),
  }))
}

export function staffLines({ axis, formed, staffBottom }: PlacedVoice, look: Look): Mark[] {
  const stroke: Stroking = { role: "staff", width: lineWidth(look, 1.4) }
  const path = Array.from({ length: formed.time.style.lines }, (_, i) => staffBottom - i * look.staffSpace).flatMap(
    (y): PathStep[] => [
      ["M", axis.left - axis.lead, y],
      ["L", axis.right, y],
    ],
  )
  return [{ shape: "path", part: "staff", path, stroke }]
}

/** From the body of a ligature to where its later notes sound. */
export function threads({ signs, staffBottom, axis }: PlacedVoice, look: Look): Mark[] {
  const stroke: Stroking = { role: "clayEdge", width: lineWidth(look, 1.5) }
  const bodies = new Map<string, { left: number; right: number; y: number }>()
  const marks: Mark[] = []
  const reach = new Map<object, number>()
  for (const { timed, form, x } of signs) {
    if (!timed.ligature) continue
    if (!form.echo) {
      reach.set(timed.ligature, x + form.box.right)
      for (const [id, { left, right, top, bottom }] of form.bodies)
        bodies.set(id, { left: x + left, right: x + right, y: staffBottom + (top + bottom) / 2 })
      continue
    }
    const body = bodies.get(timed.sign.id)
    const own = form.bodies.get(timed.sign.id)!
    const y = staffBottom + (own.top + own.bottom) / 2
    const from = body ? (look.compact ? reach.get(timed.ligature)! : body.right) : axis.left
    if (x - from > 3 * look.size && x >= (reach.get(timed.ligature) ?? -Infinity) + 1)
      marks.push({ shape: "line", part: "thread", sign: timed.sign.id, x1: from, x2: x + 1, y1: y, y2: y, stroke })
  }
  return marks
}

export function signItems(
  { formed, staffBottom, signs }: PlacedVoice,
  { timed, form, x }: PlacedSign,
  look: Look,
): Item[] {
  const before = formed.before[timed.index]!
  const ahead: Item[] =
    before.items.length === 0
      ? []
      : [{ shape: "group", x: x + Math.min(0, form.box.left), y: staffBottom, content: before.items }]
  // an echo on the body of its own ligature would only blot it
  const body = form.echo ? signs.find(one => one.timed.ligature === timed.ligature && !one.form.echo) : undefined
  if (body && x < body.x + body.form.box.right + 1) return ahead
  return [
    ...ahead,
    ...ledgers(timed.position, x, formed, staffBottom, look, timed.sign.kind),
    { shape: "group", x, y: staffBottom, content: form.items },
  ]
}

function ledgers(
  position: number,
  x: number,
  { time }: PlacedVoice["formed"],
  staffBottom: number,
  look: Look,
  kind: string,
): Mark[] {
  if (look.compact || kind !== "note") return []
  const top = 2 * (time.style.lines - 1)
  const heights = []
  for (let at = -2; at >= position; at -= 2) heights.push(at)
  for (let at = top + 2; at <= position; at += 2) heights.push(at)
  const stroke: Stroking = { role: "staff", width: lineWidth(look, 1.4) }
  return heights.map(at => {
    const y = staffBottom - (at / 2) * look.staffSpace
    return {
      shape: "line",
      part: "ledger",
      x1: x - 6 * look.size,
      x2: x + look.headSpace * 1.2 + 6 * look.size,
      y1: y,
      y2: y,
      stroke,
    }
  })
}

/** What is written behind the last note stands at the end of its time. */
function tailItems({ formed, axis, staffBottom }: PlacedVoice, look: Look): Item[] {
  const { tail } = formed
  if (!axis.last || tail.items.length === 0) return []
  return [{ shape: "group", x: axis.right - 8 * look.size, y: staffBottom, content: tail.items }]
}

/** Modern values share the left edge of the heads. */
export function modernValues(placed: PlacedVoice, wholes: Rational, look: Look): Item[] {
  const unit = 13 * look.size
  let open: Rational = ZERO
  return placed.signs.flatMap(({ timed, x }) => {
    const parts =
      timed.lasts > 0 ? modernParts(times(timed.held ? readDuration(timed) : timed.duration, wholes)) : undefined
    if (!parts) return []
    const room = bandPlace(placed, timed).right - x
    const content: Item[] = []
    let at = 0
    const middles: number[] = []
    for (const value of parts.values) {
      const form = modernForm(value, timed.sign.kind === "rest")
      content.push({
        shape: "path",
        part: "modern",
        path: at === 0 ? form.path : moved(form.path, at, 0),
        fill: "second",
      })
      middles.push(at + 0.6)
      at += form.width + 0.9
    }
    if (timed.sign.kind === "note")
      for (let i = 1; i < middles.length; i++)
        content.push({ shape: "path", part: "tie", path: tiePath(middles[i - 1]!, middles[i]!), fill: "second" })
    const figure: Item[] = []
    // one figure for a group: where it is full
    open = parts.tuplet ? plus(open, times(timed.duration, wholes)) : ZERO
    const full = parts.tuplet !== undefined && modernParts(open)?.tuplet === undefined
    if (full) open = ZERO
    if (full)
      figure.push({
        shape: "text",
        part: "tuplet",
        x: at * unit - 4 * look.size,
        y: 0.5 * unit,
        text: String(parts.tuplet),
        type: { family: "words", size: typeSize(look, 24), italic: true },
        fill: "second",
      })
    const width = at * unit + (parts.tuplet ? 8 * look.size : -0.9 * unit)
    const scale = width > room && parts.values.length > 1 ? Math.max(0.62, room / width) : 1
    return [
      {
        shape: "group",
        part: "modern-value",
        x,
        y: placed.modernY,
        content: [{ shape: "group", scale: unit * scale, content }, ...figure],
      } as const,
    ]
  })
}

function readDuration({ reading, duration }: PlacedSign["timed"]): Rational {
  return reading.duration.num > 0 && reading.held ? heldDuration(reading.duration, duration) : duration
}
/** A final's own value, not the time to which it is held. */
const heldDuration = (own: Rational, held: Rational): Rational =>
  own.num / own.den <= held.num / held.den ? own : held
