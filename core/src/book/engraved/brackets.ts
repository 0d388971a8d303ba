/**
 * Brackets over notes as an engraver by hand would set them: the corners over a single coloured note end where its head ends,
 * and no bracket stands in the bracket or the figure of a tuplet.
 */
import { SPACE } from "./sheet.js"
import { allOf, attributeOf, childrenOf, hasClass, round, type SvgNode } from "./svg-tree.js"
import { extentOf, markPoints, staffOf, type Boxes, type Extent } from "./extents.js"

/** Between a bracket and what is under it. */
const OVER = 0.35 * SPACE
/** Of the arm of a corner at the most; over a narrow head less, so that the two stay apart. */
const ARM = 0.5 * SPACE
const ARM_OF_HEAD = 0.3
/** The head over which a bracket begins may begin so much before it. */
const BEFORE = 0.4 * SPACE

interface Staff {
  readonly top: number
  readonly heads: readonly Extent[]
  readonly tuplets: readonly Extent[]
}

/** A system with its brackets set anew. */
export function withClearBrackets(system: SvgNode, boxes: Boxes): SvgNode {
  if (allOf(system, isBracket).next().done) return system
  const staves = stavesOf(system, boxes)
  const change = (node: SvgNode): SvgNode => ({
    ...node,
    children: node.children.map(child => {
      if (typeof child === "string") return child
      return isBracket(child) ? setAnew(child, staves, boxes) : hasClass(child, "measure") ? change(child) : child
    }),
  })
  return change(system)
}

const isBracket = (node: SvgNode): boolean => hasClass(node, "bracketSpan")

/** What stands in each staff of the system, from the uppermost, in all its measures. */
function stavesOf(system: SvgNode, boxes: Boxes): Staff[] {
  const byTop = new Map<number, { heads: Extent[]; tuplets: Extent[] }>()
  for (const node of allOf(system, one => hasClass(one, "staff"))) {
    const [staff] = staffOf(node)
    if (!staff) continue
    const own = byTop.get(staff.top) ?? { heads: [], tuplets: [] }
    for (const head of allOf(node, one => hasClass(one, "notehead"))) own.heads.push(extentOf(head, boxes))
    for (const part of allOf(node, one => hasClass(one, "tupletBracket") || hasClass(one, "tupletNum")))
      own.tuplets.push(extentOf(part, boxes))
    byTop.set(staff.top, own)
  }
  return [...byTop].map(([top, own]) => ({ top, ...own })).sort((a, b) => a.top - b.top)
}

function setAnew(bracket: SvgNode, staves: readonly Staff[], boxes: Boxes): SvgNode {
  const { top } = extentOf(bracket, boxes)
  const staff = staves.find(one => one.top + 4 * SPACE > top)
  if (!staff) return bracket
  const closed = withinHead(bracket, staff.heads, boxes)
  const own = extentOf(closed, boxes)
  const under = staff.tuplets.filter(one => one.left < own.right + OVER / 2 && one.right > own.left - OVER / 2)
  const lift = Math.max(0, ...under.map(one => own.bottom + OVER - one.top))
  // what stands wholly under the tuplet is not in its way
  return lift > 0 && under.some(one => own.bottom <= one.bottom) ? raised(closed, lift) : closed
}

/** Two corners over one head: the right one ends with the head. */
function withinHead(bracket: SvgNode, heads: readonly Extent[], boxes: Boxes): SvgNode {
  const corners = childrenOf(bracket)
  if (corners.length !== 2 || corners.some(({ name }) => name !== "polyline")) return bracket
  const { left, right, top, bottom } = extentOf(bracket, boxes)
  const under = heads.filter(head => head.left > left - BEFORE && head.left < right)
  if (under.length !== 1 || under[0]!.right >= right) return bracket
  const end = under[0]!.right
  const arm = Math.min(ARM, ARM_OF_HEAD * (end - left))
  const points = [
    [left, bottom, left, top, left + arm, top],
    [end, bottom, end, top, end - arm, top],
  ]
  return { ...bracket, children: corners.map((corner, i) => withPoints(corner, points[i]!)) }
}

function raised(bracket: SvgNode, by: number): SvgNode {
  const children = childrenOf(bracket).map(part => {
    const points = markPoints(part).map((value, i) => (i % 2 === 0 ? value : value - by))
    return part.name === "polyline" ? withPoints(part, points) : withLine(part, points)
  })
  return { ...bracket, children }
}

const withPoints = (part: SvgNode, points: readonly number[]): SvgNode => ({
  ...part,
  attributes: { ...part.attributes, points: pairs(points, ",").join(" ") },
})

function withLine(part: SvgNode, points: readonly number[]): SvgNode {
  if (part.name !== "path" || attributeOf(part, "d") === undefined) return part
  return { ...part, attributes: { ...part.attributes, d: `M${pairs(points, " ").join(" L")}` } }
}

const pairs = (points: readonly number[], between: string): string[] =>
  points.flatMap((x, i) => (i % 2 === 0 ? [`${round(x)}${between}${round(points[i + 1]!)}`] : []))
