/** What is drawn over a laid time view while it is shown: the sign that is asked about, and what sounds. Nothing is moved for it. */
import type { SignId } from "../../base/index.js"
import type { Group, Item, Mark } from "../scene/scene.js"
import { bandPlace, countOf } from "./bands.js"
import { lineWidth, type Look } from "./options.js"
import { xAt, type PlacedVoice } from "./place.js"
import { drawSelection, tellsOf } from "./selection.js"
import type { TimeSystem } from "./system.js"
import type { LaidTime } from "./time.js"

/**
 * The sign in its cartouche, its foot and its causes, in px of the picture; where a cause stands in another system its line goes
 * on there. Nothing where it is not shown. Where lines of causes
 * are wanted, the view is to be laid with `lanes`. `threadTo` is where its reason stands: the thread ends there.
 */
export function askedOver({ systems, plan }: LaidTime, sign: SignId, threadTo?: number): Group[] {
  return systems
    .filter(({ system }) => tellsOf(system.placed, sign))
    .map(({ system, top }) => ({
      shape: "group",
      part: "over",
      y: top,
      content: drawSelection(system.placed, sign, threadTo === undefined ? undefined : threadTo - top, plan.book.look),
    }))
}

/** What sounds at a moment: each band turned over, a wedge on the axis, short strokes between the voices. */
export function soundingOver(laid: LaidTime, moment: number): Group[] {
  const at = laid.systems.findLast(({ system: { axis } }) => moment >= axis.from - 1e-9 && moment <= axis.to + 1e-9)
  if (!at) return []
  const { system, top } = at
  const { look } = laid.plan.book
  const content = [...system.placed.flatMap(voice => turned(voice, moment, look)), ...wedge(system, moment, look)]
  return [{ shape: "group", part: "sounding", y: top, content }]
}

/** The band in ink, its count in the colour of the ground. */
function turned(voice: PlacedVoice, moment: number, look: Look): Item[] {
  const timed = voice.sounding.find(({ at, lasts }) => at <= moment + 1e-9 && moment < at + lasts - 1e-9)
  if (!timed || timed.sign.kind === "rest") return []
  const place = bandPlace(voice, timed)
  const count = countOf(timed, place, look)
  const band: Mark = {
    shape: "rect",
    part: "sounding-band",
    x: place.left,
    y: place.top,
    width: place.right - place.left,
    height: look.band,
    fill: "ink",
  }
  return [
    {
      shape: "group",
      part: "sounding-note",
      data: { of: timed.sign.id },
      content: count ? [band, { ...count, fill: "ground" }] : [band],
    },
  ]
}

function wedge({ axis, axisY, placed }: TimeSystem, moment: number, look: Look): Mark[] {
  const x = xAt(axis, moment)
  const wide = 9 * look.size
  const strokes = placed.slice(1).map<Mark>((below, i) => ({
    shape: "line",
    part: "sounding-stroke",
    x1: x,
    x2: x,
    y1: placed[i]!.bottom,
    y2: below.top,
    stroke: { role: "ink", width: lineWidth(look, 3) },
  }))
  const points = [
    [x, axisY + 1],
    [x - wide, axisY - 16 * look.size],
    [x + wide, axisY - 16 * look.size],
  ] as const
  return [{ shape: "polygon", part: "wedge", points, fill: "ink" }, ...strokes]
}
