/** Modern MEI as a drawing. The engraver is large, so it is loaded the first time something is engraved. */
import type { VerovioToolkit } from "verovio/esm"

export interface EngraveOptions {
  /** Width of a system with its margins in tenths of a millimetre, 2100 (A4) by default; a staff space has 1.8 mm. */
  readonly width?: number
  /** Height of the pages of which a long score is joined, in tenths of a millimetre: 60000 by default, the engraver's limit. */
  readonly pageHeight?: number
}

/** What the engraver complained about; a score of ours has nothing here. */
export interface Engraving {
  readonly svg: string
  readonly warnings: readonly string[]
}

/** One SVG document that holds the whole score, system under system, without script. Rejects when the MEI cannot be drawn. */
export async function engrave(mei: string, options: EngraveOptions = {}): Promise<string> {
  return (await engraveWithWarnings(mei, options)).svg
}

/**
 * The same with the engraver's complaints. Where a stretch without a common bar line is too long for one system, the page is
 * made wider rather than the notes crowded.
 */
export async function engraveWithWarnings(mei: string, options: EngraveOptions = {}): Promise<Engraving> {
  const { createModule, VerovioToolkit, enableLogToBuffer } = await loadEngraver()
  const engine = await createModule()
  enableLogToBuffer(true, engine)
  const toolkit = new VerovioToolkit(engine)
  try {
    const { width = 2100, pageHeight = 60_000 } = options
    const first = drawn(toolkit, mei, width, pageHeight)
    return first.warnings.some(isCrowded) ? drawn(toolkit, mei, width * 2, pageHeight) : first
  } finally {
    toolkit.destroy()
  }
}

function drawn(toolkit: VerovioToolkit, mei: string, pageWidth: number, pageHeight: number): Engraving {
  toolkit.setOptions({ ...LAYOUT, pageWidth, pageHeight })
  if (!toolkit.loadData(mei)) throw new Error(`the engraver cannot read this score: ${complaint(toolkit)}`)
  const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1, false))
  if (pages.length === 0) throw new Error(`the engraver made no page: ${complaint(toolkit)}`)
  const warnings = toolkit.getLog().split("\n")
  return { svg: joinPages(pages.map(withFixedColour)), warnings: warnings.filter(line => line.trim() !== "") }
}

const LAYOUT = {
  scale: 40,
  adjustPageHeight: true,
  svgViewBox: true,
  svgRemoveXlink: true,
  header: "auto",
  footer: "none",
  breaks: "auto",
  // Ids that the engraver makes up are the same in each run.
  xmlIdSeed: 1,
}

function complaint(toolkit: VerovioToolkit): string {
  return toolkit.getLog().trim() || "it says no more"
}

function isCrowded(warning: string): boolean {
  return warning.includes("highly compressed")
}

async function loadEngraver() {
  const [wasm, esm] = await Promise.all([import("verovio/wasm"), import("verovio/esm")])
  return { createModule: wasm.default, ...esm }
}

/** The engraver draws in the colour of the surrounding page; a file of its own has none, so some viewers show nothing. */
function withFixedColour(svg: string): string {
  return svg.replaceAll("currentColor", "#000")
}

/** Pages one under another in one document; a single page stays as it is. */
export function joinPages(pages: readonly string[]): string {
  if (pages.length === 1) return pages[0]!
  const sizes = pages.map(sizeOf)
  const width = Math.max(...sizes.map(size => size.width))
  const height = sizes.reduce((total, size) => total + size.height, 0)
  const seen = new Set<string>()
  let y = 0
  const parts = pages.map((page, i) => {
    const { width, height } = sizes[i]!
    const placed = withOwnIds(page, i, seen).replace("<svg ", `<svg y="${y}" width="${width}" height="${height}" `)
    y += height
    return placed
  })
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}">\n${parts.join("\n")}\n</svg>\n`
}

/**
 * In one document each id stands once. Pages repeat the id of their score in those of their glyphs, which get a number; and
 * clefs and the like, drawn anew on each page under one id, keep it only the first time.
 */
function withOwnIds(page: string, index: number, seen: Set<string>): string {
  const id = /<svg [^>]*id="([\w-]+)"/.exec(page)?.[1]
  const numbered = id ? page.replace(new RegExp(`(["#-])${id}(?=["\\s])`, "g"), `$1${id}-${index + 1}`) : page
  return numbered.replace(/ id="([^"]+)"/g, (attribute, own: string) => {
    if (seen.has(own)) return ""
    seen.add(own)
    return attribute
  })
}

function sizeOf(svg: string): { width: number; height: number } {
  const [, width, height] = /<svg [^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []
  if (!width || !height) throw new Error("a page of the engraver has no viewBox")
  return { width: Number(width), height: Number(height) }
}
