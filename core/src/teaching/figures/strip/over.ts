/** What lies under a strip and over it: the ground of every other perfection with its pillars, and the sign that is asked about. */
import type { SignId } from "../../../base/index.js"
import {
  bandPlace,
  causeItems,
  movedBox,
  pillarMarks,
  xAt,
  type Item,
  type Mark,
  type PlacedVoice,
} from "../../../drawing/index.js"
import { NEAR } from "../passage.js"
import { FRAME_ROOM, overWords, type Strip, type StripVoice } from "./draw.js"
import { DOT_FRAME, FRAMED_DOT_GAP, SLEEVE, stripLook, type StripLook } from "./look.js"

/** From the old staff down to the modern one, so that what belongs together is seen. Ground first, pillars on it. */
export function groundsOf({ systems }: Pick<Strip, "systems">): Item[] {
  return systems.flatMap(({ voices }) => voices.flatMap(voice => [...groundMarks(voice), ...pillarLines(voice)]))
}

function groundMarks({ placed: { axis, formed }, top, bottom }: StripVoice): Mark[] {
  const inside = formed.ruled.alternate.filter(one => one.to > axis.from + NEAR && one.from < axis.to - NEAR)
  return inside.map(one => {
    const [left, right] = [xAt(axis, Math.max(one.from, axis.from)), xAt(axis, Math.min(one.to, axis.to))]
    const height = bottom - top + 2 * OUT
    return { shape: "rect", part: "perfection", x: left, y: top - OUT, width: right - left, height, fill: "alternate" }
  })
}
/** The ground reaches a little beyond the staves. */
const OUT = 8

/** Not through the staves: the old one has no lines of that kind, and the modern one has its own. */
function pillarLines({ placed: { axis, formed, bandTop }, counted, sums }: StripVoice): Item[] {
  const endOf = (at: number): number =>
    sums?.all.some(one => one.from < at - NEAR && one.to > at + NEAR) ? sums.top : counted
  const inside = formed.ruled.pillars.filter(({ at }) => at >= axis.from - NEAR && at < axis.to - NEAR)
  return pillarMarks(
    "pillar",
    inside.map(({ at, kind }) => ({ kind, x: xAt(axis, at), top: bandTop - SLEEVE - 6, bottom: endOf(at) })),
    PILLARS,
  )
}
/** Lines as heavy as those of the time view. */
const PILLARS = { ...stripLook(17, {}).signs }

export function askedMarks({ systems }: Strip, id: SignId, look: StripLook): Item[] {
  const voices = systems.flatMap(one => one.voices)
  const voice = voices.find(({ placed }) => placed.signs.some(({ timed }) => timed.sign.id === id))
  const chosen = voice?.placed.signs.find(({ timed }) => timed.sign.id === id)
  if (!voice || !chosen) return []
  const body = movedBox(chosen.form.body, chosen.x, voice.placed.staffBottom)
  const [left, top] = [body.left - FRAME_ROOM, body.top - FRAME_ROOM]
  const box = { left, top, right: body.right + FRAME_ROOM, bottom: body.bottom + FRAME_ROOM }
  const cartouche: Mark = {
    shape: "rect",
    part: "cartouche",
    x: box.left,
    y: box.top,
    width: box.right - box.left,
    height: box.bottom - box.top,
    stroke: { role: "blue", width: 5, join: "miter" },
  }
  const content = [
    cartouche,
    ...foot(voice, chosen.timed.sign.id, look),
    ...causeItems(voice.placed, chosen, box, look.signs, overWords(voice.placed)),
  ]
  return [{ shape: "group", part: "selection", data: { of: id }, content }]
}

function foot({ placed }: StripVoice, id: SignId, look: StripLook): Mark[] {
  const timed = placed.sounding.find(one => one.sign.id === id)
  if (!timed || timed.lasts === 0) return []
  const { left, right } = bandPlace(placed, timed)
  const y = placed.bandTop + look.band - 4.5
  return [
    { shape: "line", part: "foot", x1: left + 1, x2: right - 1, y1: y, y2: y, stroke: { role: "blue", width: 8 } },
  ]
}

/** A frame round each dot that stands behind a note. */
export function dotFrames({ signs, staffBottom }: PlacedVoice, { space }: StripLook): Mark[] {
  return signs.flatMap(({ timed, form, x }) =>
    timed.after.map((dot): Mark => {
      const at = dot.loc ?? (timed.position % 2 === 0 ? timed.position + 1 : timed.position)
      const body = form.body
      const [left, top] = [x + body.right + FRAMED_DOT_GAP * space, staffBottom - (at / 2 + 0.2) * space]
      const size = (0.4 + 2 * DOT_FRAME) * space
      return {
        shape: "rect",
        part: "cartouche",
        x: left - DOT_FRAME * space,
        y: top - DOT_FRAME * space,
        width: size,
        height: size,
        stroke: { role: "blue", width: 3, join: "miter" },
      }
    }),
  )
}
