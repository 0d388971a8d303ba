/** Drawings as files: SVG, PNG and PDF. What makes pictures is large, so it is loaded when one is wanted. */
import { inOurTypefaces, LACKING_BOX, toSvg, type Problem, type Scene, type Theme } from "@resolutio/core"
import { joined } from "../bytes.js"
import type { Tools } from "../tools.js"
import { bytesOf, FACES, faceOf, textOutliner } from "./fonts.js"

export interface PictureOptions {
  readonly theme: Theme
  /** Letters as outlines (SVG): it looks the same where the fonts are missing. */
  readonly outlines?: boolean
  /** Width of a page of a PDF in points; that of A4 without it. */
  readonly pageWidth?: number
}

export const PICTURE_ENDINGS = [".svg", ".png", ".pdf"]

/** The content of a file with this ending; a PDF takes all sheets, the others the first. */
export async function pictureOf(
  all: readonly Scene[],
  ending: string,
  options: PictureOptions,
  tools: Tools,
): Promise<string | Uint8Array> {
  const sheets = carriesLetters(ending, options) ? all.map(one => inOurTypefaces(one).scene) : all
  const [first] = sheets
  if (first === undefined) throw new Error("pictureOf: there is no sheet to draw")
  if (ending === ".pdf") return toPdf(sheets, options, tools)
  if (ending === ".png") return toPng(first, options, tools)
  const outline = options.outlines ? await textOutliner(await tools.typefaces()) : undefined
  return toSvg(first, { theme: options.theme, ...(outline ? { outline } : {}) })
}

/** An SVG with its letters as text leaves them to the typefaces of whoever looks at it. */
const carriesLetters = (ending: string, { outlines }: Pick<PictureOptions, "outlines">): boolean =>
  ending !== ".svg" || outlines === true

/** How many letters that are lacking are named one by one. */
const NAMED = 8

/** What `pictureOf` cannot write as it stands: letters that are in neither typeface. */
export function lettersLacking(
  sheets: readonly Scene[],
  ending: string,
  options: Pick<PictureOptions, "outlines">,
): Problem[] {
  if (!carriesLetters(ending, options)) return []
  const lacking = [...new Set(sheets.flatMap(one => inOurTypefaces(one).lacking))]
  if (lacking.length === 0) return []
  const named = lacking.slice(0, NAMED).map(letter => `“${letter}”`)
  const more = lacking.length > NAMED ? ` and ${lacking.length - NAMED} more` : ""
  return [
    {
      code: "letters-lacking",
      what: `The typefaces of the drawings have no ${named.join(", ")}${more}: a box ${LACKING_BOX} stands for each letter.`,
      mend: "Write the drawing as .svg without --outlines: there the typefaces of whoever looks at it step in.",
      severity: "warning",
    },
  ]
}

/** As many px wide as the scene says. A theme without ground leaves the ground transparent. */
export async function toPng(scene: Scene, { theme }: PictureOptions, tools: Tools): Promise<Uint8Array> {
  return tools.png(toSvg(scene, { theme }), {})
}

/** Width of an A4 page in points. */
const A4_WIDTH = 595.28
/** The same drawing gives the same file: no clock is asked. */
const NO_DATE = new Date(0)

/** One page for each sheet, its text searchable and its fonts embedded. */
export async function toPdf(sheets: readonly Scene[], options: PictureOptions, tools: Tools): Promise<Uint8Array> {
  const { theme, pageWidth = A4_WIDTH } = options
  const [{ default: PdfDocument }, { default: svgToPdf }, typefaces] = await Promise.all([
    import("pdfkit"),
    import("svg-to-pdfkit"),
    tools.typefaces(),
  ])
  const info = { Title: sheets[0]?.title ?? "", CreationDate: NO_DATE, ModDate: NO_DATE, Creator: "Resolutio" }
  const pdf = new PdfDocument({ autoFirstPage: false, font: null, info })
  const parts: Uint8Array[] = []
  const done = new Promise<void>((resolve, reject) => {
    pdf.on("data", part => void parts.push(part))
    pdf.on("end", resolve)
    pdf.on("error", reject)
  })
  for (const face of FACES) pdf.registerFont(face, bytesOf(typefaces, face))
  for (const scene of sheets) {
    const height = (scene.height / scene.width) * pageWidth
    pdf.addPage({ size: [pageWidth, height], margin: 0 })
    const warned = (warning: string) => {
      throw new Error(`the page cannot be written as PDF: ${warning}`)
    }
    const fontCallback = (family: string, bold: boolean, italic: boolean) =>
      faceOf(
        family.startsWith("Alegreya")
          ? { family: "words", weight: bold ? 700 : 400, italic }
          : { family: "figures", weight: bold ? 600 : 400, italic },
      )
    const how = { width: pageWidth, height, assumePt: true, fontCallback, warningCallback: warned }
    svgToPdf(pdf, toSvg(scene, { theme, shownWidth: pageWidth }), 0, 0, how)
  }
  pdf.end()
  await done
  return joined(parts)
}
