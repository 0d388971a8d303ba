/** The systems of an engraved score: how far each reaches, and where its staves stand. */
import { withClearBrackets } from "./brackets.js"
import { withEditorBrackets } from "./editor-brackets.js"
import { withMetersAfterLines } from "./meters-after-lines.js"
import { extentOf, glyphBox, staffOf, type Boxes, type Extent, type SystemStaff } from "./extents.js"
import type { EngravedSheet } from "./sheet.js"
import { attributeOf, childrenOf, hasClass, type SvgNode } from "./svg-tree.js"
import { withBoundSyllables } from "./syllables.js"

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
    const systems = content.filter(node => hasClass(node, "system")).map(node => systemOf(settled(node, boxes), boxes))
    return systems.map((system, i) => {
      const before = systems[i - 1]
      return before ? { ...system, gap: system.extent.top - before.extent.bottom } : system
    })
  })
}

/** What the engraver sets as nobody would by hand is set anew. */
const settled = (system: SvgNode, boxes: Boxes): SvgNode =>
  withEditorBrackets(withBoundSyllables(withClearBrackets(withMetersAfterLines(system, boxes), boxes)), boxes)

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
