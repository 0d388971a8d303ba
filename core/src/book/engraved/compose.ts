/** An engraved score put together: one drawing of all its systems, or pages of it. */
import { toXml } from "../../formats/xml.js"
import type { PrefatoryStaves } from "../prefatory.js"
import { withLinesAroundWords } from "./lines-around-words.js"
import { withPrefatory } from "./prefatory-system.js"
import { SHOWN, SPACE, readSheet, sheetSvg, type EngravedSheet } from "./sheet.js"
import { hasClass, shifted, type SvgNode } from "./svg-tree.js"
import { systemsOf, type EngravedSystem } from "./systems.js"

export interface ScoreLook {
  readonly title: string
  readonly description: string
  readonly prefatory?: PrefatoryStaves | undefined
}

/** Systems with everything that a score as a whole needs. */
export interface EngravedScore {
  readonly glyphs: EngravedSheet["glyphs"]
  /** Of a sheet, with its margins. */
  readonly width: number
  readonly margin: number
  /** The title over the first system, if the engraver was asked for one. */
  readonly head: readonly SvgNode[]
  readonly systems: readonly EngravedSystem[]
}

/** What the engraver drew on one or several sheets, the prefatory staves set before the first system. */
export function readEngraved(sheets: readonly string[], prefatory?: PrefatoryStaves): EngravedScore {
  const read = sheets.map(readSheet)
  const [first] = read
  if (!first) throw new Error("the engraver made no sheet")
  const systems = systemsOf(read).map(one => ({ ...one, content: withLinesAroundWords(one.content) }))
  return {
    glyphs: new Map(read.flatMap(sheet => [...sheet.glyphs])),
    width: Math.max(...read.map(sheet => sheet.width)),
    margin: first.margin[0],
    head: first.content.filter(node => !hasClass(node, "system")),
    systems: systems.map((system, i) => (i === 0 && prefatory ? withPrefatory(system, prefatory) : system)),
  }
}

/** Between the last system of a sheet and the first of the next, where the engraver has no say. */
const BETWEEN = 3 * SPACE

/** All systems under one another in one SVG document, without style sheet and script. */
export function scoreSvg(score: EngravedScore, look: ScoreLook): string {
  const { margin, systems, head, glyphs, width } = score
  let bottom = systems[0]?.extent.top ?? 0
  const placed = systems.map((system, i) => {
    const gap = i === 0 ? 0 : (system.gap ?? BETWEEN)
    const y = bottom + gap - system.extent.top
    bottom = y + system.extent.bottom
    return shifted(0, y, system.content)
  })
  const height = bottom + 2 * margin
  return `${toXml(sheetSvg({ glyphs, content: [shifted(margin, margin, ...head, ...placed)], width, height, ...look }))}\n`
}
export { SHOWN }
