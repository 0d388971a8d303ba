/** Writes the marks of a drawing one after another. */
import { textWidth } from "../text/width.js"
import { writeBareData, writeStrokes } from "./path-data.js"
import type { Group, Item, Mark, Path, PathMark, PolygonMark, Scene, StrokesMark, TextMark } from "./scene.js"
import { isOften, stylesOf, type Drawn, type Run, type SvgStyles } from "./svg-styles.js"
import { AS } from "./svg-bytes.js"
import type { Placing, SvgOptions } from "./svg-options.js"
import { TextBuffer } from "./text-buffer.js"
import { LIGHT_THEME, type Theme } from "./themes.js"
import { escape, fitsAsId } from "./words.js"

export class SvgWriter {
  readonly #theme: Theme
  readonly #prefix: string
  readonly #outline: SvgOptions["outline"]
  readonly #shownWidth: number | undefined
  readonly #idless: boolean
  readonly #seen = new Set<string>()
  readonly #styles: SvgStyles
  readonly #drawn = new Map<PathMark, Drawn>()
  readonly #met = new Set<PathMark>()
  readonly #out = new TextBuffer()

  constructor({ theme = LIGHT_THEME, idPrefix = "", outline, shownWidth }: SvgOptions, idless = false) {
    this.#idless = idless
    this.#theme = theme
    this.#styles = stylesOf(theme)
    this.#prefix = idPrefix
    this.#outline = outline
    this.#shownWidth = shownWidth
  }

  fragment(items: readonly Item[], { x, y, scale }: Required<Placing>): string {
    for (const item of items) this.#item(item, x, y, scale)
    return this.#out.finish()
  }

  document({ width, height, title, description, language, content }: Scene): string {
    const out = this.#out
    const [t, d] = [this.#ownId("title"), this.#ownId("description")]
    const shown = (this.#shownWidth ?? width) / width
    out.text(`<svg xmlns="http://www.w3.org/2000/svg"`)
    this.#number(" width", width * shown)
    this.#number(" height", height * shown)
    out.text(` viewBox="0 0 `)
    out.number(width)
    out.text(" ")
    out.number(height)
    out.text(`" role="img" aria-labelledby="${t} ${d}"`)
    if (language !== undefined) out.text(` lang="${escape(language)}"`)
    out.text(`>\n<title id="${t}">${escape(title)}</title>\n<desc id="${d}">${escape(description)}</desc>\n`)
    if (this.#theme.painted) this.#ground(width, height)
    for (const item of content) this.#item(item, 0, 0, 1)
    out.text("</svg>\n")
    return out.finish()
  }

  #ground(width: number, height: number): void {
    this.#out.text(`<rect class="ground"`)
    this.#number(" width", width)
    this.#number(" height", height)
    this.#out.text(` fill="${this.#theme.colours.ground}"/>\n`)
  }

  #item(item: Item, x: number, y: number, scale: number): void {
    const { shape } = item
    if (shape === "group") this.#group(item, x, y, scale)
    else if (shape === "path") this.#path(item, x, y, scale)
    else if (this.#styles.isSeen(item)) this.#mark(item, x, y, scale)
  }

  #group(
    { x: ownX = 0, y: ownY = 0, scale: ownScale, part, sign, data, content }: Group,
    x: number,
    y: number,
    scale: number,
  ): void {
    const [innerX, innerY, innerScale] = [x + ownX * scale, y + ownY * scale, scale * (ownScale ?? 1)]
    const out = this.#out
    const bare = part === undefined && sign === undefined && data === undefined
    if (!bare) {
      out.bytes(AS.group)
      if (part !== undefined) out.bytes(this.#styles.classOf(part))
      if (sign !== undefined) this.#signed(sign)
      if (data !== undefined) this.#data(data)
      out.bytes(AS.opened)
    }
    // only what has units of its own is drawn from the same few forms
    const run = ownScale === undefined ? undefined : this.#styles.run(content, innerScale)
    if (run) this.#run(run, innerX, innerY)
    else for (const item of content) this.#item(item, innerX, innerY, innerScale)
    if (!bare) out.bytes(AS.groupEnd)
  }

  #run({ x, y, before, end }: Run, innerX: number, innerY: number): void {
    const out = this.#out
    for (let i = 0; i < before.length; i++) {
      out.bytes(before[i]!)
      out.pair(innerX + x[i]!, innerY + y[i]!)
    }
    out.bytes(end)
  }

  #path(mark: PathMark, x: number, y: number, scale: number): void {
    const first = mark.path[0]
    if (first?.[0] !== "M" || !this.#styles.isSeen(mark)) return
    const out = this.#out
    const drawn = isOften(mark) ? this.#drawnPath(mark, scale) : undefined
    if (drawn) out.bytes(drawn.before)
    else {
      out.bytes(AS.path)
      this.#attributes(mark, scale)
      out.bytes(AS.outline)
    }
    out.pair(x + first[1] * scale, y + first[2] * scale)
    if (drawn) return out.bytes(drawn.after)
    writeBareData(mark.path, scale, out)
    out.bytes(AS.end)
  }

  /** From the second time on: signs are drawn from the same few outlines again and again. */
  #drawnPath(mark: PathMark, scale: number): Drawn | undefined {
    const known = this.#drawn.get(mark)
    if (known?.scale === scale) return known
    if (!this.#met.has(mark)) return void this.#met.add(mark)
    const drawn = this.#styles.drawn(mark, scale)
    this.#drawn.set(mark, drawn)
    return drawn
  }

  #mark(mark: Exclude<Mark, PathMark>, x: number, y: number, scale: number): void {
    switch (mark.shape) {
      case "line":
        this.#out.bytes(AS.line)
        this.#attributes(mark, scale)
        this.#out.numbered(AS.x1, x + mark.x1 * scale)
        this.#out.numbered(AS.y1, y + mark.y1 * scale)
        this.#out.numbered(AS.x2, x + mark.x2 * scale)
        this.#out.numbered(AS.y2, y + mark.y2 * scale)
        break
      case "rect":
        this.#out.bytes(AS.rect)
        this.#attributes(mark, scale)
        this.#out.numbered(AS.x, x + mark.x * scale)
        this.#out.numbered(AS.y, y + mark.y * scale)
        this.#out.numbered(AS.width, mark.width * scale)
        this.#out.numbered(AS.height, mark.height * scale)
        break
      case "circle":
        this.#out.bytes(AS.circle)
        this.#attributes(mark, scale)
        this.#out.numbered(AS.cx, x + mark.x * scale)
        this.#out.numbered(AS.cy, y + mark.y * scale)
        this.#out.numbered(AS.r, mark.radius * scale)
        break
      case "strokes":
        return this.#strokes(mark, x, y, scale)
      case "polygon":
        return this.#polygon(mark, x, y, scale)
      case "text":
        return this.#words(mark, x, y, scale)
    }
    this.#out.bytes(AS.end)
  }

  #strokes(mark: StrokesMark, x: number, y: number, scale: number): void {
    const { points } = mark
    if (points.length < 4) return
    this.#out.bytes(AS.path)
    this.#attributes(mark, scale)
    this.#out.bytes(AS.outline)
    this.#out.pair(x + points[0]! * scale, y + points[1]! * scale)
    writeStrokes(points, scale, this.#out)
    this.#out.bytes(AS.end)
  }

  #polygon(mark: PolygonMark, x: number, y: number, scale: number): void {
    this.#out.text(mark.open ? "<polyline" : "<polygon")
    this.#attributes(mark, scale)
    this.#out.text(` points="`)
    mark.points.forEach(([px, py], i) => {
      if (i > 0) this.#out.text(" ")
      this.#out.pair(x + px * scale, y + py * scale)
    })
    this.#out.bytes(AS.end)
  }

  #words(mark: TextMark, x: number, y: number, scale: number): void {
    const out = this.#out
    const outline = this.#outline?.(mark)
    if (outline) return this.#outlined(mark, outline, x, y, scale)
    const { text, type, anchor = "start" } = mark
    out.bytes(AS.text)
    out.number(x + mark.x * scale)
    this.#out.numbered(AS.y, y + mark.y * scale)
    out.bytes(AS.quote)
    out.bytes(this.#styles.typed(type, scale))
    if (anchor !== "start") this.#plain(" text-anchor", anchor)
    if (isLongerThanTwo(text)) {
      out.bytes(AS.length)
      out.number(lengthOf(mark) * scale)
      out.bytes(AS.adjust)
    }
    this.#attributes(mark, scale)
    out.bytes(AS.close)
    out.value(text)
    out.bytes(AS.textEnd)
  }

  #outlined(mark: TextMark, path: Path, x: number, y: number, scale: number): void {
    const width = lengthOf(mark)
    const back = { start: 0, middle: width / 2, end: width }[mark.anchor ?? "start"]
    this.#out.text("<path")
    this.#attributes(mark, scale)
    this.#attribute(` role="img" aria-label`, mark.text)
    const [first] = path
    this.#out.text(` d="`)
    if (first?.[0] === "M") {
      this.#out.text("M")
      this.#out.pair(x + (mark.x - back + first[1]) * scale, y + (mark.y + first[2]) * scale)
      writeBareData(path, scale, this.#out)
    }
    this.#out.bytes(AS.end)
  }

  /** Class, sign, fill and stroke. */
  #attributes(mark: Mark, scale: number): void {
    const { whole, paint } = this.#styles.styled(mark, scale)
    const { sign } = mark
    if (sign === undefined) return this.#out.bytes(whole)
    this.#out.bytes(this.#styles.classOf(mark.part))
    this.#signed(sign)
    this.#out.bytes(paint)
  }

  #signed(sign: string): void {
    const out = this.#out
    if (!this.#idless && !this.#seen.has(sign) && fitsAsId(sign)) {
      this.#seen.add(sign)
      out.bytes(AS.id)
      if (this.#prefix !== "") out.value(this.#prefix)
      out.value(sign)
      out.bytes(AS.quote)
    }
    out.bytes(AS.sign)
    out.value(sign)
    out.bytes(AS.quote)
  }

  #data(data: Readonly<Record<string, string>>): void {
    for (const key in data) {
      this.#out.bytes(this.#styles.dataName(key))
      this.#out.value(data[key]!)
      this.#out.bytes(AS.quote)
    }
  }

  #ownId(name: string): string {
    this.#seen.add(name)
    return escape(this.#prefix + name)
  }

  /** A value from a file or a user. */
  #attribute(name: string, value: string): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.value(value)
    this.#out.text(`"`)
  }
  /** A value of our own. */
  #plain(name: string, value: string): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.text(value)
    this.#out.text(`"`)
  }
  #number(name: string, value: number): void {
    this.#out.text(name)
    this.#out.text(`="`)
    this.#out.number(value)
    this.#out.text(`"`)
  }
}

/** Letters are counted, not their halves. */
const isLongerThanTwo = (text: string): boolean => text.length > 4 || (text.length > 2 && [...text].length > 2)

const lengthOf = (mark: TextMark): number => mark.length ?? textWidth(mark.text, mark.type)
