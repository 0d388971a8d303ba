/** Square brackets around what an editor supplied or corrected, one pair for all that follows one another on a staff. */
import { DOT_IN_BRACKETS, IN_BRACKETS } from "../../formats/mei/modern/index.js"
import { element } from "../../formats/xml.js"
import { around, extentOf, staffOf, type Boxes, type Extent } from "./extents.js"
import { SPACE } from "./sheet.js"
import { allOf, childrenOf, hasClass, round, type SvgNode } from "./svg-tree.js"

/** From a bracket to what it holds, at the sides and above or below; to what stands before or behind it at least. */
const [ASIDE, OVER, FREE] = [0.32 * SPACE, 0.6 * SPACE, 0.12 * SPACE]
/** Of its feet; over a narrow gap they stand nearer to what they hold. */
const FOOT = 0.3 * SPACE
const STROKE = 0.13 * SPACE

/** A note or rest as wide as its head, dots and accidental before it are, and as high as its head; or a dot of an editor. */
interface Sign {
  readonly box: Extent
  readonly byEditor: boolean
}

/** A system with its brackets. */
export function withEditorBrackets(system: SvgNode, boxes: Boxes): SvgNode {
  const isMarked = (node: SvgNode) => inBrackets(node) || hasClass(node, DOT_IN_BRACKETS)
  if (allOf(system, isMarked).next().done) return system
  const brackets = stavesOf(system, boxes).flatMap(staff => runsOf(staff).map(bracketsOf))
  return { ...system, children: [...system.children, ...brackets] }
}

const inBrackets = (node: SvgNode): boolean => hasClass(node, IN_BRACKETS)

interface Staff {
  readonly signs: Sign[]
  /** Clefs, meters and lines among them. */
  readonly fixed: Extent[]
}

/** What stands on each staff of the system, measure after measure. */
function stavesOf(system: SvgNode, boxes: Boxes): Staff[] {
  const byTop = new Map<number, Staff>()
  for (const measure of allOf(system, node => hasClass(node, "measure"))) {
    const lines = childrenOf(measure).filter(node => hasClass(node, "barLine"))
    for (const node of childrenOf(measure).filter(node => hasClass(node, "staff"))) {
      const [place] = staffOf(node)
      if (!place) continue
      const own = byTop.get(place.top) ?? { signs: [], fixed: [] }
      byTop.set(place.top, own)
      for (const layer of childrenOf(node)) own.signs.push(...signsIn(layer, false, boxes))
      for (const one of [...lines, ...allOf(node, isFixed)]) own.fixed.push(extentOf(one, boxes))
    }
  }
  return [...byTop.values()]
}
const isFixed = (node: SvgNode): boolean => FIXED.some(name => hasClass(node, name))
const FIXED = ["clef", "keySig", "meterSig", "barLine"]

function signsIn(node: SvgNode, within: boolean, boxes: Boxes): Sign[] {
  const byEditor = within || inBrackets(node)
  if (hasClass(node, DOT_IN_BRACKETS)) {
    const dots = [...allOf(node, one => hasClass(one, "dots"))].map(one => extentOf(one, boxes))
    const head = boxOf(node, boxes, ["accid"])
    return [{ box: head, byEditor }, ...dots.map(box => ({ box, byEditor: true }))]
  }
  if (SIGNS.some(name => hasClass(node, name))) return [{ box: boxOf(node, boxes), byEditor }]
  return childrenOf(node).flatMap(child => signsIn(child, byEditor, boxes))
}
const SIGNS = ["note", "rest", "mRest", "multiRest"]

function boxOf(sign: SvgNode, boxes: Boxes, parts: readonly string[] = ["dots", "accid"]): Extent {
  const [head] = allOf(sign, node => hasClass(node, "notehead"))
  const own = extentOf(head ?? sign, boxes)
  const beside = head
    ? [...allOf(sign, node => parts.some(name => hasClass(node, name)))].map(node => extentOf(node, boxes))
    : []
  // an accidental over the staff is not beside its head
  const near = beside.filter(({ top, bottom }) => top < own.bottom && bottom > own.top)
  return {
    ...own,
    left: Math.min(own.left, ...near.map(({ left }) => left)),
    right: Math.max(own.right, ...near.map(({ right }) => right)),
  }
}

interface Run {
  readonly box: Extent
  /** Where what stands before it ends, and what follows begins. */
  readonly after: number
  readonly before: number
}

function runsOf({ signs, fixed }: Staff): Run[] {
  const runs: Extent[] = []
  signs.forEach(({ box, byEditor }, i) => {
    if (!byEditor) return
    if (signs[i - 1]?.byEditor) runs[runs.length - 1] = around(runs.at(-1)!, box)
    else runs.push(box)
  })
  const obstacles = [...signs.flatMap(({ box, byEditor }) => (byEditor ? [] : [box])), ...fixed]
  return runs.map(box => ({
    box,
    after: Math.max(...obstacles.map(({ right }) => right).filter(right => right <= box.left), -Infinity),
    before: Math.min(...obstacles.map(({ left }) => left).filter(left => left >= box.right), Infinity),
  }))
}

function bracketsOf({ box, after, before }: Run): SvgNode {
  const left = box.left - reach(box.left - after)
  const right = box.right + reach(before - box.right)
  const [top, bottom] = [box.top - OVER, box.bottom + OVER]
  return element(
    "g",
    { class: "editor-brackets" },
    bracket(left, FOOT, top, bottom),
    bracket(right, -FOOT, top, bottom),
  )
}

const reach = (gap: number): number => Math.min(ASIDE, Math.max(gap / 2, gap - FREE))

function bracket(x: number, foot: number, top: number, bottom: number): SvgNode {
  const points = [
    [x + foot, top],
    [x, top],
    [x, bottom],
    [x + foot, bottom],
  ].map(([x, y]) => `${round(x!)},${round(y!)}`)
  return element("polyline", { points: points.join(" "), fill: "none", stroke: "#000", "stroke-width": round(STROKE) })
}
