/**
 * Where one voice alone changes its meter the engraver sets the new meter before the line that ends the old bar, since both stand at
 * one moment; set here as it is read: first the line, then the meter.
 */
import { SPACE } from "./sheet.js"
import { attributeOf, hasClass, mapped, shifted, type SvgNode } from "./svg-tree.js"
import { extentOf, numbersIn, type Boxes } from "./extents.js"

/** Between the line and the meter. */
const GAP = 0.6 * SPACE

/** A system in which each line within a measure stands before the meter that follows it. */
export function withMetersAfterLines(system: SvgNode, boxes: Boxes): SvgNode {
  return mapped(system, node =>
    hasClass(node, "layer") ? { ...node, children: inOrder(node.children, boxes) } : node,
  )!
}

function inOrder(children: SvgNode["children"], boxes: Boxes): SvgNode["children"] {
  const settled = [...children]
  for (let i = 0; i + 1 < settled.length; i++) {
    const [line, meter] = [settled[i]!, settled[i + 1]!]
    if (typeof line === "string" || typeof meter === "string") continue
    if (!hasClass(line, "barLine") || !hasClass(meter, "meterSig")) continue
    const [at, own] = [extentOf(line, boxes), extentOf(meter, boxes)]
    if (own.left >= at.right || own.right > at.left + SPACE) continue
    // the meter ends where the line stood, and the line goes before it
    const right = at.left
    settled[i] = moved(line, right - (own.right - own.left) - GAP - at.left)
    settled[i + 1] = shifted(right - own.right, 0, meter)
  }
  return settled
}

/** A line of one or more strokes, kept as paths: others measure them. */
function moved(line: SvgNode, by: number): SvgNode {
  return mapped(line, node => {
    if (node.name !== "path") return node
    const [x1, y1, x2, y2] = numbersIn(attributeOf(node, "d") ?? "")
    if (y2 === undefined) return node
    return { ...node, attributes: { ...node.attributes, d: `M${x1! + by} ${y1} L${x2! + by} ${y2}` } }
  })!
}
