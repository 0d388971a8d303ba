/**
 * What the engraver drew, made plain: glyphs apart, colours and typefaces as attributes in place of a style sheet, no drawing
 * within a drawing. Numbers are in the engraver's own units, of which a staff space has `SPACE`.
 */
import { FONT_FAMILIES } from "../../drawing/index.js"
import { element } from "../../formats/xml.js"
import { withOldSign } from "./old-signs.js"
import { strokesBesideBreaks } from "./strokes-beside-breaks.js"
import { allOf, attributeOf, childrenOf, hasClass, mapped, readSvg, type SvgNode } from "./svg-tree.js"

/** Units in a staff space. */
export const SPACE = 180

export interface EngravedSheet {
  /** Outline of each glyph by its name, "E0A4". */
  readonly glyphs: ReadonlyMap<string, SvgNode>
  /** Of the sheet with its margins. */
  readonly width: number
  readonly height: number
  /** Free at the left and above, by which everything in `content` is moved. */
  readonly margin: readonly [x: number, y: number]
  /** Title and systems, in order. */
  readonly content: readonly SvgNode[]
}

/** One sheet of the engraver. */
export function readSheet(svg: string): EngravedSheet {
  const root = readSvg(svg)
  const scale = [...allOf(root, node => hasClass(node, "definition-scale"))][0]
  const body = scale && childrenOf(scale).find(node => hasClass(node, "page-margin"))
  const box = /^0 0 ([\d.]+) ([\d.]+)$/.exec((scale && attributeOf(scale, "viewBox")) ?? "")
  if (!body || !box) throw new Error("a sheet of the engraver is not as it used to be")
  const margin = /\(([-\d.]+),\s*([-\d.]+)\)/.exec(attributeOf(body, "transform") ?? "")
  const content = childrenOf(mapped(strokesBesideBreaks(body), plain)!).filter(node => node.children.length > 0)
  return {
    glyphs: glyphsIn(root),
    width: Number(box[1]),
    height: Number(box[2]),
    margin: [Number(margin?.[1] ?? 0), Number(margin?.[2] ?? 0)],
    content,
  }
}

function glyphsIn(root: SvgNode): Map<string, SvgNode> {
  const glyphs = new Map<string, SvgNode>()
  for (const defs of childrenOf(root).filter(node => node.name === "defs"))
    for (const glyph of childrenOf(defs)) {
      const name = glyphName(attributeOf(glyph, "id") ?? "")
      const id = name && `glyph-${name}`
      if (id) glyphs.set(id, element("g", { id }, ...childrenOf(glyph)))
    }
  return glyphs
}
/** The engraver's ids of glyphs end in that of its run. */
const glyphName = (id: string): string | undefined => /^#?([\dA-F]{4,5})-/.exec(id)?.[1]

/** Typefaces that the engraver's style sheet gives by class. */
const STYLED: Readonly<Record<string, Record<string, string>>> = {
  ending: { "font-weight": "bold" },
  fing: { "font-weight": "bold" },
  reh: { "font-weight": "bold" },
  tempo: { "font-weight": "bold" },
  dir: { "font-style": "italic" },
  dynam: { "font-style": "italic" },
  mNum: { "font-style": "italic" },
}

function plain(node: SvgNode): SvgNode | undefined {
  const { name, attributes, children } = node
  if (name === "style") return undefined
  if (name === "g") return withOldSign(styled(node))
  if (name === "use") {
    const glyph = glyphName(attributeOf(node, "href") ?? attributeOf(node, "xlink:href") ?? "")
    return glyph ? element("use", { ...attributes, href: `#glyph-${glyph}` }) : node
  }
  if (attributes["stroke-width"] !== undefined && attributes["stroke"] === undefined)
    return element(name, { ...attributes, stroke: INK }, ...children)
  // text is written in its parts, each with a size of its own; the size of the whole would hide it from some readers
  if (name === "text") return element("text", { ...attributes, "font-size": undefined }, ...children)
  return node
}
const INK = "#000"

function styled(node: SvgNode): SvgNode {
  const [first] = (attributeOf(node, "class") ?? "").split(" ")
  const style = STYLED[first ?? ""]
  return style ? { ...node, attributes: { ...node.attributes, ...style } } : node
}

/** A sheet of any size as one SVG document; `width` is that at which it is to be shown, in px. */
export interface SheetLook {
  readonly glyphs: ReadonlyMap<string, SvgNode>
  readonly content: readonly SvgNode[]
  /** In the engraver's units. */
  readonly width: number
  readonly height: number
  readonly title: string
  /** In place of the picture, for whoever cannot see it. */
  readonly description: string
}

/** Px in one of the engraver's units: a staff space has 7.2. */
export const SHOWN = 0.04

/** One document without style sheet or script, in which each id stands once. */
export function sheetSvg({ glyphs, content, width, height, title, description }: SheetLook): SvgNode {
  const [w, h] = [Math.ceil(width * SHOWN), Math.ceil(height * SHOWN)]
  const size = { xmlns: "http://www.w3.org/2000/svg", width: w, height: h, viewBox: `0 0 ${w} ${h}` }
  const named = { role: "img", "aria-labelledby": "score-title score-description" }
  const drawing = element("g", { transform: `scale(${SHOWN})`, ...TYPE }, ...content)
  return withIdsOnce(
    element(
      "svg",
      { ...size, ...named },
      element("title", { id: "score-title" }, title),
      element("desc", { id: "score-description" }, description),
      element("defs", {}, ...usedGlyphs(glyphs, content)),
      drawing,
    ),
  )
}
/** Of all text that says nothing else. */
export const TYPE = { "font-family": FONT_FAMILIES.words, fill: INK } as const

function usedGlyphs(glyphs: ReadonlyMap<string, SvgNode>, content: readonly SvgNode[]): SvgNode[] {
  const names = new Set<string>()
  for (const node of content)
    for (const use of allOf(node, ({ name }) => name === "use")) names.add(attributeOf(use, "href")!.slice(1))
  return [...names].sort().flatMap(name => glyphs.get(name) ?? [])
}

/** Clefs and the like, drawn anew in each system under one id, keep it only the first time. */
function withIdsOnce(root: SvgNode): SvgNode {
  const seen = new Set<string>()
  const once = (node: SvgNode): SvgNode => {
    const id = attributeOf(node, "id")
    const again = id !== undefined && seen.has(id)
    if (id !== undefined) seen.add(id)
    return {
      name: node.name,
      attributes: again ? { ...node.attributes, id: undefined } : node.attributes,
      children: node.children.map(child => (typeof child === "string" ? child : once(child))),
    }
  }
  return once(root)
}
