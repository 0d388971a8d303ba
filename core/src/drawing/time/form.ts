/** One sign as a form in px, from the left edge of its head: what it looks like and how much room it takes. */
import type { SignId } from "../../base/index.js"
import type { Dot } from "../../page/index.js"
import type { Hand } from "../scene/hand.js"
import type { Box, Group, Item } from "../scene/scene.js"
import { around, drawDot, editorial, type Drawn, type SignStyle } from "../signs/index.js"
import type { Look } from "./options.js"
import type { TimedSign } from "./timeline.js"

/** x is 0 at the left edge of the head, y 0 on the bottom line of the staff; in the compact form where the heads stand. */
export interface Form {
  readonly box: Box
  /** Of its pieces: what really must be kept clear of. */
  readonly pieces: readonly Box[]
  /** Of the head; of the first note's, in a ligature. */
  readonly body: Box
  /** In a ligature: of each note's own part of the body. */
  readonly parts?: ReadonlyMap<SignId, Box>
  /** A later note of a ligature: it was not written here. */
  readonly echo?: boolean
  readonly drawing: Alike | Single
}

/** The same for all signs that look so: a group in its own units. */
export interface Alike {
  readonly kind: "alike"
  readonly group: Required<Pick<Group, "part" | "x" | "y" | "scale" | "content">> & { readonly shape: "group" }
}
/** Has ids of its own in it. */
interface Single {
  readonly kind: "single"
  readonly items: readonly Item[]
}

/** A form of the sign at its place. */
export function drawForm({ drawing }: Form, sign: SignId, x: number, y: number, hand: Hand): void {
  if (drawing.kind === "single") return hand.group(undefined, undefined, x, y, undefined, drawing.items)
  const { group } = drawing
  hand.group(group.part, sign, x + group.x, y + group.y, group.scale, group.content)
}

/** Of a form that has ids of its own, such as what stands before a note. */
export const itemsOf = ({ drawing }: Form): readonly Item[] => (drawing.kind === "single" ? drawing.items : [])

export const scaledBox = ({ left, right, top, bottom }: Box, by: number, x = 0, y = 0): Box => ({
  left: left * by + x,
  right: right * by + x,
  top: top * by + y,
  bottom: bottom * by + y,
})
export const movedBox = (box: Box, x: number, y: number): Box => scaledBox(box, 1, x, y)

/** Heads are larger than the staff's space: heights are told in head spaces. */
export const stretch = (look: Look): number => look.headSpace / look.staffSpace
export const styleFor = (style: SignStyle, look: Look): SignStyle => ({
  ...style,
  lines: look.compact ? 1 : (style.lines - 1) / stretch(look) + 1,
})
export const heightOf = (position: number, look: Look): number => (look.compact ? 0 : position / stretch(look))

const NO_BOX: Box = { left: 0, right: 0, top: 0, bottom: 0 }
export const NO_FORM: Form = { box: NO_BOX, pieces: [], body: NO_BOX, drawing: { kind: "single", items: [] } }

const USUAL_DOT_GAP = 0.28

/** Dots beside a head, in the space; in units of the head. */
export function dotsAfter(
  dots: readonly Dot[],
  position: number,
  head: Pick<Drawn, "body">,
  look: Look,
): { items: Item[]; boxes: Box[] } {
  let x = head.body.right + (look.dotGap ?? USUAL_DOT_GAP)
  const inSpace = look.compact ? 0 : position % 2 === 0 ? position + 1 : position
  const drawn = dots.map(dot => {
    const bare = drawDot({ ...dot, loc: look.compact ? 0 : (dot.loc ?? inSpace) / stretch(look) }, 0)
    const { item, box } = editorial(dot, { shape: "group", part: "dot", sign: dot.id, content: bare.content }, bare.box)
    x += bare.box.left - box.left
    const placed: Item = item.shape === "group" && x !== 0 ? { ...item, x } : item
    const own = movedBox(box, x, 0)
    x += box.right + 0.2
    return { item: placed, own }
  })
  return { items: drawn.map(one => one.item), boxes: drawn.map(one => one.own) }
}

/** Head spaces that a sign may be high in the compact form. */
const compactHeight = ({ over, size, headSpace }: Look): number => (over - 8 * size) / headSpace

interface Placing {
  readonly x: number
  readonly y: number
  readonly space: number
}
/** In units of the head, to px, so that the head begins at 0; in the compact form nothing reaches into the band. */
function placing(pieces: readonly Box[], body: Box, look: Look): Placing & { readonly box: Box } {
  const box = pieces.reduce(around, body)
  const space = look.headSpace * (look.compact ? Math.min(1, compactHeight(look) / (box.bottom - box.top)) : 1)
  const y = look.compact ? Math.min(0, look.headSpace * 0.8 - box.bottom * space) : 0
  return { x: -body.left * space, y, space, box }
}

export function alike(part: string, content: readonly Item[], pieces: readonly Box[], body: Box, look: Look): Form {
  const { x, y, space, box } = placing(pieces, body, look)
  return {
    box: scaledBox(box, space, x, y),
    pieces: pieces.map(piece => scaledBox(piece, space, x, y)),
    body: scaledBox(body, space, x, y),
    drawing: { kind: "alike", group: { shape: "group", part, x, y, scale: space, content } },
  }
}

export function single(
  content: readonly Item[],
  pieces: readonly Box[],
  body: Box,
  look: Look,
  parts?: readonly (readonly [SignId, Box])[],
): Form {
  const { x, y, space, box } = placing(pieces, body, look)
  return {
    box: scaledBox(box, space, x, y),
    pieces: pieces.map(piece => scaledBox(piece, space, x, y)),
    body: scaledBox(body, space, x, y),
    ...(parts ? { parts: new Map(parts.map(([id, one]) => [id, scaledBox(one, space, x, y)])) } : {}),
    drawing: { kind: "single", items: [{ shape: "group", x, y, scale: space, content }] },
  }
}

/** A form of one piece in px, with the dots behind it. */
export function withDots(timed: TimedSign, group: Alike["group"], box: Box, position: number, look: Look): Form {
  const outside = timed.after.filter(dot => !timed.ligature?.members.includes(dot))
  if (outside.length === 0 && timed.sign.editorial === undefined)
    return { box, pieces: [box], body: box, drawing: { kind: "alike", group } }
  const dots = dotsAfter(outside, position, { body: scaledBox(box, 1 / look.headSpace) }, look)
  const boxes = dots.boxes.map(one => scaledBox(one, look.headSpace))
  const behind: Item[] = dots.items.length > 0 ? [{ shape: "group", scale: look.headSpace, content: dots.items }] : []
  const own: Item = { ...group, sign: timed.sign.id }
  return {
    box: boxes.reduce(around, box),
    pieces: [box, ...boxes],
    body: box,
    drawing: { kind: "single", items: [own, ...behind] },
  }
}
