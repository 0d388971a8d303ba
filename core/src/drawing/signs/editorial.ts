/** An editor's hand on a sign: it is drawn in second ink between square brackets that stand over and under the staff's signs. */
import type { Sign } from "../../page/index.js"
import type { Box, Item, Mark } from "../scene/scene.js"

const BRACKET = 0.1
const FOOT = 0.3
const ROOM = 0.35
/** Brackets are at least so high: around a dot or a short rest they would be flat. */
const LEAST = 1.3

/** The item and its box, as the editor's when the sign was supplied, added or corrected. */
export function editorial(sign: Sign, item: Item, box: Box): { item: Item; box: Box } {
  const kind = sign.editorial?.kind
  if (kind !== "supplied" && kind !== "add" && kind !== "corr") return { item, box }
  const over = Math.max(0.1, (LEAST - (box.bottom - box.top)) / 2)
  const wide: Box = { left: box.left - ROOM, right: box.right + ROOM, top: box.top - over, bottom: box.bottom + over }
  const pale = inSecondInk(item)
  const brackets = [bracket(wide.left, 1, wide), bracket(wide.right, -1, wide)]
  const content = pale.shape === "group" ? [...pale.content, ...brackets] : [pale, ...brackets]
  return { item: { ...(pale.shape === "group" ? pale : { shape: "group", sign: sign.id }), content }, box: wide }
}

function inSecondInk(item: Item): Item {
  if (item.shape === "group") return { ...item, content: item.content.map(inSecondInk) }
  return item.fill === "ink" ? { ...item, fill: "second" } : item
}

function bracket(x: number, side: 1 | -1, { top, bottom }: Box): Mark {
  return {
    shape: "polygon",
    part: "editor",
    open: true,
    points: [
      [x + side * FOOT, top],
      [x, top],
      [x, bottom],
      [x + side * FOOT, bottom],
    ],
    stroke: { role: "second", width: BRACKET },
  }
}
