/** Another reading of the same signs: bands with broken edges, each with its sign in small and its count, as rivals have them. */
import {
  drawNote,
  drawRest,
  textWidth,
  xAt,
  type Axis,
  type Item,
  type Mark,
  type TimedSign,
} from "../../../drawing/index.js"
import { countText } from "../../../reading/index.js"
import { LEVELS, type Level, type Note, type Stem } from "../../../page/index.js"
import { figures, letters } from "../letters.js"
import type { StripLook } from "./look.js"

const TYPE = figures(28, { weight: 600 })

export function otherBands(signs: readonly TimedSign[], axis: Axis, top: number, look: StripLook): Item[] {
  return signs.map(timed => {
    const [left, right] = [xAt(axis, timed.at), Math.min(axis.right, xAt(axis, timed.at + timed.lasts))]
    const frame: Mark = {
      shape: "rect",
      part: "other-band",
      x: left,
      y: top,
      width: right - left,
      height: look.band,
      stroke: { role: "clayEdge", width: 2, dash: [5, 5] },
    }
    const small = smallSign(timed, left + 7, top, look)
    const count = countText(timed.duration)
    const x = small.right + 6
    const fits = x + textWidth(count, TYPE) <= right - 2
    const text = letters(count, fits ? x : left + 6, top + look.band / 2 + 10, TYPE, { part: "count", fill: "ink" })
    return {
      shape: "group",
      part: "other",
      data: { of: timed.sign.id },
      content: fits ? [frame, small.item, text] : [frame, text],
    }
  })
}

/** With a short stem, so that the head need not be too small. */
function bare(level: Level): Omit<Note, "id" | "coloration"> {
  const short: Stem[] =
    level === "longa" || level === "maxima"
      ? [{ direction: "down", position: "right", length: 1 }]
      : level === "minima" || LEVELS.indexOf(level) > LEVELS.indexOf("minima")
        ? [{ direction: "up", length: 1 }]
        : []
  return { kind: "note", level, stems: short, syllables: [] }
}

function smallSign(
  { sign, reading }: TimedSign,
  x: number,
  top: number,
  look: StripLook,
): { item: Item; right: number } {
  const style = { white: look.white, lines: 1 }
  const drawn =
    sign.kind === "note"
      ? drawNote({ ...bare(reading.level ?? "brevis"), id: sign.id, coloration: sign.coloration }, 0, style)
      : drawRest({ ...sign, loc: 0 }, style)
  const { left, right, top: high, bottom } = drawn.box
  const scale = Math.min(13, (look.band - 8) / Math.max(1, bottom - high))
  const y = top + look.band / 2 - ((high + bottom) / 2) * scale
  const item: Item = { shape: "group", part: "small", x: x - left * scale, y, scale, content: drawn.content }
  return { item, right: x + (right - left) * scale }
}
