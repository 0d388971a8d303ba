/** An engraver's drawing of a score, asked for and read. The engraver itself is handed in: it is a program of its own. */
import type { PrefatoryStaves } from "../prefatory.js"
import { readEngraved, type EngravedScore } from "./compose.js"
import { prefatoryRoom } from "./prefatory-system.js"
import { roomText } from "./typeface.js"

/** What is used of the engraver (verovio's toolkit). */
export interface EngraverToolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void
  loadData(data: string): boolean | number
  getLog(): string
  getPageCount(): number
  renderToSVG(page: number, xmlDeclaration: boolean): string
}

export interface EngraveOptions {
  /** Width of a system with its margins in tenths of a millimetre, 2100 (A4) by default; a staff space has 1.8 mm. */
  readonly width?: number
  /** Height of the sheets of which a long score is joined, in tenths of a millimetre: 60000 by default, the engraver's limit. */
  readonly sheetHeight?: number
  /** The title over the first system; true by default. */
  readonly title?: boolean
  /** Margin around the whole, in tenths of a millimetre: 50 by default. */
  readonly margin?: number
  /** What stands before the first system. */
  readonly prefatory?: PrefatoryStaves | undefined
}

export interface Engraving {
  readonly score: EngravedScore
  /** What the engraver complained about; a score of ours has nothing here. */
  readonly warnings: readonly string[]
}

/**
 * A score in modern MEI, engraved. Throws when it cannot be drawn. Where a stretch without a common bar line is too long for one
 * system, the sheet is made wider rather than the notes crowded.
 */
export function engraveWith(toolkit: EngraverToolkit, mei: string, options: EngraveOptions = {}): Engraving {
  const { width = 2100, prefatory } = options
  const roomy = prefatory ? withRoom(mei, prefatoryRoom(prefatory)) : mei
  const first = drawn(toolkit, roomy, { ...options, width })
  const { sheets, warnings } = first.warnings.some(isCrowded)
    ? drawn(toolkit, roomy, { ...options, width: width * 2 })
    : first
  return { score: readEngraved(sheets, prefatory), warnings }
}

function drawn(toolkit: EngraverToolkit, mei: string, options: EngraveOptions) {
  const { width, sheetHeight = 60_000, margin = 50, title = true } = options
  const margins = Object.fromEntries(["Left", "Right", "Top", "Bottom"].map(side => [`pageMargin${side}`, margin]))
  const header = title ? "auto" : "none"
  toolkit.setOptions({ ...LAYOUT, ...margins, header, pageWidth: width, pageHeight: sheetHeight })
  if (!toolkit.loadData(mei)) throw new Error(`the engraver cannot read this score: ${complaint(toolkit)}`)
  const sheets = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1, false))
  if (sheets.length === 0) throw new Error(`the engraver made no page: ${complaint(toolkit)}`)
  const warnings = toolkit.getLog().split("\n")
  return { sheets, warnings: warnings.filter(line => line.trim() !== "") }
}

const LAYOUT = {
  scale: 40,
  adjustPageHeight: true,
  svgViewBox: true,
  svgRemoveXlink: true,
  footer: "none",
  breaks: "auto",
  // Ids that the engraver makes up are the same in each run.
  xmlIdSeed: 1,
}

/** Labels that nobody sees stand in the room which is wanted before the first system. */
function withRoom(mei: string, room: number): string {
  const label = `<label>${roomText(room)}</label>`
  return mei.replace(/<label>[^<]*<\/label>|<label\/>/g, label)
}

function complaint(toolkit: EngraverToolkit): string {
  return toolkit.getLog().trim() || "it says no more"
}

function isCrowded(warning: string): boolean {
  return warning.includes("highly compressed")
}
