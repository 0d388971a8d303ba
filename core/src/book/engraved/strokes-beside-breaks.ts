/**
 * A stroke of division where a line or a folio of the source ends is written before the mark of that end, on one line with it, as
 * both stand on the page: the engraver puts one over the other.
 */
import { attributeOf, childrenOf, hasClass, type SvgNode } from "./svg-tree.js"

/** Units of the engraver: how far before the mark a stroke stands, and how high over it the engraver puts it at the most. */
const BEFORE = 200
const OVER = 540

/** All directions of a measure stand beside one another in it. */
export function strokesBesideBreaks(node: SvgNode): SvgNode {
  const children = node.children.map(child => (typeof child === "string" ? child : strokesBesideBreaks(child)))
  const breaks = childrenOf(node).flatMap(child => placeOf(child, "source-break") ?? [])
  if (breaks.length === 0) return { ...node, children }
  return { ...node, children: children.map(child => (typeof child === "string" ? child : beside(child, breaks))) }
}

interface Place {
  readonly x: number
  readonly y: number
}

function placeOf(node: SvgNode, kind: string): Place | undefined {
  const text = hasClass(node, "dir") && hasClass(node, kind) ? textOf(node) : undefined
  return text && { x: Number(attributeOf(text, "x")), y: Number(attributeOf(text, "y")) }
}
const textOf = (node: SvgNode): SvgNode | undefined => childrenOf(node).find(({ name }) => name === "text")

function beside(node: SvgNode, breaks: readonly Place[]): SvgNode {
  const own = placeOf(node, "stroke")
  const mark = own && breaks.find(({ x, y }) => Math.abs(x - own.x) < 1 && Math.abs(y - own.y) < OVER)
  if (!mark) return node
  const moved = { x: String(mark.x - BEFORE), y: String(mark.y) }
  const children = node.children.map(child =>
    typeof child !== "string" && child.name === "text"
      ? { ...child, attributes: { ...child.attributes, ...moved } }
      : child,
  )
  return { ...node, children }
}
