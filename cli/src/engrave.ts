/** Modern MEI as a drawing. The engraver is large, so it is loaded the first time something is engraved. */
import { engraverFonts, prefatoryRoom, readEngraved, roomText, scoreSvg } from "@resolutio/core"
import type { EngravedScore, PrefatoryStaves } from "@resolutio/core"
import type { VerovioToolkit } from "verovio/esm"

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

/** An engraver that is ready; it is to be closed after use. */
export interface Engraver {
  /** Throws when the MEI cannot be drawn. */
  engrave(mei: string, options?: EngraveOptions): Engraving
  close(): void
}

/** One SVG document that holds the whole score, system under system, without script. Rejects when the MEI cannot be drawn. */
export async function engrave(mei: string, options: EngraveOptions & Partial<Words> = {}): Promise<string> {
  return (await engraveWithWarnings(mei, options)).svg
}
interface Words {
  readonly name: string
  readonly description: string
}

/** The same with the engraver's complaints. */
export async function engraveWithWarnings(
  mei: string,
  { name = "A score", description = "A score in modern notation.", ...options }: EngraveOptions & Partial<Words> = {},
): Promise<{ readonly svg: string; readonly warnings: readonly string[] }> {
  const engraver = await openEngraver()
  try {
    const { score, warnings } = engraver.engrave(mei, options)
    return { svg: scoreSvg(score, { title: name, description }), warnings }
  } finally {
    engraver.close()
  }
}

/** Loads the engraver and teaches it the widths of our letters. */
export async function openEngraver(): Promise<Engraver> {
  const [wasm, esm] = await Promise.all([import("verovio/wasm"), import("verovio/esm")])
  const engine = await wasm.default()
  for (const { name, table } of engraverFonts()) {
    engine.FS_unlink(`/data/text/${name}.xml`)
    engine.FS_createDataFile("/data/text/", `${name}.xml`, table, true, true)
  }
  esm.enableLogToBuffer(true, engine)
  const toolkit = new esm.VerovioToolkit(engine)
  return { engrave: (mei, options) => engraved(toolkit, mei, options), close: () => toolkit.destroy() }
}

/**
 * Where a stretch without a common bar line is too long for one system, the sheet is made wider rather than the notes
 * crowded.
 */
function engraved(toolkit: VerovioToolkit, mei: string, options: EngraveOptions = {}): Engraving {
  const { width = 2100, prefatory } = options
  const roomy = prefatory ? withRoom(mei, prefatoryRoom(prefatory)) : mei
  const first = drawn(toolkit, roomy, { ...options, width })
  const { sheets, warnings } = first.warnings.some(isCrowded)
    ? drawn(toolkit, roomy, { ...options, width: width * 2 })
    : first
  return { score: readEngraved(sheets, prefatory), warnings }
}

function drawn(toolkit: VerovioToolkit, mei: string, options: EngraveOptions) {
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

function complaint(toolkit: VerovioToolkit): string {
  return toolkit.getLog().trim() || "it says no more"
}

function isCrowded(warning: string): boolean {
  return warning.includes("highly compressed")
}
