/** Hyphens that a bar line between the staves would cross stand before or behind it, where no word is in their way. */
import { allOf, attributeOf, childrenOf, hasClass, mapped, round, type SvgNode } from "./svg-tree.js"
import { numbersIn } from "./extents.js"
import { SPACE } from "./sheet.js"
import { endOf } from "./syllables.js"

/** Free at the sides of a line, and of a word. */
const [BESIDE_LINE, BESIDE_WORD] = [0.3 * SPACE, 0.1 * SPACE]
const FARTHEST = 1.2 * SPACE
/** A hyphen is no longer than this; what is longer is an extender. */
const LONGEST = 1.5 * SPACE

interface Line {
  readonly x: number
  readonly top: number
  readonly bottom: number
}
interface Word {
  readonly left: number
  readonly right: number
  /** The line it stands on. */
  readonly y: number
}

export function withHyphensAside(system: SvgNode): SvgNode {
  const lines = [...allOf(system, node => hasClass(node, "barLine"))].flatMap(linesOf)
  const words = [...allOf(system, node => hasClass(node, "syl"))].flatMap(wordOf)
  const last = Math.max(...lines.map(({ x }) => x))
  return mapped(system, node => {
    if (!hasClass(node, "syl")) return node
    const children = node.children.map(child =>
      typeof child !== "string" && child.name === "rect" ? aside(child, lines, words, last) : child,
    )
    return { ...node, children }
  })!
}

function linesOf(barLine: SvgNode): Line[] {
  return childrenOf(barLine).flatMap(({ name, attributes }) => {
    const [x, top, x2, bottom] = name === "path" ? numbersIn(String(attributes["d"] ?? "")) : []
    return bottom !== undefined && x === x2 ? [{ x: x!, top: top!, bottom }] : []
  })
}

function wordOf(syllable: SvgNode): Word[] {
  return childrenOf(syllable).flatMap(text => {
    if (text.name !== "text") return []
    return [{ left: Number(attributeOf(text, "x")), right: endOf(text).end, y: Number(attributeOf(text, "y")) }]
  })
}

function aside(rect: SvgNode, lines: readonly Line[], words: readonly Word[], last: number): SvgNode {
  const [left, y, width] = ["x", "y", "width"].map(name => Number(attributeOf(rect, name))) as [number, number, number]
  const right = left + width
  const crossed = lines.find(
    ({ x, top, bottom }) => top < y && y < bottom && left - BESIDE_LINE < x && x < right + BESIDE_LINE,
  )
  if (!crossed || width > LONGEST) return rect
  const near = words.filter(word => Math.abs(word.y - y) < SPACE)
  const places = [crossed.x - BESIDE_LINE - width, ...(crossed.x < last ? [crossed.x + BESIDE_LINE] : [])]
  const free = places
    .filter(x => Math.abs(x - left) <= FARTHEST)
    .filter(x => near.every(word => word.right + BESIDE_WORD <= x || word.left - BESIDE_WORD >= x + width))
    .sort((a, b) => Math.abs(a - left) - Math.abs(b - left))
  return free[0] === undefined ? rect : { ...rect, attributes: { ...rect.attributes, x: round(free[0]) } }
}
