/** What is drawn over a page while it is shown: the sign that is asked about, and what sounds. No tint is laid on a head. */
import type { SignId } from "../../base/index.js"
import type { Box, Mark } from "../scene/scene.js"
import type { ScenePlaces } from "./places.js"

/** A cartouche round the sign, wherever it stands, in px; `unit` is the drawing's px in a staff space. */
export function cartouchesOver({ signs }: ScenePlaces, sign: SignId, unit: number): Mark[] {
  return cartouchesRound(signs.get(sign)?.boxes ?? [], unit)
}

/** The same for boxes that are known; those that nearly touch, such as lines of words, have one. */
export function cartouchesRound(apart: readonly Box[], unit: number): Mark[] {
  const room = Math.max(3, unit * 0.4)
  const boxes = joined(apart, 2 * room)
  const width = Math.max(2, unit * 0.16)
  return boxes.map(({ left, top, right, bottom }) => ({
    shape: "rect",
    part: "cartouche",
    x: left - room,
    y: top - room,
    width: right - left + 2 * room,
    height: bottom - top + 2 * room,
    stroke: { role: "blue", width, join: "miter" },
  }))
}

function joined(apart: readonly Box[], near: number): readonly Box[] {
  if (apart.length < 2) return apart
  const boxes: Box[] = []
  for (const box of apart) {
    const at = boxes.findIndex(
      one =>
        one.left < box.right + near &&
        box.left < one.right + near &&
        one.top < box.bottom + near &&
        box.top < one.bottom + near,
    )
    if (at < 0) boxes.push(box)
    else boxes[at] = around(boxes[at]!, box)
  }
  return boxes
}

const around = (a: Box, b: Box): Box => ({
  left: Math.min(a.left, b.left),
  right: Math.max(a.right, b.right),
  top: Math.min(a.top, b.top),
  bottom: Math.max(a.bottom, b.bottom),
})

/** A wedge over the staff above each sign that sounds. */
export function wedgesOver({ signs, lines }: ScenePlaces, sounding: readonly SignId[], unit: number): Mark[] {
  return sounding.flatMap(sign => {
    const box = signs.get(sign)?.boxes[0]
    if (!box) return []
    const x = (box.left + box.right) / 2
    const tip = wedgeTip(box, lines, unit)
    const points = [
      [x, tip],
      [x - unit * 0.55, tip - unit],
      [x + unit * 0.55, tip - unit],
    ] as const
    return [{ shape: "polygon", part: "wedge", points, fill: "ink" }]
  })
}

/** Clear of the sign, and over the staff on which it stands. */
function wedgeTip(box: Box, lines: ScenePlaces["lines"], unit: number): number {
  const middle = (box.top + box.bottom) / 2
  const line = lines.find(one => middle >= one.box.top && middle <= one.box.bottom)
  const top = line ? line.bottom - (line.lines - 1) * line.space : box.top
  return Math.min(box.top, top) - unit * 0.4
}
