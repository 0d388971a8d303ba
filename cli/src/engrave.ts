/** Modern MEI as a drawing. The engraver is large, so it is loaded the first time something is engraved. */

export interface EngraveOptions {
  /** Width of the page in tenths of a millimetre, 2100 (A4) by default. */
  readonly width?: number
  /** Size of the notes in percent of the engraver's own, 40 by default. */
  readonly scale?: number
}

/** What the engraver complained about; a score of ours has nothing here. */
export interface Engraving {
  readonly svg: string
  readonly warnings: readonly string[]
}

/** Taller than this the engraver makes no page. */
const TALLEST = 60_000

/** One SVG document that holds the whole score, system under system, without script. Rejects when the MEI cannot be drawn. */
export async function engrave(mei: string, options: EngraveOptions = {}): Promise<string> {
  return (await engraveWithWarnings(mei, options)).svg
}

export async function engraveWithWarnings(mei: string, options: EngraveOptions = {}): Promise<Engraving> {
  const { createModule, VerovioToolkit, enableLogToBuffer } = await loadEngraver()
  const engine = await createModule()
  enableLogToBuffer(true, engine)
  const toolkit = new VerovioToolkit(engine)
  try {
    toolkit.setOptions({
      pageWidth: options.width ?? 2100,
      pageHeight: TALLEST,
      adjustPageHeight: true,
      scale: options.scale ?? 40,
      svgViewBox: true,
      xmlIdSeed: 1,
      svgRemoveXlink: true,
      header: "auto",
      footer: "none",
      breaks: "auto",
    })
    if (!toolkit.loadData(mei))
      throw new Error(`the engraver cannot read this score: ${toolkit.getLog() || "it says no more"}`)
    const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1, false))
    if (pages.length === 0) throw new Error(`the engraver made no page: ${toolkit.getLog() || "it says no more"}`)
    const warnings = toolkit
      .getLog()
      .split("\n")
      .filter(line => line.trim() !== "")
    return { svg: joinPages(pages.map(withFixedColour)), warnings }
  } finally {
    toolkit.destroy()
  }
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
  let y = 0
  const parts = pages.map((page, i) => {
    const placed = page.replace(/<svg /, `<svg y="${y}" `)
    y += sizes[i]!.height
    return placed
  })
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}">\n${parts.join("\n")}\n</svg>\n`
}

function sizeOf(svg: string): { width: number; height: number } {
  const [, width, height] = /<svg [^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []
  if (!width || !height) throw new Error("a page of the engraver has no viewBox")
  return { width: Number(width), height: Number(height) }
}
