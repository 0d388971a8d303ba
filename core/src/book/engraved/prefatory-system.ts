/** Prefatory staves set into the first system of an engraved score. */
import { toSvg, type Item } from "../../drawing/index.js"
import type { PrefatoryStaves } from "../prefatory.js"
import { PRINT_THEME } from "../print-theme.js"
import { SPACE } from "./sheet.js"
import { numbersIn } from "./extents.js"
import type { EngravedSystem } from "./systems.js"
import { attributeOf, childrenOf, hasClass, readSvg, shifted, type SvgNode } from "./svg-tree.js"

/** Room that the engraver is asked to leave before the first system, in its units. */
export const prefatoryRoom = ({ width, rangeWidth }: PrefatoryStaves): number => (width + rangeWidth) * SPACE

/**
 * The system with what stands before it. Its bracket, clefs and signatures go to the left by the width of the ranges, and its own
 * labels are taken out; the engraver must have left `prefatoryRoom` before it.
 */
export function withPrefatory(system: EngravedSystem, { staves, rangeWidth }: PrefatoryStaves): EngravedSystem {
  const shift = rangeWidth * SPACE
  const items = system.staves.flatMap((staff, i): Item[] => {
    const own = staves[i]
    if (!own) return []
    const bottom = staff.top + 4 * SPACE
    const place = (x: number, content: readonly Item[]): Item => ({
      shape: "group",
      x,
      y: bottom,
      scale: SPACE,
      content,
    })
    const data = { staff: String(i) }
    return [
      { shape: "group", part: "prefatory", data, content: [place(0, own.before), place(system.openingEnd, own.range)] },
    ]
  })
  const content = opened(system.content, shift)
  return {
    ...system,
    content: { ...content, children: [...content.children, ...nodesOf(items)] },
    staves: system.staves.map(staff => ({ ...staff, left: staff.left - shift })),
    extent: { ...system.extent, left: Math.min(0, system.extent.left) },
  }
}

/** Items in the engraver's units as elements of its drawing. */
function nodesOf(items: readonly Item[]): SvgNode[] {
  const scene = { width: 1, height: 1, unit: SPACE, title: "", description: "", content: items }
  const root = readSvg(toSvg(scene, { theme: PRINT_THEME, idPrefix: "prefatory-" }))
  return childrenOf(root).filter(({ name }) => name !== "title" && name !== "desc")
}

/** The first measure opened so far between its clefs and what follows. */
function opened(system: SvgNode, shift: number): SvgNode {
  const first = childrenOf(system).find(node => hasClass(node, "measure"))
  const children = childrenOf(system).flatMap(node => {
    if (hasClass(node, "label")) return []
    if (node.name === "path" || hasClass(node, "grpSym")) return [shifted(-shift, 0, node)]
    return [node === first ? { ...node, children: childrenOf(node).map(one => openedStaff(one, shift)) } : node]
  })
  return { ...system, children }
}

function openedStaff(staff: SvgNode, shift: number): SvgNode {
  if (!hasClass(staff, "staff")) return staff
  const children = childrenOf(staff).map(node => {
    if (node.name === "path") return lengthened(node, shift)
    return hasClass(node, "clef") || hasClass(node, "keySig") ? shifted(-shift, 0, node) : node
  })
  return { ...staff, children }
}

/** A staff line begins further left. */
function lengthened(line: SvgNode, shift: number): SvgNode {
  const [x1, y1, x2, y2] = numbersIn(attributeOf(line, "d") ?? "")
  if (y2 === undefined) return line
  return { ...line, attributes: { ...line.attributes, d: `M${x1! - shift} ${y1} L${x2} ${y2}` } }
}
