/**
 * An engraved system onto a page of a PDF: lines and forms as the page's own operators, glyphs as forms that stand in the file
 * once, words as words. The general painter of SVG takes many times as long (2 s against 0.1 s for eight pages) and writes each
 * glyph anew.
 */
import type { SvgNode } from "@resolutio/core"
import type PdfDocument from "pdfkit"
import type { PdfReference } from "pdfkit"
import { faceOf, type Face } from "../pictures/fonts.js"
import type { Letters, Run } from "./letters.js"
import { ORIGIN, attribute, colour, moved, numbers, outlineOperators, pathOf, short, type Placed } from "./operators.js"

interface Style {
  readonly fill: string
  readonly stroke: string
  readonly family: "words" | "figures"
  readonly bold: boolean
  readonly italic: boolean
  readonly size: number
  readonly anchor: string
}
const PLAIN: Style = {
  fill: "#000",
  stroke: "none",
  family: "words",
  bold: false,
  italic: false,
  size: 0,
  anchor: "start",
}

export class Painter {
  readonly #pdf: PdfDocument
  readonly #letters: Letters
  readonly #glyphs: ReadonlyMap<string, SvgNode>
  readonly #forms = new Map<string, { readonly name: string; readonly form: PdfReference }>()
  #operators: string[] = []

  constructor(pdf: PdfDocument, letters: Letters, glyphs: ReadonlyMap<string, SvgNode>) {
    this.#pdf = pdf
    this.#letters = letters
    this.#glyphs = glyphs
  }

  /** Onto the page that is open. */
  paint(node: SvgNode, at: Placed): void {
    this.#operators = []
    const words: (() => void)[] = []
    this.#node(node, at, PLAIN, words)
    if (this.#operators.length > 0) this.#pdf.addContent(`q\n${this.#operators.join("\n")}\nQ`)
    for (const write of words) write()
  }

  #node(node: SvgNode, outer: Placed, inherited: Style, words: (() => void)[]): void {
    const style = styleOf(node, inherited)
    const at = node.name === "use" ? outer : moved(outer, attribute(node, "transform"))
    if (node.name === "text") return void words.push(() => this.#words(node, at, style))
    if (node.name === "use") return this.#glyph(node, at, style)
    const path = pathOf(node, at)
    if (path !== "") this.#draw(node, path, at, style)
    for (const child of node.children) if (typeof child !== "string") this.#node(child, at, style, words)
  }

  #draw(node: SvgNode, path: string, { scale }: Placed, { fill, stroke }: Style): void {
    const width = Number(attribute(node, "stroke-width") ?? 1) * scale
    // an open line has no inside; the engraver leaves it to readers of SVG to see that
    const filled = fill !== "none" && node.name !== "line" && !isLine(node)
    const stroked = stroke !== "none" && width > 0
    if (!filled && !stroked) return
    if (filled) this.#operators.push(`${colour(fill)} rg`)
    if (stroked) this.#operators.push(strokeOperators(node, stroke, width, scale))
    this.#operators.push(`${path} ${filled && stroked ? "B" : filled ? "f" : "S"}`)
  }

  #glyph(node: SvgNode, { x, y, scale }: Placed, { fill }: Style): void {
    const name = (attribute(node, "href") ?? "").slice(1)
    const known = this.#forms.get(name) ?? this.#newForm(name)
    if (!known) return
    this.#pdf.page.xobjects[known.name] = known.form
    const [gx = 0, gy = 0, width = 1, height = width] = numbers(attribute(node, "transform") ?? "")
    const place = [width * scale, 0, 0, height * scale, x + gx * scale, y + gy * scale].map(short).join(" ")
    this.#operators.push(`q ${colour(fill)} rg ${place} cm /${known.name} Do Q`)
  }

  /** The outline in the glyph's own units, once for the whole file. */
  #newForm(name: string) {
    const glyph = this.#glyphs.get(name)
    if (!glyph) return undefined
    const outlines = glyph.children.flatMap(child => {
      if (typeof child === "string") return []
      return [outlineOperators(attribute(child, "d") ?? "", moved(ORIGIN, attribute(child, "transform")))]
    })
    const box = { Type: "XObject", Subtype: "Form", BBox: [-9999, -9999, 9999, 9999], Resources: {} }
    const form = this.#pdf.ref(box)
    form.end(`${outlines.join("\n")} f`)
    const made = { name: `Glyph${this.#forms.size + 1}`, form }
    this.#forms.set(name, made)
    return made
  }

  #words(node: SvgNode, at: Placed, style: Style): void {
    for (const line of linesIn(node, style)) {
      const runs = line.parts.flatMap(({ text, style: own }) =>
        this.#letters.runs(text, faceIn(own)).map(run => ({ ...run, size: own.size * at.scale, fill: own.fill })),
      )
      const width = line.anchor === "start" ? 0 : runs.reduce((sum, run) => sum + this.#width(run), 0)
      let x = at.x + line.x * at.scale - (line.anchor === "middle" ? width / 2 : width)
      runs.forEach((run, i) => {
        this.#pdf.font(run.face, run.size).fillColor(run.fill)
        this.#pdf.text(run.text, x, at.y + line.y * at.scale, { lineBreak: false, baseline: "alphabetic" })
        if (i < runs.length - 1) x += this.#width(run)
      })
    }
  }

  #width({ face, size, text }: Run & { readonly size: number }): number {
    return this.#pdf.font(face, size).widthOfString(text)
  }
}

function styleOf(node: SvgNode, style: Style): Style {
  const { attributes } = node
  const family = attribute(node, "font-family")
  const size = attribute(node, "font-size")
  return {
    fill: attribute(node, "fill") ?? style.fill,
    stroke: attribute(node, "stroke") ?? style.stroke,
    family: family === undefined ? style.family : family.startsWith("'Source Sans") ? "figures" : "words",
    bold: attributes["font-weight"] === undefined ? style.bold : /bold|[6-9]00/.test(attribute(node, "font-weight")!),
    italic: attributes["font-style"] === undefined ? style.italic : attributes["font-style"] === "italic",
    size: size === undefined ? style.size : Number.parseFloat(size),
    anchor: attribute(node, "text-anchor") ?? style.anchor,
  }
}

const faceIn = ({ family, bold, italic }: Style): Face => faceOf({ family, weight: bold ? 700 : 400, italic })

function isLine(node: SvgNode): boolean {
  return node.name === "path" && /^M[\d.\s,-]+L[\d.\s,-]+$/.test(attribute(node, "d") ?? "")
}

function strokeOperators(node: SvgNode, stroke: string, width: number, scale: number): string {
  const cap = { round: 1, square: 2 }[attribute(node, "stroke-linecap") ?? ""] ?? 0
  const join = { round: 1, bevel: 2 }[attribute(node, "stroke-linejoin") ?? ""] ?? 0
  const dash = numbers(attribute(node, "stroke-dasharray") ?? "").map(one => short(one * scale))
  return `${colour(stroke)} RG ${short(width)} w ${cap} J ${join} j [${dash.join(" ")}] 0 d`
}

interface TextLine {
  readonly x: number
  readonly y: number
  readonly anchor: string
  readonly parts: { readonly text: string; readonly style: Style }[]
}

/** Words that stand together: a new line begins wherever a place of its own is given. */
function linesIn(node: SvgNode, style: Style): TextLine[] {
  const lines: TextLine[] = []
  const take = (inner: SvgNode, own: Style) => {
    const [x, y] = [attribute(inner, "x"), attribute(inner, "y")]
    const last = lines.at(-1)
    if (x !== undefined || y !== undefined || !last)
      lines.push({ x: Number(x ?? last?.x ?? 0), y: Number(y ?? last?.y ?? 0), anchor: own.anchor, parts: [] })
    for (const child of inner.children)
      if (typeof child === "string") lines.at(-1)!.parts.push({ text: child, style: own })
      else take(child, styleOf(child, own))
  }
  take(node, style)
  return lines.filter(line => line.parts.length > 0)
}
