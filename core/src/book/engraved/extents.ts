/** How far what the engraver drew reaches, and where its staves stand. */
import { outlineBox, readOutline } from "./outline.js"
import { SPACE } from "./sheet.js"
import { allOf, attributeOf, childrenOf, type SvgNode } from "./svg-tree.js"

/** In the engraver's units, from the sheet's own zero. */
export interface Extent {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}
/** One staff at the beginning of a system. */
export interface SystemStaff {
  readonly left: number
  /** Its uppermost line; the undermost is `SPACE * 4` below. */
  readonly top: number
}
/** Boxes of the glyphs by their names. */
export type Boxes = ReadonlyMap<string, Extent>

/** The lines of a staff are its first paths, from the uppermost. */
export function staffOf(staff: SvgNode): SystemStaff[] {
  const line = childrenOf(staff).find(node => node.name === "path")
  const [left, top] = line ? numbersIn(attributeOf(line, "d") ?? "") : []
  return left === undefined || top === undefined ? [] : [{ left, top }]
}

const EMPTY: Extent = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }

/** The engraver's glyphs are upside down in their own outlines. */
export function glyphBox(glyph: SvgNode): Extent {
  const boxes = childrenOf(glyph).map(path => outlineBox(attributeOf(path, "d") ?? ""))
  const { left, top, right, bottom } = boxes.reduce(around, EMPTY)
  return { left, top: -bottom, right, bottom: -top }
}

/** Of both together. */
export const around = (a: Extent, b: Extent): Extent => ({
  left: Math.min(a.left, b.left),
  top: Math.min(a.top, b.top),
  right: Math.max(a.right, b.right),
  bottom: Math.max(a.bottom, b.bottom),
})

/** How far the marks reach: lines, forms and glyphs by their outlines, words by the height of their letters. */
export function extentOf(node: SvgNode, boxes: Boxes): Extent {
  let extent = EMPTY
  for (const mark of allOf(node, ({ name }) => MARKS.has(name))) extent = around(extent, markExtent(mark, boxes))
  return extent
}
const MARKS = new Set(["path", "rect", "use", "text", "polygon", "polyline", "ellipse"])
/** Above and below the line that words stand on, at the size of syllables. */
const WORD = [SPACE * 1.6, SPACE * 0.6] as const

function markExtent(mark: SvgNode, boxes: Boxes): Extent {
  if (mark.name === "use") return placed(boxes.get((attributeOf(mark, "href") ?? "").slice(1)) ?? EMPTY, mark)
  const box = ofPoints(markPoints(mark))
  if (mark.name === "ellipse") {
    const half = Number(attributeOf(mark, "rx") ?? 0)
    return { ...box, left: box.left - half, right: box.right + half }
  }
  return mark.name === "text" ? { ...box, top: box.top - WORD[0], bottom: box.bottom + WORD[1] } : box
}

/** x and y, one after the other, of the points that make a mark; of a glyph or a word the point where it stands. */
export function markPoints(mark: SvgNode): number[] {
  const value = (name: string) => Number(attributeOf(mark, name) ?? NaN)
  switch (mark.name) {
    case "path":
      // our own forms tell their points from the one before
      return readOutline(attributeOf(mark, "d") ?? "").flatMap(([, ...values]) => values as number[])
    case "use":
      return numbersIn(attributeOf(mark, "transform") ?? "").slice(0, 2)
    case "rect":
      return [value("x"), value("y"), value("x") + value("width"), value("y") + value("height")]
    case "ellipse":
      return [value("cx"), value("cy") - value("ry"), value("cx"), value("cy") + value("ry")]
    case "text":
      return [value("x"), value("y")].every(Number.isFinite) ? [value("x"), value("y")] : []
    case "polygon":
    case "polyline":
      return numbersIn(attributeOf(mark, "points") ?? "")
    default:
      return []
  }
}

function placed(box: Extent, use: SvgNode): Extent {
  const [x = 0, y = 0, width = 1, height = 1] = numbersIn(attributeOf(use, "transform") ?? "")
  return {
    left: x + box.left * width,
    top: y + box.top * height,
    right: x + box.right * width,
    bottom: y + box.bottom * height,
  }
}

function ofPoints(points: readonly number[]): Extent {
  const xs = points.filter((_, i) => i % 2 === 0)
  const ys = points.filter((_, i) => i % 2 === 1)
  return ys.length === 0
    ? EMPTY
    : { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) }
}

export function numbersIn(text: string): number[] {
  return (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number)
}
