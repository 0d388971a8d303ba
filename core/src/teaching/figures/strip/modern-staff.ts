/** The modern staff of a voice in one system: lines, opening, bars, notes with beams, ties and tuplets. */
import { markBox, xAt, type Axis, type Box, type Item, type Mark, type PathStep } from "../../../drawing/index.js"
import { around, yOf } from "../../../drawing/index.js"
import { letters, words } from "../letters.js"
import { behindMeter, HEAD_WIDTH, noteForm, stemAt, type ModernForm } from "../modern/forms.js"
import { NEAR } from "../passage.js"
import type { StripAxis } from "./axes.js"
import { AFTER, type StripLook } from "./look.js"
import { beamsOf, type Beam } from "./beams.js"
import type { Opening } from "./openings.js"
import { barShift, type ModernSign, type ModernVoice } from "./modern-voice.js"

export interface ModernRow {
  readonly items: readonly Item[]
  /** Over the top line and under the bottom line, in units. */
  readonly above: number
  readonly below: number
}

interface Set {
  readonly one: ModernSign
  /** Left edge of its head, in units. */
  readonly x: number
  readonly form: ModernForm
}

/** y is 0 on the bottom line. */
export function modernRow(
  voice: ModernVoice,
  opening: Opening,
  axis: StripAxis,
  lead: number,
  look: StripLook,
): ModernRow {
  const space = look.modernSpace
  const here = voice.signs.filter(({ at }) => at >= axis.from - NEAR && at < axis.to - NEAR)
  const xOf = ({ at, until, centred }: ModernSign) =>
    centred ? (xAt(axis, at) + xAt(axis, until)) / 2 - 0.6 * space : xAt(axis, at) + AFTER
  const beams = beamsOf(here, xOf, space)
  const set = here.map((one): Set => ({
    one,
    x: xOf(one),
    form: formUnder(
      one,
      beams.find(beam => beam.signs.includes(one)),
      xOf(one),
      space,
    ),
  }))
  const beamMarks = beams.flatMap(beam => beam.marks)
  const notes = set.map(({ one, x, form }): Item => ({
    shape: "group",
    part: one.sign.event.kind === "note" ? "modern-note" : "modern-rest",
    ...(one.sign.event.id === null ? {} : { data: { of: one.sign.event.id } }),
    x,
    scale: space,
    content: form.marks,
  }))
  const boxes = [
    ...set.map(({ x, form }) => scaled(form.box, space, x)),
    ...beamMarks.map(markBox),
    scaled(opening.box, 1, 0),
  ]
  const tuplets = tupletItems(set, boxes, space)
  const all = [...boxes, ...tuplets.map(one => one.box)].reduce(around)
  return {
    items: [
      staff(axis, lead, look),
      { ...opening.item, x: (opening.item.x ?? 0) + axis.left - lead },
      ...barLines(voice, set, axis, look),
      ...ties(set, axis, space),
      ...beamMarks,
      ...notes,
      ...tuplets.map(one => one.item),
    ],
    above: Math.max(0, -all.top - 4 * space),
    below: Math.max(0, all.bottom),
  }
}

const scaled = ({ left, right, top, bottom }: Box, by: number, x: number): Box => ({
  left: left * by + x,
  right: right * by + x,
  top: top * by,
  bottom: bottom * by,
})

/** A note whose stem ends on its beam. */
function formUnder(one: ModernSign, beam: Beam | undefined, x: number, space: number): ModernForm {
  if (!beam || one.sign.event.kind !== "note") return one.form
  const { accidental } = one.sign
  const form = noteForm(one.sign.value, {
    position: one.position,
    direction: one.direction,
    accidental,
    beamAt: beam.heightAt(x + stemAt(one.direction) * space) / space,
  })
  return one.meter ? behindMeter(form, one.meter) : form
}

function staff(axis: Axis, lead: number, { modernSpace, lines }: StripLook): Mark {
  const path = Array.from({ length: 5 }, (_, i) => -i * modernSpace).flatMap((y): PathStep[] => [
    ["M", axis.left - lead, y],
    ["L", axis.right, y],
  ])
  return { shape: "path", part: "staff", path, stroke: { role: "staff", width: 1.4 * lines.size } }
}

/** Lines stand a little before the moment, before an accidental if there is one; the last is a double one where the piece ends. */
function barLines(
  { bars }: ModernVoice,
  set: readonly Set[],
  axis: StripAxis,
  { modernSpace: space }: StripLook,
): Mark[] {
  const top = -4 * space
  const line = (x: number, width: number): Mark => ({
    shape: "line",
    part: "bar-line",
    x1: x,
    x2: x,
    y1: top - 1,
    y2: 1,
    stroke: { role: "second", width },
  })
  const inside = bars.filter(at => at > axis.from + NEAR && at < axis.to - NEAR)
  const marks = inside.map(at => {
    const first = set.find(({ one }) => Math.abs(one.at - at) < NEAR)
    return line(xAt(axis, at) + barShift(first?.form, space), 2.5)
  })
  if (!axis.ends) return [...marks, line(axis.right, 2.5)]
  return [...marks, line(axis.right - 11, 2.5), line(axis.right - 2.5, 6)]
}

/** A bow from each part of a note to the next. */
function ties(set: readonly Set[], axis: Axis, space: number): Mark[] {
  return set.flatMap(({ one, x, form }, i): Mark[] => {
    const { event, part, last } = one.sign
    if (event.kind !== "note" || last || one.held) return []
    const next = set[i + 1]
    const under = one.direction === "up"
    const side = under ? 1 : -1
    const y = (yOf(one.position) + side * 0.75) * space
    const from = x + Math.min(form.box.right, HEAD_WIDTH + 0.1) * space * 0.75
    const to = next?.one.sign.event === event && next.one.sign.part === part + 1 ? next.x + 0.3 * space : axis.right - 2
    const rise = side * Math.min(1.1, 0.5 + (to - from) / space / 14) * space
    const [a, b] = [from + (to - from) * 0.3, from + (to - from) * 0.7]
    const thick = side * 0.2 * space
    const path: PathStep[] = [
      ["M", from, y],
      ["C", a, y + rise, b, y + rise, to, y],
      ["C", b, y + rise - thick, a, y + rise - thick, from, y],
      ["Z"],
    ]
    return [{ shape: "path", part: "tie", path, fill: "second" }]
  })
}

const TUPLET = words(26, { weight: 700, italic: true })

/** A bracket with its figure over a tuplet's notes, above everything there. */
function tupletItems(set: readonly Set[], boxes: readonly Box[], space: number): { item: Item; box: Box }[] {
  const groups = new Map<number, Set[]>()
  for (const one of set)
    if (one.one.tuplet) groups.set(one.one.tuplet.n, [...(groups.get(one.one.tuplet.n) ?? []), one])
  return [...groups.values()].map(group => {
    const [left, right] = [group[0]!.x, group.at(-1)!.x + HEAD_WIDTH * space]
    const near = boxes.filter(box => box.right > left && box.left < right)
    const y = Math.min(-4 * space, ...near.map(box => box.top)) - 10
    const middle = (left + right) / 2
    const mark = letters(String(group[0]!.one.tuplet!.num), middle, y + 6, TUPLET, {
      part: "tuplet",
      fill: "second",
      anchor: "middle",
    })
    const side = (from: number, to: number, foot: number): PathStep[] => [
      ["M", foot, y + 8],
      ["L", foot, y - 2],
      ["L", from === foot ? to : from, y - 2],
    ]
    const path = [...side(left, middle - 14, left), ...side(middle + 14, right, right)]
    const bracket: Mark = { shape: "path", part: "tuplet-bracket", path, stroke: { role: "second", width: 2 } }
    const box = { left, right, top: y - 20, bottom: y + 8 }
    return { item: { shape: "group", part: "tuplet-group", content: [bracket, mark] }, box }
  })
}
