/** Writes the items of a drawing one after another: documents, groups, and outlines, of which few forms are drawn again and again. */
import { writeBareData } from "./path-data.js"
import type { SignId } from "../../base/index.js"
import type { DrawnGroup, Hand } from "./hand.js"
import type { Group, Item, PathMark, Role, Scene, Stroking, TextMark, TypeStyle } from "./scene.js"
import { AS } from "./svg-bytes.js"
import { writeLine, writeListed, writeMark, writeRect, writeWords } from "./svg-marks.js"
import type { Placing, SvgOptions } from "./svg-options.js"
import { SvgPen } from "./svg-pen.js"
import { isOften, type Drawn, type Run } from "./svg-styles.js"
import { escape } from "./words.js"

export class SvgWriter implements Hand {
  readonly #pen: SvgPen
  readonly #shownWidth: number | undefined
  readonly #drawn = new Map<PathMark, Drawn>()
  readonly #met = new Set<PathMark>()

  constructor(options: SvgOptions, idless = false) {
    this.#pen = new SvgPen(options, idless)
    this.#shownWidth = options.shownWidth
  }

  fragment(items: readonly Item[], { x, y, scale }: Required<Placing>): string {
    const pen = this.#pen
    pen.x = x
    pen.y = y
    pen.scale = scale
    for (const item of items) this.#outermost(item)
    return pen.out.finish()
  }

  document({ width, height, title, description, language, content }: Scene): string {
    const pen = this.#pen
    const { out } = pen
    const [t, d] = [pen.ownId("title"), pen.ownId("description")]
    const shown = (this.#shownWidth ?? width) / width
    out.text(`<svg xmlns="http://www.w3.org/2000/svg"`)
    pen.number(" width", width * shown)
    pen.number(" height", height * shown)
    out.text(` viewBox="0 0 `)
    out.number(width)
    out.text(" ")
    out.number(height)
    out.text(`" role="img" aria-labelledby="${t} ${d}"`)
    if (language !== undefined) out.text(` lang="${escape(language)}"`)
    out.text(`>\n<title id="${t}">${escape(title)}</title>\n<desc id="${d}">${escape(description)}</desc>\n`)
    if (pen.theme.painted) this.#ground(width, height)
    for (const item of content) this.#outermost(item)
    out.text("</svg>\n")
    return out.finish()
  }

  #ground(width: number, height: number): void {
    const { out, theme } = this.#pen
    out.text(`<rect class="ground"`)
    this.#pen.number(" width", width)
    this.#pen.number(" height", height)
    out.text(` fill="${theme.colours.ground}"/>\n`)
  }

  #item(item: Item): void {
    const { shape } = item
    if (shape === "group") this.#group(item)
    else if (shape === "path") this.#path(item)
    else writeMark(item, this.#pen)
  }

  /** Of a document, or of what is put into one: here groups stand that need not be kept to be written. */
  #outermost(item: Item): void {
    if (!("draw" in item)) return this.#item(item)
    const pen = this.#pen
    const { part, sign, data, x = 0, y = 0, scale = 1, draw } = item as DrawnGroup
    const { x: left, y: top, scale: unit } = pen
    pen.x += x * unit
    pen.y += y * unit
    pen.scale *= scale
    this.open(part, sign, data)
    draw(this)
    this.close()
    pen.x = left
    pen.y = top
    pen.scale = unit
  }

  #group({ x = 0, y = 0, scale, part, sign, data, content }: Group): void {
    if (data === undefined) return this.group(part, sign, x, y, scale, content)
    this.open(part, sign, data)
    this.group(undefined, undefined, x, y, scale, content)
    this.close()
  }

  open(part: string | undefined, sign: SignId | undefined, data: Group["data"]): void {
    const { out, styles } = this.#pen
    out.bytes(AS.group)
    if (part !== undefined) out.bytes(styles.classOf(part))
    if (sign !== undefined) this.#pen.signed(sign)
    if (data !== undefined) this.#pen.data(data)
    out.bytes(AS.opened)
  }
  close(): void {
    this.#pen.out.bytes(AS.groupEnd)
  }

  group(
    part: string | undefined,
    sign: SignId | undefined,
    ownX: number,
    ownY: number,
    ownScale: number | undefined,
    content: readonly Item[],
  ): void {
    const pen = this.#pen
    const { x, y, scale } = pen
    const bare = part === undefined && sign === undefined
    if (!bare) this.open(part, sign, undefined)
    pen.x = x + ownX * scale
    pen.y = y + ownY * scale
    if (ownScale !== undefined) pen.scale = scale * ownScale
    // only what has units of its own is drawn from the same few forms
    const run = ownScale === undefined ? undefined : pen.styles.run(content, pen.scale)
    if (run) this.#run(run)
    else for (const item of content) this.#item(item)
    pen.x = x
    pen.y = y
    if (ownScale !== undefined) pen.scale = scale
    if (!bare) pen.out.bytes(AS.groupEnd)
  }

  rect(
    part: string,
    x: number,
    y: number,
    width: number,
    height: number,
    fill: Role | undefined,
    stroke: Stroking | undefined,
  ): void {
    writeRect(this.#pen, part, undefined, x, y, width, height, fill, stroke, undefined)
  }
  line(part: string, sign: SignId | undefined, x1: number, y1: number, x2: number, y2: number, stroke: Stroking): void {
    writeLine(this.#pen, part, sign, x1, y1, x2, y2, undefined, stroke, undefined)
  }
  strokes(part: string, points: readonly number[], count: number, stroke: Stroking): void {
    writeListed(this.#pen, "strokes", part, undefined, points, count, undefined, stroke, undefined)
  }
  boxes(part: string, points: readonly number[], fill: Role): void {
    writeListed(this.#pen, "boxes", part, undefined, points, points.length, fill, undefined, undefined)
  }
  words(
    part: string,
    sign: SignId | undefined,
    x: number,
    y: number,
    text: string,
    type: TypeStyle,
    anchor: NonNullable<TextMark["anchor"]>,
    length: number,
    fill: Role,
  ): void {
    const own = sign === undefined ? {} : { sign }
    // letters are made outlines from a mark
    if (this.#pen.outline) this.#item({ shape: "text", part, ...own, x, y, text, type, anchor, length, fill })
    else writeWords(this.#pen, part, sign, x, y, text, type, anchor, length, fill, undefined, undefined)
  }
  item(item: Item): void {
    this.#item(item)
  }

  #run({ x: ownX, y: ownY, before, end }: Run): void {
    const { out, x, y } = this.#pen
    for (let i = 0; i < before.length; i++) {
      out.bytes(before[i]!)
      out.hundredthsPair(Math.round((x + ownX[i]!) * 100), Math.round((y + ownY[i]!) * 100))
    }
    out.bytes(end)
  }

  #path(mark: PathMark): void {
    const pen = this.#pen
    const first = mark.path[0]
    if (first?.[0] !== "M" || !pen.styles.isSeen(mark.fill, mark.stroke)) return
    const { out, x, y, scale } = pen
    const drawn = isOften(mark) ? this.#drawnPath(mark, scale) : undefined
    if (drawn) out.bytes(drawn.before)
    else {
      out.bytes(AS.path)
      pen.attributes(mark.part, "path", mark.sign, mark.fill, mark.stroke, mark.opacity)
      out.bytes(AS.outline)
    }
    out.hundredthsPair(Math.round((x + first[1] * scale) * 100), Math.round((y + first[2] * scale) * 100))
    if (drawn) return out.bytes(drawn.after)
    writeBareData(mark.path, scale, out)
    out.bytes(AS.end)
  }

  /** From the second time on: signs are drawn from the same few outlines again and again. */
  #drawnPath(mark: PathMark, scale: number): Drawn | undefined {
    const known = this.#drawn.get(mark)
    if (known?.scale === scale) return known
    if (!this.#met.has(mark)) return void this.#met.add(mark)
    const drawn = this.#pen.styles.drawn(mark, scale)
    this.#drawn.set(mark, drawn)
    return drawn
  }
}
