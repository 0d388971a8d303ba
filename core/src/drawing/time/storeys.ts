/** Rivals of a doubtful stretch, a storey below: dotted, with broken edges, small signs and counts, between two heavy posts. */
import type { Group, Item, Mark } from "../scene/scene.js"
import { LOZENGE_WIDTH, lozengeHead, squareHead } from "../signs/heads.js"
import { isLozenge } from "../signs/stems.js"
import { textWidth } from "../text/width.js"
import { countText } from "../../reading/index.js"
import { countWidth } from "./formed.js"
import type { Look } from "./options.js"
import { xAt, type PlacedVoice } from "./place.js"
import type { Storey, StoreyPiece } from "./rivals.js"

export function drawStoreys(placed: PlacedVoice, look: Look): Item[] {
  return placed.storeys.flatMap(storey => [drawStorey(placed, storey, look), ...posts(placed, storey, look)])
}

const storeyTop = ({ storeyTop: top }: PlacedVoice, { row }: Storey, look: Look): number =>
  top + row * look.storey + 2 * look.size

function drawStorey(placed: PlacedVoice, storey: Storey, look: Look): Group {
  const top = storeyTop(placed, storey, look)
  const pieces = storey.pieces.flatMap(piece => drawPiece(placed, piece, top, look))
  const content = [...pieces, ...or(placed, storey, top, look), ...andSoOn(placed, storey, top, look)]
  return { shape: "group", part: "rival", content }
}

function drawPiece(
  { axis }: PlacedVoice,
  { timed, at, lasts, duration }: StoreyPiece,
  top: number,
  look: Look,
): Item[] {
  if (at + lasts <= axis.from + 1e-9 || at >= axis.to - 1e-9) return []
  const left = xAt(axis, Math.max(at, axis.from))
  const right = xAt(axis, Math.min(at + lasts, axis.to))
  const height = look.storey - 10 * look.size
  const [count, room] = [countText(duration), right - left]
  const sign = at < axis.from - 1e-9 ? 0 : 21 * look.size
  const length = countWidth(count, look)
  const fits = room > sign + length + 6 * look.size
  const from = fits ? left + sign + length + 9 * look.size : left + sign
  const content: Item[] = [
    { shape: "rect", part: "rival-band", x: left, y: top, width: right - left, height, stroke: look.pens.rival },
    ...dotted(from, right - 4 * look.size, top, height, look),
  ]
  if (sign > 0 && room > sign) content.push(smallSign(timed, left + 5 * look.size, top + height / 2, look))
  if (fits)
    content.push({
      shape: "text",
      part: "count",
      x: left + sign + 2 * look.size,
      y: top + height / 2 + 9 * look.size,
      text: count,
      type: look.types.count,
      length,
      fill: "second",
    })
  return [{ shape: "group", part: "rival-duration", data: { of: timed.sign.id }, content }]
}

/** Rows of dots. */
function dotted(left: number, right: number, top: number, height: number, look: Look): Mark[] {
  if (right - left < 4 * look.size) return []
  const points: number[] = []
  const step = 7 * look.size
  for (let row = 0; (row + 1) * step < height; row++) {
    const y = top + (row + 1) * step
    points.push(left + (row % 2 === 0 ? 0 : step / 2), y, right, y)
  }
  return [{ shape: "strokes", part: "dots", points, stroke: look.pens.dots }]
}

function smallSign(timed: StoreyPiece["timed"], x: number, y: number, look: Look): Item {
  const scale = 11.5 * look.size
  if (timed.sign.kind === "rest")
    return {
      shape: "rect",
      part: "small-rest",
      x: x + 4 * look.size,
      y: y - 7 * look.size,
      width: 3.5 * look.size,
      height: 14 * look.size,
      fill: "second",
    }
  const level = timed.reading.level ?? "brevis"
  const full = { kind: "full" } as const
  const path = isLozenge(level) ? lozengeHead(0, 0, full) : squareHead(0, 0, LOZENGE_WIDTH, full)
  return { shape: "group", x, y, scale, content: [{ shape: "path", part: "small-sign", path, fill: "second" }] }
}

/** "or", where there is room before it. */
function or({ axis, storeys }: PlacedVoice, storey: Storey, top: number, look: Look): Item[] {
  const type = look.types.or
  const x = xAt(axis, storey.from) - 9 * look.size
  const left = x - textWidth("or", type) - 6 * look.size
  const taken = storeys.some(
    other => other.row === storey.row && other !== storey && xAt(axis, other.to) > left && other.from < storey.from,
  )
  if (storey.from < axis.from || taken) return []
  return [{ shape: "text", part: "or", x, y: top + 21 * look.size, text: "or", type, anchor: "end", fill: "ink" }]
}

/** Three dots behind what goes on so to the end, where there is room. */
function andSoOn({ axis, storeys }: PlacedVoice, storey: Storey, top: number, look: Look): Item[] {
  const last = storey.pieces.at(-1)!
  const at = last.at + last.lasts
  const x = xAt(axis, at) + 7 * look.size
  const right = x + textWidth("…", look.types.or)
  const taken = storeys.some(other => other !== storey && other.row === storey.row && xAt(axis, other.from) > x - 9)
  if (storey.open !== "cut" || at < axis.from || right > axis.right || taken) return []
  return [{ shape: "text", part: "and-so-on", x, y: top + 21 * look.size, text: "…", type: look.types.or, fill: "ink" }]
}

function posts({ axis, bandTop, storeyTop: first }: PlacedVoice, storey: Storey, look: Look): Mark[] {
  const bottom = first + (storey.row + 1) * look.storey - 6 * look.size
  return (storey.open ? [storey.from] : [storey.from, storey.to])
    .filter(at => at >= axis.from - 1e-9 && at <= axis.to + 1e-9)
    .map(at => {
      const x = xAt(axis, at)
      return {
        shape: "line",
        part: "post",
        x1: x,
        x2: x,
        y1: bandTop - 4 * look.size,
        y2: bottom,
        stroke: look.pens.post,
      }
    })
}
