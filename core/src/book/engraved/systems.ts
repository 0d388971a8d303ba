/** The systems of an engraved score: how far each reaches, and where its staves stand. */
import { outlineBox, readOutline } from "./outline.js"
import { SPACE, type EngravedSheet } from "./sheet.js"
import { allOf, attributeOf, childrenOf, hasClass, type SvgNode } from "./svg-tree.js"

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
export interface EngravedSystem {
  readonly content: SvgNode
  /** Id of the bar that it begins with. */
  readonly firstBar?: string
  /** Of all that is drawn. */
  readonly extent: Extent
  /** From the uppermost; one for each voice. */
  readonly staves: readonly SystemStaff[]
  /** Where the clefs and signatures at its beginning end. */
  readonly openingEnd: number
  /** Least room to the system before, in the engraver's judgement; undefined for the first of a sheet. */
  readonly gap?: number
}

/** The systems of sheets in order, and what stands before the first (a title). */
export function systemsOf(sheets: readonly EngravedSheet[]): EngravedSystem[] {
  const boxes = new Map<string, Extent>()
  return sheets.flatMap(({ content, glyphs }) => {
    for (const [name, glyph] of glyphs) if (!boxes.has(name)) boxes.set(name, glyphBox(glyph))
    const systems = content.filter(node => hasClass(node, "system")).map(node => systemOf(node, boxes))
    return systems.map((system, i) => {
      const before = systems[i - 1]
      return before ? { ...system, gap: system.extent.top - before.extent.bottom } : system
    })
  })
}

type Boxes = ReadonlyMap<string, Extent>

function systemOf(content: SvgNode, boxes: Boxes): EngravedSystem {
  const measure = childrenOf(content).find(node => hasClass(node, "measure"))
  const staves = measure ? childrenOf(measure).filter(node => hasClass(node, "staff")) : []
  const own = { content, extent: extentOf(content, boxes), staves: staves.flatMap(staffOf) }
  const left = Math.max(...own.staves.map(staff => staff.left))
  const firstBar = measure && attributeOf(measure, "id")
  return {
    ...own,
    ...(firstBar !== undefined && { firstBar }),
    openingEnd: staves.flatMap(openingOf).reduce((end, node) => Math.max(end, extentOf(node, boxes).right), left),
  }
}

/** Clef and signature with which a staff begins; not a clef between its notes, which is in a layer. */
const openingOf = (staff: SvgNode): SvgNode[] =>
  childrenOf(staff).filter(node => hasClass(node, "clef") || hasClass(node, "keySig"))

/** The lines of a staff are its first paths, from the uppermost. */
function staffOf(staff: SvgNode): SystemStaff[] {
  const line = childrenOf(staff).find(node => node.name === "path")
  const [left, top] = line ? numbersIn(attributeOf(line, "d") ?? "") : []
  return left === undefined || top === undefined ? [] : [{ left, top }]
}

const EMPTY: Extent = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }

/** The engraver's glyphs are upside down in their own outlines. */
function glyphBox(glyph: SvgNode): Extent {
  const boxes = childrenOf(glyph).map(path => outlineBox(attributeOf(path, "d") ?? ""))
  const { left, top, right, bottom } = boxes.reduce(around, EMPTY)
  return { left, top: -bottom, right, bottom: -top }
}

const around = (a: Extent, b: Extent): Extent => ({
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
