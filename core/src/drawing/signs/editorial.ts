/** An editor's hand on a sign: it is drawn in second ink between square brackets that stand over and under the staff's signs. */
import type { Sign } from "../../page/index.js"
import type { Box, Item, Mark } from "../scene/scene.js"

const BRACKET = 0.1
const FOOT = 0.3
const ROOM = 0.35
/** Brackets are at least so high: around a dot or a short rest they would be flat. */
const LEAST = 1.3

/** Whether it was supplied, added or corrected; what is only hard to read is not. */
export function isByEditor({ editorial }: Sign): boolean {
  const kind = editorial?.kind
  return kind === "supplied" || kind === "add" || kind === "corr"
}

/** The item and its box, as the editor's when the sign was supplied, added or corrected. */
export function editorial(sign: Sign, item: Item, box: Box): { item: Item; box: Box } {
  if (!isByEditor(sign)) return { item, box }
  const over = Math.max(0.1, (LEAST - (box.bottom - box.top)) / 2)
  const wide: Box = { left: box.left - ROOM, right: box.right + ROOM, top: box.top - over, bottom: box.bottom + over }
  const pale = inSecondInk(item)
  const brackets = [bracket(wide.left, 1, wide), bracket(wide.right, -1, wide)]
  const content = pale.shape === "group" ? [...pale.content, ...brackets] : [pale, ...brackets]
  return { item: { ...(pale.shape === "group" ? pale : { shape: "group", sign: sign.id }), content }, box: wide }
}

function inSecondInk(item: Item): Item {
  return item.shape === "group" ? { ...item, content: item.content.map(inSecondInk) } : palened(item)
}
const palened = (mark: Mark): Mark => (mark.fill === "ink" ? { ...mark, fill: "second" } : mark)

/** Within a ligature brackets cannot stand between joined heads: their ends stand over and under the one that they mean. */
export function editorialWithin(content: readonly Mark[], { left, right, top, bottom }: Box): Mark[] {
  const inset = Math.min(INSET, (right - left) / 4)
  const hook = (x: number, side: 1 | -1, far: number, near: number): Mark => ({
    shape: "polygon",
    part: "editor",
    open: true,
    points: [
      [x + side * FOOT * 0.7, far],
      [x, far],
      [x, near],
    ],
    stroke: { role: "second", width: BRACKET },
  })
  const hooks = [
    [top - 0.5, top - 0.15],
    [bottom + 0.5, bottom + 0.15],
  ].flatMap(([far, near]) => [hook(left + inset, 1, far!, near!), hook(right - inset, -1, far!, near!)])
  return [...content.map(palened), ...hooks]
}
/** Stems stand at the sides of heads. */
const INSET = 0.22

/** `side`: 1 opens, -1 closes. */
export function bracket(x: number, side: 1 | -1, { top, bottom }: Omit<Box, "left" | "right">): Mark {
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
