/** Staves of a system further apart, so that a page is filled: each mark goes with its staff, what joins staves is drawn out. */
import { SPACE } from "./sheet.js"
import { attributeOf, childrenOf, hasClass, shifted, type SvgNode } from "./svg-tree.js"
import { markPoints, numbersIn } from "./extents.js"
import type { EngravedSystem } from "./systems.js"

/** With so much more between each two staves, in the engraver's units. */
export function spread(system: EngravedSystem, extra: number): EngravedSystem {
  const { staves, content, extent } = system
  if (extra <= 0 || staves.length < 2) return system
  const tops = staves.map(staff => staff.top)
  const place = new Places(tops, extra)
  const children = childrenOf(content).map(node =>
    hasClass(node, "measure") ? measure(node, place) : joined(node, place),
  )
  return {
    ...system,
    content: { ...content, children },
    staves: staves.map((staff, i) => ({ ...staff, top: staff.top + i * extra })),
    extent: { ...extent, bottom: extent.bottom + (staves.length - 1) * extra },
  }
}

class Places {
  readonly #tops: readonly number[]
  readonly #extra: number

  constructor(tops: readonly number[], extra: number) {
    this.#tops = tops
    this.#extra = extra
  }

  /** By how much a staff goes down. */
  of(staff: number): number {
    return staff * this.#extra
  }
  /** Of the staff that a height is nearest to. */
  nearest(y: number): number {
    const away = (top: number) => Math.max(0, top - y, y - top - 4 * SPACE)
    const best = this.#tops.reduce((best, top, i) => (away(top) < away(this.#tops[best]!) ? i : best), 0)
    return this.of(best)
  }
  /** Of the staff under which something stands. */
  over(y: number): number {
    return this.of(
      Math.max(
        0,
        this.#tops.findLastIndex(top => top < y),
      ),
    )
  }
  /** Of the staff over which something stands, or on which. */
  under(y: number): number {
    const at = this.#tops.findIndex(top => y < top + 4 * SPACE)
    return this.of(at < 0 ? this.#tops.length - 1 : at)
  }
}

const down = (node: SvgNode, by: number): SvgNode => (by === 0 ? node : shifted(0, by, node))

function measure(node: SvgNode, place: Places): SvgNode {
  let staff = 0
  const children = childrenOf(node).map(child =>
    hasClass(child, "staff") ? down(child, place.of(staff++)) : joined(child, place),
  )
  return { ...node, children }
}

/** What belongs to no staff: lines through several, brackets before them, and what stands over or between notes. */
function joined(node: SvgNode, place: Places): SvgNode {
  const own = attributeOf(node, "data-staff")
  if (own !== undefined) return down(node, place.of(Number(own)))
  if (node.name === "path") return drawnOut(node, place)
  if (node.name === "rect") return higher(node, place)
  if (node.name === "use") return down(node, place.nearest(markPoints(node)[1] ?? 0))
  if (attributeOf(node, "class") === undefined || hasClass(node, "barLine") || hasClass(node, "grpSym"))
    return { ...node, children: childrenOf(node).map(child => joined(child, place)) }
  const heights = pointsIn(node).filter((_, i) => i % 2 === 1)
  if (heights.length === 0) return node
  const middle = (Math.min(...heights) + Math.max(...heights)) / 2
  if (hasClass(node, "syl")) return down(node, place.over(middle))
  return down(node, isCurve(node) ? place.nearest(middle) : place.under(middle))
}

const isCurve = (node: SvgNode): boolean => hasClass(node, "tie") || hasClass(node, "slur") || hasClass(node, "lv")

function pointsIn(node: SvgNode): number[] {
  return [...markPoints(node), ...childrenOf(node).flatMap(pointsIn)]
}

/** A straight line, each end of which goes with its own staff. */
function drawnOut(node: SvgNode, place: Places): SvgNode {
  const [x1, y1, x2, y2] = numbersIn(attributeOf(node, "d") ?? "")
  if (y2 === undefined) return node
  const d = `M${x1} ${y1! + place.nearest(y1!)} L${x2} ${y2 + place.nearest(y2)}`
  return { ...node, attributes: { ...node.attributes, d } }
}

function higher(node: SvgNode, place: Places): SvgNode {
  const y = Number(attributeOf(node, "y") ?? 0)
  const end = y + Number(attributeOf(node, "height") ?? 0)
  const top = y + place.nearest(y)
  return { ...node, attributes: { ...node.attributes, y: top, height: end + place.nearest(end) - top } }
}
